"""Side force of a leaned tyre, slip and the power lost in it.

Cossalter, Motorcycle Dynamics, 2nd ed. 2006: Fy/N = k_a alpha + k_g gamma (from memory); spin slip:
Pacejka, Tire and Vehicle Dynamics, 3rd ed. 2012 (from memory). Figures computed from the formulae.
"""

from __future__ import annotations

from math import atan, radians

import numpy as np
import pytest

from leanladder.engine import ride
from leanladder.engine.constants import GRAVITY_MPS2

Grips = ride.Grips


def motion(speed_mps: float, lean: float = 0.0, bike_lean: float = 0.0) -> ride.Motion:
    one = np.ones(1)
    nothing = np.zeros(1)
    return ride.Motion(speed_mps * one, nothing, one, lean * one, bike_lean * one, nothing, nothing)


def forces(load_n: float, along_n: float = 0.0, side_n: float = 0.0) -> ride.WheelForces:
    return ride.WheelForces(np.array([load_n]), np.array([along_n]), np.array([side_n]))


@pytest.mark.parametrize(("camber_stiffness", "slide_mps"), [(0.8, 0.743), (1.0, 0.429), (1.2, 0.115)])
def test_side_slip_at_45_deg(camber_stiffness: float, slide_mps: float) -> None:
    # alpha = (tan 45 - k_g 45 deg)/k_a, k_a = 15: 1.420, 0.820 and 0.220 deg; sliding at 30 m/s.
    grips = Grips(20.0, 15.0, camber_stiffness, 0.08, 0.30, 0.0)
    leaned = motion(30.0, radians(45.0), radians(45.0))
    power = ride.slip_power_w(forces(1400.0, side_n=1400.0), leaned, grips, 0.025)
    assert power[0] / 1400.0 == pytest.approx(slide_mps, abs=5e-4)


def test_power_of_side_slip() -> None:
    # Fy = 1400 N, alpha = 0.0143 rad, 30 m/s: 600.6 W.
    grips = Grips(20.0, 1.0 / 0.0143, 0.0, 0.08, 0.30, 0.0)
    power = ride.slip_power_w(forces(1400.0, side_n=1400.0), motion(30.0), grips, 0.025)
    assert power[0] == pytest.approx(600.6, abs=1e-9)


@pytest.mark.parametrize("along_n", [1500.0, -1500.0])
def test_power_of_slip_along(along_n: float) -> None:
    # Fx = 1500 N, kappa = 0.02, 40 m/s: 1200 W, driving or braking.
    grips = Grips(1.0 / 0.02, 15.0, 0.0, 0.08, 0.30, 0.0)
    power = ride.slip_power_w(forces(1500.0, along_n=along_n), motion(40.0), grips, 0.025)
    assert power[0] == pytest.approx(1200.0, abs=1e-9)


def test_camber_spin() -> None:
    # sin(45)/0.30 - 1/100 = 2.347 1/m, 70.41 rad/s at 30 m/s; a load of 1 N on an arm of 1 m
    # gives the spin itself as power.
    grips = Grips(20.0, 15.0, 0.0, 0.08, 0.30, 1.0)
    leaned = motion(30.0, atan(30.0**2 / (GRAVITY_MPS2 * 100.0)), radians(45.0))
    power = ride.slip_power_w(forces(1.0), leaned, grips, 2.0)
    assert power[0] == pytest.approx(70.41, abs=5e-3)


@pytest.mark.parametrize(("speed_kmh", "coefficient"), [(50.0, 0.01827), (100.0, 0.02357), (150.0, 0.03240)])
def test_rolling_coefficient(speed_kmh: float, coefficient: float) -> None:
    # Cooper's formula as in Cossalter (from memory): 0.0085 + 0.018/p + 1.59e-6 V^2/p, p = 2.25 bar.
    assert ride.rolling_coefficient(np.array([speed_kmh / 3.6]), 2.25)[0] == pytest.approx(
        coefficient, abs=5e-6
    )


def test_rolling_coefficient_is_held_past_its_range() -> None:
    found = ride.rolling_coefficient(np.array([165.0, 250.0]) / 3.6, 2.25)
    assert found[0] == pytest.approx(found[1], rel=1e-12)
