"""Friction against temperature: a smooth rise, a table that interpolates, an index that only explains."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.engine import grip

SHARES = st.floats(0.3, 0.95)


MECHANISM = st.tuples(st.floats(20.0, 90.0), SHARES)


@given(st.floats(-60.0, -25.0), MECHANISM, MECHANISM, st.floats(0.0, 1.0), st.floats(0.05, 0.5))
def test_the_curve_rises_to_its_range_and_stays(
    glass_c: float, keying: tuple[float, float], adhesion: tuple[float, float], weight: float, width: float
) -> None:
    axis = grip.table_axis()
    curve = grip.grip_curve(axis, glass_c, keying, adhesion, weight, width)
    assert np.all(np.diff(curve) >= -1e-12)
    assert np.all(curve[axis >= max(keying[0], adhesion[0])] == pytest.approx(1.0))
    assert curve.min() >= min(keying[1], adhesion[1]) - 1e-12


@given(st.floats(60.0, 120.0), st.floats(0.0, 0.01), st.floats(0.1, 15.0))
def test_the_fade_only_falls_and_has_no_step(from_c: float, per_k: float, blend_k: float) -> None:
    axis = np.linspace(-20.0, 180.0, 4001)
    left = grip.faded(axis, from_c, per_k, blend_k)
    assert np.all(left[axis <= from_c] == 1.0)
    assert np.all(np.diff(left) <= 1e-12)
    assert np.all(np.diff(left) >= -per_k * 0.05 - 1e-12)
    assert np.all(left >= 0.3)


def test_the_fade_has_its_slope_past_the_blend() -> None:
    left = grip.faded(np.array([110.0, 120.0]), 90.0, 0.004, 6.0)
    assert left[0] - left[1] == pytest.approx(0.04)


@given(st.integers(0, 2**32 - 1), st.floats(-60.0, 260.0))
def test_a_table_is_read_by_straight_lines(seed: int, rubber_c: float) -> None:
    table = np.random.default_rng(seed).uniform(0.2, 1.5, grip.TABLE_LENGTH)
    expected = float(np.interp(rubber_c, grip.table_axis(), table))  # held flat outside, as np.interp
    assert grip.grip_at(table, rubber_c) == pytest.approx(expected, rel=1e-12)


def test_a_table_holds_its_own_values() -> None:
    table = np.random.default_rng(0).uniform(0.2, 1.5, grip.TABLE_LENGTH)
    assert [grip.grip_at(table, at_c) for at_c in grip.table_axis()] == table.tolist()
    assert (grip.table_axis()[0], grip.table_axis()[-1]) == (-20.0, 180.0)


@given(st.floats(0.05, 4.0), st.floats(0.0, 0.95), st.floats(0.1, 2.0), st.floats(0.1, 2.0))
def test_keying_matters_more_on_deep_rough_stone(
    texture_mm: float, polish: float, half_mm: float, power: float
) -> None:
    weight = grip.keying_weight(texture_mm, polish, half_mm, power)
    assert 0.0 <= weight <= 1.0
    assert grip.keying_weight(texture_mm * 1.2, polish, half_mm, power) > weight
    assert grip.keying_weight(texture_mm, polish + 0.04, half_mm, power) < weight
    assert grip.keying_weight(texture_mm, 1.0, half_mm, power) == 0.0


@given(st.floats(0.02, 0.3), st.floats(20.0, 70.0), st.floats(3.0, 20.0))
def test_texture_fill_rises_from_cold_to_full(cold: float, soft_c: float, width_k: float) -> None:
    fill = grip.texture_fill(np.linspace(-20.0, 180.0, 400), cold, soft_c, width_k)
    assert np.all(np.diff(fill) >= 0.0)
    assert np.all((fill >= cold) & (fill <= 1.0))
    half = float(grip.texture_fill(soft_c, cold, soft_c, width_k))
    assert half == pytest.approx(0.5 * (1.0 + cold))
