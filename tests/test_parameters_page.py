"""docs/physics/parameters.md lists every figure that ships with its present value.

What a spread does is planned anew by scripts/parameters.py, which takes minutes: `make evidence`.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from scripts.sensitivity.bars import picture, short
from scripts.sensitivity.effects import DOWN, UP, Effect, Moved, tried, varied
from scripts.sensitivity.sessions import CASES, FAMILY, Change, caps, takes_part
from tests.published.ranges import shipped_figures

from leanladder.domain.parameter import Parameter

PAGE = Path(__file__).resolve().parents[1] / "docs" / "physics" / "parameters.md"
ROW = re.compile(r"^\| `([\w.]+)` \| (-?[\d.e+-]+) \|", re.MULTILINE)
FIGURES = shipped_figures()
PEAK = f"tyres/{FAMILY}.rear.compound.peak_grip"


def listed() -> dict[str, float]:
    """Every figure of the page's last part by its name."""
    found: dict[str, float] = {}
    tables = PAGE.read_text(encoding="utf-8").partition("## Every figure")[2]
    for section in re.split(r"^### ", tables, flags=re.MULTILINE)[1:]:
        file = section.splitlines()[0].partition(":")[0].strip()
        found |= {f"{file}.{name}": float(value) for name, value in ROW.findall(section)}
    return found


def test_every_figure_is_listed_with_its_present_value() -> None:
    """Of other families and machines the page lists what differs from the one that is varied."""
    page, stale = listed(), []
    for name, figure in FIGURES.items():
        shown = f"{figure.value:g}"
        if name in page and f"{page[name]:g}" != shown:
            stale.append(name)
        if name not in page and takes_part(name):
            stale.append(name)
    assert stale == [], "run scripts/parameters.py"
    assert [name for name in page if name not in FIGURES] == []


def test_a_step_stays_within_the_range() -> None:
    figure = Parameter(1.0, "-", 0.5, "judgement", low=0.8, high=2.0)
    assert tried(figure, DOWN) == 0.8
    assert tried(figure, UP) == 1.5
    assert tried(Parameter(1.0, "-", 0.5, "judgement"), DOWN) == 0.5


def test_what_is_exact_or_takes_no_part_is_not_varied() -> None:
    names = varied(FIGURES)
    assert "heat.contact_factor" in names
    assert "heat.skin_m" not in names
    assert "machines/cruiser.mass_kg" not in names


def test_a_change_reaches_the_plan_and_only_it() -> None:
    """Less grip behind lowers a physical cap and raises none; a family that nobody rides on does nothing."""
    case = CASES[2]
    before = caps(case)
    less = caps(case, Change(PEAK, FIGURES[PEAK].value - 0.1)).physics_deg
    assert (before.physics_deg - less).max() > 1.0
    other = caps(case, Change("tyres/race.rear.compound.peak_grip", 1.0))
    assert other.physics_deg.tolist() == before.physics_deg.tolist()


@pytest.mark.parametrize(
    "name",
    ["road.albedo", "heat.contact_factor", "surfaces.ordinary.texture_mm", "levels.experienced.brake_mps2"],
)
def test_every_kind_of_figure_reaches_the_plan(name: str) -> None:
    """Each kind of file is changed in its own way: whichever it is, rubber or grip has to notice."""
    case, figure = CASES[2], FIGURES[name]
    changed = caps(case, Change(name, tried(figure, DOWN)))
    assert changed.physics_deg.tolist() != caps(case).physics_deg.tolist()


def test_the_picture_draws_a_pair_of_bars_a_figure() -> None:
    moved = {DOWN: Moved(-0.5, -0.9), UP: Moved(0.4, 0.7)}
    drawn = picture("what it shows", [Effect(PEAK, moved, moved, frozenset())])
    assert drawn.count("<rect") == 4  # two in the legend, two bars
    assert short(PEAK) == "rear tyre peak_grip"
    assert short("machines/naked.front.rim_mass_kg") == "machine front rim_mass_kg"
    assert short("heat.contact_factor") == "heat contact_factor"
