"""Distances round a lap."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.geometry.elevation import smoothed_heights
from leanladder.geometry.line import survey_line
from leanladder.geometry.matching import ahead_m, apart_m, nearest_m, within

ANGLE = np.arange(200) / 200 * 2.0 * np.pi
CIRCLE = survey_line(np.column_stack([100.0 * np.cos(ANGLE), 100.0 * np.sin(ANGLE)]))


@given(angle=st.floats(0.0, 6.28), away=st.floats(-30.0, 30.0))
def test_the_nearest_place_on_a_circle(angle: float, away: float) -> None:
    at, off = nearest_m(CIRCLE, (100.0 + away) * np.cos(angle), (100.0 + away) * np.sin(angle))
    expected = angle / (2.0 * np.pi) * CIRCLE.length_m
    assert apart_m(at, expected, CIRCLE.length_m) < 0.3
    assert off == pytest.approx(abs(away), abs=0.2)


@given(one=st.floats(0.0, 999.9), other=st.floats(0.0, 999.9))
def test_apart_is_the_shorter_way_round_and_the_same_both_ways(one: float, other: float) -> None:
    assert apart_m(one, other, 1000.0) == pytest.approx(apart_m(other, one, 1000.0), abs=1e-9)
    assert 0.0 <= apart_m(one, other, 1000.0) <= 500.0


def test_stretches_may_wrap() -> None:
    assert within(50.0, 900.0, 100.0)
    assert within(950.0, 900.0, 100.0)
    assert not within(500.0, 900.0, 100.0)
    assert within(500.0, 400.0, 600.0)
    np.testing.assert_allclose(ahead_m(900.0, np.array([950.0, 100.0]), 1000.0), [50.0, 200.0])


def test_heights_are_smoothed_round_the_lap() -> None:
    rng = np.random.default_rng(4)
    along = np.arange(0.0, 3000.0, 10.0)
    true = 5.0 * np.sin(along / 3000.0 * 2.0 * np.pi)
    found = smoothed_heights(along, true + rng.normal(0.0, 1.0, len(along)), 3000.0, 300)
    assert np.sqrt(np.mean((found - true) ** 2)) < 0.35
