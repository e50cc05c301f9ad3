"""Heat through the contact patch: two half-spaces that touch for a moment.

Carslaw and Jaeger, Conduction of Heat in Solids, 1959 (from memory); figures computed from the formulae.
"""

from __future__ import annotations

import numpy as np
import pytest

from leanladder.engine import ride

TYRE = ride.effusivity(0.25, 1150.0, 1900.0)
ASPHALT = ride.effusivity(1.5, 2300.0, 920.0)
BOTH = TYRE * ASPHALT / (TYRE + ASPHALT)


def coefficient_w_m2k(speed_mps: float) -> float:
    """The patch of 1500 N at 2.3 bar, as wide as makes it 0.10 m long."""
    area = 1500.0 / 2.3e5
    half_m = area / 0.10 / 2.0
    found = ride.road_conductance_w_k(np.array([1500.0]), np.array([speed_mps]), 2.3, half_m, BOTH, 1.0)
    return float(found[0]) / area


def test_effusivities() -> None:
    # k 0.25, rho 1150, c 1900; asphalt 1.5, 2300, 920; both in series 522.38 W s^0.5/m2K.
    found = [TYRE, ASPHALT, BOTH]
    assert found == pytest.approx([739.09, 1781.6, 522.38], rel=5e-5)


@pytest.mark.parametrize(("speed_mps", "coefficient"), [(10.0, 5894.0), (30.0, 10209.0), (50.0, 13180.0)])
def test_mean_coefficient_over_the_contact(speed_mps: float, coefficient: float) -> None:
    # 2 e / sqrt(pi L/v), L = 0.10 m.
    assert coefficient_w_m2k(speed_mps) == pytest.approx(coefficient, abs=0.6)


def test_heat_a_pass() -> None:
    # 30 K at 30 m/s: 1020.9 J/m2.
    assert coefficient_w_m2k(30.0) * 30.0 * 0.10 / 30.0 == pytest.approx(1020.9, abs=0.1)


def test_contact_factor_scales() -> None:
    one = ride.road_conductance_w_k(np.array([1500.0]), np.array([30.0]), 2.3, 0.026, BOTH, 1.0)
    part = ride.road_conductance_w_k(np.array([1500.0]), np.array([30.0]), 2.3, 0.026, BOTH, 0.3)
    assert part == pytest.approx(0.3 * one)
