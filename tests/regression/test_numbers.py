"""Our own numbers, kept to notice that they changed; never evidence that they are right.

A ladder that was handed out says which engine made it. So where a question gets another answer, ENGINE
rises, in `leanladder/__init__.py` and `leanladder/engine/__init__.py`, and the new answers are kept beside
the old: `.venv/bin/python tests/regression/test_numbers.py` writes them. Until engine 1 is released its file
may be written again.
"""

from __future__ import annotations

import contextlib
import io
import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from leanladder import ENGINE
from leanladder.cli.main import main

HERE = Path(__file__).parent
EXAMPLE = files("leanladder").joinpath("data", "example")
NOTES = ("--notes", str(EXAMPLE / "circuit-notes.toml"))
# Machines may differ in the last bits, which the fixed points of a lap enlarge; nobody reads a thousandth.
WITHIN = 1e-3
QUESTIONS: dict[str, tuple[str, ...]] = {
    "demo": (
        *NOTES, "--tyre", "sport-road", "--air", "8", "--track", "9", "--humidity", "60",
        "--start", "cold", "--laps", "4", "--rider", "new",
    ),
    "warmed": (
        "--closed-course", "--reverse", "--tyre", "sport-road", "--air", "20", "--track", "30",
        "--start", "warmers:70:45:5", "--laps", "3", "--rider", "experienced",
    ),
    "stopped": (
        *NOTES, "--tyre", "sport-road", "--air", "14", "--track", "18",
        "--start", "stopped:20:shade", "--laps", "3", "--rider", "regular", "--surface", "polished",
    ),
}  # fmt: skip


def answer(name: str) -> dict[str, Any]:
    """Return what is kept of a question's answer: caps, speeds, rubber, pressures."""
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        code = main(["plan", "--circuit", str(EXAMPLE / "circuit.csv"), *QUESTIONS[name], "--json"])
    assert code == 0
    laps = json.loads(printed.getvalue())["laps"]
    corners = [corner for lap in laps for corner in lap["corners"]]
    return {
        "time_s": [lap["time_s"] for lap in laps],
        "cap_bike_deg": [corner["cap_bike_deg"] for corner in corners],
        "physics_bike_deg": [corner["physics_bike_deg"] for corner in corners],
        "bike_p50_deg": [corner["bike_p50_deg"] for corner in corners],
        "speed_kmh": [corner["speed_kmh"] for corner in corners],
        "rear_left_c": [corner["rear"]["left_c"] for corner in corners],
        "front_carcass_c": [corner["front"]["carcass_c"] for corner in corners],
        "pressure_bar": [lap["end"][end]["pressure_bar"] for lap in laps for end in ("front", "rear")],
    }


def kept_file() -> Path:
    return HERE / f"engine-{ENGINE}.json"


@pytest.mark.usefixtures("all_members")
@pytest.mark.parametrize("name", QUESTIONS)
def test_the_same_engine_gives_the_same_answer(name: str) -> None:
    kept = json.loads(kept_file().read_text(encoding="utf-8"))[name]
    found = answer(name)
    assert found.keys() == kept.keys()
    changed = [key for key in kept if found[key] != pytest.approx(kept[key], abs=WITHIN)]
    assert not changed, f"{', '.join(changed)} changed: ENGINE rises, and this module's head says what then"


def keep() -> None:
    """Write the answers of this engine."""
    answers = {
        name: {key: [round(value, 6) for value in values] for key, values in answer(name).items()}
        for name in QUESTIONS
    }
    kept_file().write_text(json.dumps(answers, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    keep()
