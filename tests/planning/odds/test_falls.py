"""Odds of a fall: against counts of many drawn, and what holds whatever the figures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.engine.falls import Planned
from leanladder.planning.odds import falls

SPREAD = 0.03


def planned(friction: float, lean_deg: float, scatter_deg: float, along: float = 0.05) -> Planned:
    """One member at one corner."""
    one, lean = np.ones((1, 1)), math.radians(lean_deg)
    demand = math.hypot(math.tan(lean), along)
    return Planned(friction * one, demand * one, lean * one, np.zeros(1), np.radians([scatter_deg]))


def odds(*of: float) -> float:
    return float(falls.of_lap(planned(*of), SPREAD)[0][0])


@pytest.mark.parametrize(
    ("friction", "lean_deg", "scatter_deg"), [(0.9, 38.0, 2.0), (0.8, 36.0, 1.5), (1.1, 45.0, 1.0)]
)
def test_summed_odds_are_those_counted(friction: float, lean_deg: float, scatter_deg: float) -> None:
    """Against a million draws of the tyre's level and the rider's scatter, ridden forward."""
    draw = np.random.default_rng(5).standard_normal((2, 1_000_000))
    lean = math.radians(lean_deg) + math.radians(scatter_deg) * draw[0]
    counted = np.mean(np.hypot(np.tan(lean), 0.05) > friction * (1.0 + SPREAD * draw[1]))
    assert 1e-4 < counted < 0.5
    assert odds(friction, lean_deg, scatter_deg) == pytest.approx(counted, rel=0.06, abs=3e-5)


@given(st.floats(0.7, 1.2), st.floats(10.0, 45.0), st.floats(0.5, 3.0))
def test_more_lean_more_odds_and_more_grip_fewer(
    friction: float, lean_deg: float, scatter_deg: float
) -> None:
    here = odds(friction, lean_deg, scatter_deg)
    assert 0.0 <= here <= 1.0
    assert odds(friction, lean_deg + 1.0, scatter_deg) >= here
    assert odds(friction + 0.02, lean_deg, scatter_deg) <= here


def test_laps_add_up() -> None:
    at, lap = falls.of_lap(planned(0.9, 38.0, 2.0), SPREAD)
    nothing = np.zeros_like(lap)
    member = falls.of_members(lap, nothing, (SPREAD, SPREAD))
    assert member[0] == pytest.approx(at[0], rel=1e-9)
    ten = falls.of_members(10 * lap, nothing, (SPREAD, SPREAD))
    assert member[0] < ten[0] < 10 * member[0]


def test_a_field_without_common_causes_is_many_riders() -> None:
    each = np.full(1024, 0.01)
    day = np.random.default_rng(1).standard_normal((3, 1024))
    assert falls.of_field(each, day) == pytest.approx(1.0 - 0.99**30, rel=1e-9)


def test_a_field_whose_day_decides_falls_together() -> None:
    """All of the odds lie on one day in 32: that day many fall, on others nobody."""
    day = np.random.default_rng(1).standard_normal((1, 1024))
    bad = np.argsort(day[0])[-32:]
    each = np.full(1024, 1e-9)
    each[bad] = 0.5
    common = falls.of_field(each, day)
    assert common == pytest.approx(1.0 / 32.0, rel=0.05)
    alone = 1.0 - (1.0 - each.mean()) ** 30
    assert common < 0.15 * alone


@given(st.integers(0, 1000), st.floats(1e-8, 0.02))
def test_a_field_falls_no_more_often_than_its_riders_together(seed: int, most: float) -> None:
    draw = np.random.default_rng(seed)
    day, each = draw.standard_normal((2, 1024)), most * draw.random(1024)
    found = falls.of_field(each, day)
    assert each.mean() <= found <= 1.0 - (1.0 - each.mean()) ** 30 + 1e-12
