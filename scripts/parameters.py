"""Write docs/physics/parameters.md and its figure: every figure that ships and what it does to the caps.

Run by `make evidence`; takes some minutes on two cores. The same bytes each time for the same data and
engine.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.sensitivity import effects, page  # noqa: E402
from scripts.sensitivity.bars import picture  # noqa: E402
from scripts.sensitivity.effects import DOWN, HALF_DOWN, HALF_UP, UP  # noqa: E402
from scripts.sensitivity.sessions import CASES, FAMILY, MACHINE, caps  # noqa: E402
from tests.published.ranges import shipped_figures  # noqa: E402

from leanladder import catalogue  # noqa: E402
from leanladder.domain.parameter import Parameter  # noqa: E402
from leanladder.engine import ENGINE  # noqa: E402

FOLDER = ROOT / "docs" / "physics"
OUT = FOLDER / "parameters.md"
PICTURE = FOLDER / "parameters.svg"
MOST = 25
HELD = "planning.margin.grip_held"


def found() -> page.Found:
    """Plan everything anew and return what the page tells."""
    figures = shipped_figures()
    before = [caps(case) for case in CASES]
    each = effects.effects(effects.varied(figures), (DOWN, UP), before)
    first = sorted(each, key=lambda one: (-one.size_deg(), one.name))[:MOST]
    chosen = {one.name: figures[one.name] for one in first}
    halves = effects.effects(chosen, (HALF_DOWN, HALF_UP), before)
    largest = [
        replace(one, moved={**one.moved, **half.moved}, cut=one.cut | half.cut)
        for one, half in zip(first, halves, strict=True)
    ]
    held = figures[HELD].value
    freed = {HELD: Parameter(held, "-", 1.0 - held, "the whole grip")}
    (margin,) = effects.effects(freed, (UP,), before)
    moved = margin.moved[UP]
    return page.Found(
        figures=figures,
        before=before,
        effects=each,
        largest=largest,
        margin=effects.Moved(0.0, 0.0) if moved is None else moved,
        engine=ENGINE,
        digest=_digest(),
        picture=PICTURE.name,
    )


def _digest() -> str:
    tables = [catalogue.parameters(name) for name in catalogue.table_names()]
    return catalogue.digest(catalogue.tyre_family(FAMILY), catalogue.motorcycle(MACHINE), *tables)


def main() -> int:
    """Write the page and its figure."""
    told = found()
    alt = "Change of the physical cap by one spread of each figure, the largest first"
    PICTURE.write_text(picture(alt, told.largest), encoding="utf-8")
    OUT.write_text(page.text(told), encoding="utf-8")
    print(OUT.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
