"""Write docs/evidence/odds.md: ladders against worlds drawn afresh, which ride what was planned.

Run by `make evidence`; some twenty minutes on two cores. What is drawn and counted stands in tests/worlds.
With names of parts as arguments only these are run, and printed instead of written.
"""

from __future__ import annotations

import os
import platform
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.evidence import commit  # noqa: E402
from scripts.odds_falls import falls_part  # noqa: E402
from scripts.odds_parts import (  # noqa: E402
    SEED,
    WORLDS,
    cells_part,
    chances_part,
    misfits_part,
    mutants_part,
    replicates_part,
)

OUT = ROOT / "docs" / "evidence" / "odds.md"
PARTS: dict[str, Callable[[], list[str]]] = {
    "cells": cells_part,
    "chances": chances_part,
    "replicates": replicates_part,
    "falls": falls_part,
    "mutants": mutants_part,
    "misfits": misfits_part,
}


REMARKS = [
    "### What fell short",
    "",
    "- Without the rule that holds falls back (decision 23), `experienced` at 95 in 100 on race tyres off",
    "  warmers, a hot morning, a run of twelve laps, fell 1.8 times in 1,000 rider-sessions.",
    "- The spread of the road alone, or of both tyres' levels alone, believed half is not noticed by the",
    "  bounds: a cap leaves room for its own ladder's draws, and their share is small. All four are.",
    "- A ladder's own odds of a fall differ up to tenfold from seed to seed: an order of magnitude, no more.",
    "",
    "### What this does not show",
    "",
    "- Truth and planner share laws, spreads and what makes a member of a draw: a law or a spread that is",
    "  wrong is wrong in both. Independent are the draws, the lean that is ridden and the counting.",
    "- Nothing that the planner does not draw: a wrong word about road or tyres slips far more than any",
    "  spread does (last tables).",
    "- Where caution card, level's top or clearance set every cap, the chance is not put to the test.",
    "",
]


def head() -> list[str]:
    """Return the lines that stand above the tables."""
    machine = f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores"
    return [
        "# Ladders beside worlds drawn afresh",
        "",
        "Written by `make evidence` (scripts/odds.py); do not edit.",
        "",
        f"- commit: {commit()}",
        f"- machine: {machine}, Python {platform.python_version()}",
        f"- seeds: ladders 1, worlds {SEED} and up; {WORLDS:,} worlds unless said otherwise",
        f"- when: {datetime.now(UTC):%Y-%m-%d %H:%M} UTC",
        "",
        "## Against ourselves",
        "",
        "Synthetic truth: worlds within the spreads of data/odds.toml, drawn by another generator than the",
        "planner's, independently and not from its nets, ride a ladder that was planned without them. They",
        "follow its planned trace; at every rung they ride the planned lean with a rider's scatter, forward.",
        "This is consistency of the program with its own spreads and laws, never to be cited as accuracy:",
        "most of these spreads are judgement.",
        "",
        "Counted is how often in 100 what a lean asks for passes the level's share of the grip, at rungs",
        "where grip sets the cap and the plan reaches it. Intervals are of 95 in 100, by worlds: rungs of",
        "a world share its day and its tyres.",
        "",
    ]


def main() -> int:
    """Run the parts and write the page."""
    asked = sys.argv[1:] or list(PARTS)
    lines = head()
    for name in asked:
        began = time.perf_counter()
        lines += PARTS[name]()
        print(f"{name}: {time.perf_counter() - began:.0f} s", flush=True)
    lines += REMARKS
    text = "\n".join(lines).rstrip() + "\n"
    if asked == list(PARTS):
        OUT.write_text(text, encoding="utf-8")
        print(OUT.relative_to(ROOT))
    else:
        print(text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
