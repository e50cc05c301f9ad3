"""Every figure that ships lies in its published range, or says that it is judgement.

Ranges, their sections in reference/physics.md and their sources: tests/published/ranges.py.
"""

from __future__ import annotations

from fnmatch import fnmatchcase

import pytest
from tests.published.ranges import (
    OWN_WORDS,
    RANGES,
    RECALLED,
    our_own,
    published,
    recalled,
    shipped_figures,
    unaccounted,
)

from leanladder import catalogue
from leanladder.domain.parameter import Parameter
from leanladder.engine import grip
from leanladder.planning.tables import shipped_tables

FIGURES = shipped_figures()
RANGED = [name for name in FIGURES if published(name) is not None]


@pytest.mark.parametrize("name", RANGED)
def test_a_default_lies_in_its_published_range(name: str) -> None:
    found, figure = published(name), FIGURES[name]
    assert found is not None
    assert found.holds(figure.value), f"{figure.value} not in {found.low}..{found.high}: {found.section}"


@pytest.mark.parametrize("name", RANGED)
def test_its_own_range_meets_the_published_one(name: str) -> None:
    """Members are drawn from a figure's own range: it may be narrower, it may not lie elsewhere."""
    found, figure = published(name), FIGURES[name]
    assert found is not None
    assert figure.low is None or figure.low <= found.high
    assert figure.high is None or figure.high >= found.low


def test_every_figure_is_ranged_or_says_whose_it_is() -> None:
    assert unaccounted(FIGURES) == []


def test_a_new_figure_without_range_or_mark_is_noticed() -> None:
    new = Parameter(1.0, "-", 0.1, "a source")
    assert unaccounted({"heat.new_figure": new}) == ["heat.new_figure"]
    assert unaccounted({"heat.new_figure": Parameter(1.0, "-", 0.1, "judgement: a reason")}) == []


def test_every_figure_has_a_unit_a_spread_and_a_source() -> None:
    for name, figure in FIGURES.items():
        assert figure.unit, name
        assert figure.spread >= 0.0, name
        assert figure.source.strip(), name


def test_a_figure_without_spread_is_exact_by_design_or_says_why() -> None:
    """A spread of nought claims exactness: only rules, choices and nominal sizes may."""
    for name, figure in FIGURES.items():
        assert figure.spread > 0.0 or our_own(figure), name


@pytest.mark.parametrize("pattern", [*RANGES, *RECALLED])
def test_no_range_is_of_a_figure_that_is_gone(pattern: str) -> None:
    assert any(fnmatchcase(name, pattern) for name in FIGURES)


@pytest.mark.parametrize("name", [name for name in FIGURES if recalled(name) and not published(name)])
def test_what_is_recalled_says_so(name: str) -> None:
    source = FIGURES[name].source.lower()
    named = any(char.isdigit() for char in source) or "from memory" in source
    assert named or any(word in source for word in OWN_WORDS)


@pytest.mark.parametrize(
    ("family", "low", "high"), [("race", 0.55, 0.75), ("track-day", 0.55, 0.90), ("sport-road", 0.75, 0.90)]
)
@pytest.mark.parametrize("end", ["front", "rear"])
def test_cold_share_of_grip(family: str, low: float, high: float, end: str) -> None:
    """physics.md 2.4 (judgement): stiff rubber keeps 0.55-0.75 of a slick's grip, 0.75-0.9 of a road tyre's.

    On ordinary asphalt; a track-day tyre lies between both kinds.
    """
    compound = getattr(catalogue.tyre_family(family), end).compound
    general, surface = shipped_tables().grip, catalogue.surface("ordinary")
    weight = grip.keying_weight(
        surface.texture_mm, surface.polish, general["texture_half_mm"], general["polish_power"]
    )
    cold = weight * compound.keying_cold.value + (1.0 - weight) * compound.adhesion_cold.value
    assert low <= cold <= high


def test_road_effusivity_under_tyre_and_sun_agrees() -> None:
    """Two files describe asphalt, each by its source's figures: heat.toml 3.3, road.toml 5. Within 5 %."""
    under_tyre = (
        FIGURES["heat.road_conductivity_w_mk"].value
        * FIGURES["heat.road_density_kg_m3"].value
        * FIGURES["heat.road_heat_capacity_j_kgk"].value
    ) ** 0.5
    under_sun = (
        FIGURES["road.asphalt_conductivity_w_mk"].value * FIGURES["road.asphalt_capacity_j_m3k"].value
    ) ** 0.5
    assert under_tyre == pytest.approx(under_sun, rel=0.05)
