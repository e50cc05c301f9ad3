"""T11 to T14: grip against temperature, family and surface. Common practice, no published source."""

from __future__ import annotations

import numpy as np
import pytest

from leanladder import catalogue
from leanladder.engine.grip import Floats, table_axis
from leanladder.planning.gripping import surface_grip
from leanladder.planning.tables import shipped_tables

AXIS = table_axis()
TABLES = shipped_tables()


def curve(family: str, end: str, surface: str = "ordinary") -> Floats:
    tyre = getattr(catalogue.tyre_family(family), end)
    return surface_grip(tyre.compound, catalogue.surface(surface), TABLES)


def at(grips: Floats, rubber_c: float) -> float:
    return float(np.interp(rubber_c, AXIS, grips))


@pytest.mark.parametrize("end", ["front", "rear"])
def test_t11_an_everyday_tyre_is_fine_at_80_and_fades_past_100(end: str) -> None:
    grips = curve("sport-road", end)
    assert at(grips, 80.0) >= 0.97 * grips.max()
    past = grips[(AXIS >= 100.0) & (AXIS <= 120.0)]
    assert np.all(np.diff(past) < 0.0)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_t11_road_compounds_fade_before_race_ones(end: str) -> None:
    road = getattr(catalogue.tyre_family("sport-road"), end).compound.fade_from_c.value
    race = getattr(catalogue.tyre_family("race"), end).compound.fade_from_c.value
    assert race >= road + 10.0


@pytest.mark.parametrize("end", ["front", "rear"])
def test_t12_race_grips_less_cold_and_more_hot_and_crosses_once(end: str) -> None:
    inside = (AXIS >= 0.0) & (AXIS <= 120.0)
    gap = (curve("race", end) - curve("sport-road", end))[inside]
    crossings = np.flatnonzero(np.diff(np.sign(gap)) != 0)
    assert gap[0] < 0.0 < gap[-1]
    assert len(crossings) == 1
    assert 40.0 <= AXIS[inside][crossings[0]] <= 70.0


@pytest.mark.parametrize("end", ["front", "rear"])
def test_t13_track_day_rubber_grips_more_once_off_cold(end: str) -> None:
    """The part of T13 that is data alone; how soon it warms is checked with the ways of warming."""
    gap = curve("track-day", end) - curve("sport-road", end)
    assert np.all(gap[(AXIS >= -5.0) & (AXIS < 10.0)] <= 0.0)
    assert np.all(gap[(AXIS >= 20.0) & (AXIS <= 90.0)] > 0.0)
    family, everyday = catalogue.tyre_family("track-day"), catalogue.tyre_family("sport-road")
    assert getattr(family, end).life_laps.value < getattr(everyday, end).life_laps.value


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("family", ["sport-road", "track-day", "race"])
def test_t14_polished_stone_needs_heat_and_a_jagged_surface_is_less_fussy(family: str, end: str) -> None:
    shares = [
        at(curve(family, end, surface), 10.0) / curve(family, end, surface).max()
        for surface in ("polished", "ordinary", "abrasive")
    ]
    assert shares[0] < shares[1] < shares[2]
