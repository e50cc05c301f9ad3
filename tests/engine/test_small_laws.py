"""Cornering, gas and air: inverses, signs and directions."""

from __future__ import annotations

from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.engine import air, cornering, gas

HEIGHTS = st.floats(0.4, 0.75)
CROWNS = st.floats(0.03, 0.11)


@given(st.floats(0.0, 1.1), CROWNS, HEIGHTS)
def test_lean_and_bike_lean_are_inverse(lean: float, crown_m: float, height_m: float) -> None:
    bike = cornering.bike_lean_of_lean(lean, crown_m, height_m)
    assert bike >= lean
    assert cornering.lean_of_bike_lean(bike, crown_m, height_m) == pytest.approx(lean, abs=1e-12)
    both = cornering.bike_leans(np.array([lean, -lean]), crown_m, height_m)
    assert both[0] == -both[1] == pytest.approx(bike, abs=1e-14)


@given(st.floats(0.0, 1.0))
def test_the_ellipse_closes(side_share: float) -> None:
    left = cornering.ellipse_left(side_share)
    assert left**2 + side_share**2 == pytest.approx(1.0)


@given(st.floats(5.0, 60.0), st.floats(10.0, 300.0))
def test_twice_the_radius_takes_root_two_the_speed(speed_mps: float, radius_m: float) -> None:
    lean = cornering.lean_of_speed(speed_mps, radius_m)
    assert cornering.lean_of_speed(speed_mps * 2.0**0.5, 2.0 * radius_m) == pytest.approx(lean, rel=1e-12)


def test_hang_off_lowers_the_machines_lean_by_little() -> None:
    assert (
        0.0 == cornering.hang_off_lean(0.3, 0.0, 0.6) < cornering.hang_off_lean(0.3, 0.2, 0.6) < radians(10.0)
    )


@given(st.floats(1.0, 4.0), st.floats(-10.0, 40.0), st.floats(-10.0, 120.0), st.floats(-400.0, 3500.0))
def test_gas_and_gauge_are_inverse(set_bar: float, set_c: float, now_c: float, altitude_m: float) -> None:
    atmosphere = gas.atmosphere_bar(altitude_m)
    now_bar = gas.gauge_bar(set_bar, set_c, now_c, atmosphere)
    assert gas.gas_c(set_bar, set_c, now_bar, atmosphere) == pytest.approx(now_c, abs=1e-9)
    assert gas.gauge_bar(now_bar, now_c, set_c, atmosphere) == pytest.approx(set_bar, abs=1e-12)
    assert abs(now_c - set_c) < 1e-9 or (now_bar > set_bar) == (now_c > set_c)


@given(st.floats(0.0, 60.0), st.floats(0.5, 40.0), st.floats(0.5, 3.0))
def test_faster_and_warmer_wheels_cool_more(speed_mps: float, more_mps: float, more_k: float) -> None:
    slow, fast = air.rolling_convection(np.array([speed_mps, speed_mps + more_mps]), 0.6, 0.18)
    assert fast > slow >= 0.0
    assert air.standing_convection(30.0 + more_k, 10.0, 0.6) > air.standing_convection(30.0, 10.0, 0.6)
    mixed = air.joined(np.array([slow, fast]), 5.0)
    assert np.all(mixed >= np.maximum([slow, fast], 5.0) - 1e-12)


def test_standing_air_does_not_vanish_without_a_difference() -> None:
    assert 0.0 < air.standing_convection(20.0, 20.0, 0.6) < 2.0


def test_a_corner_at_its_cap_leaves_nothing_whatever_its_last_bits() -> None:
    """Unguarded, the root of a last bit is 1e-8 of the friction, and mirrored laps part at 1e-9."""
    bits = np.spacing(1.0) * np.arange(8)
    assert [cornering.ellipse_left(float(1.0 - bit)) for bit in bits] == [0.0] * 8
    assert cornering.ellipse_left(1.0 - 1e-8) > 1e-4
