"""What a lap does to the tyres: forces that add up, heat that has a sign."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.engine import ride
from leanladder.engine.constants import GRAVITY_MPS2

SEEDS = st.integers(0, 2**32 - 1)
STEPS = 50


def motion(draw: np.random.Generator) -> ride.Motion:
    lean = draw.uniform(-0.8, 0.8, STEPS)
    return ride.Motion(
        draw.uniform(2.0, 70.0, STEPS), draw.uniform(-8.0, 5.0, STEPS), draw.uniform(0.05, 0.5, STEPS),
        lean, lean * 1.15, draw.uniform(-0.05, 0.05, STEPS), draw.uniform(-0.1, 0.1, STEPS),
    )  # fmt: skip


def mirror(moves: ride.Motion) -> ride.Motion:
    return moves._replace(lean=-moves.lean, bike_lean=-moves.bike_lean, bank=-moves.bank)


CHASSIS = ride.Chassis(275.0, 1.40, 0.63, 0.49, 0.25, 0.65)
GRIPS = ride.Grips(20.0, 12.0, 0.9, 0.08, 0.31, 0.1)


@given(SEEDS)
def test_wheels_carry_the_weight_and_pull_what_is_asked(seed: int) -> None:
    moves = motion(np.random.default_rng(seed))
    front, rear = ride.wheel_forces(moves, CHASSIS, 0.02)
    weight = CHASSIS.mass_kg * GRAVITY_MPS2
    assert front.load_n + rear.load_n == pytest.approx(np.full(STEPS, weight), rel=1e-12)
    assert np.all(front.load_n > 0.0)
    assert np.all(rear.load_n > 0.0)
    asked = CHASSIS.mass_kg * moves.along_mps2 + weight * moves.slope + CHASSIS.drag_kg_m * moves.speed_mps**2
    assert front.along_n + rear.along_n == pytest.approx(asked + 0.02 * weight, rel=1e-9, abs=1e-6)
    assert np.all(front.along_n <= 0.0)  # the front wheel only brakes
    assert front.side_n / front.load_n == pytest.approx(rear.side_n / rear.load_n, rel=1e-12)


@given(SEEDS)
def test_the_other_side_costs_the_same(seed: int) -> None:
    moves = motion(np.random.default_rng(seed))
    for one, other in zip(
        ride.wheel_forces(moves, CHASSIS, 0.02), ride.wheel_forces(mirror(moves), CHASSIS, 0.02), strict=True
    ):
        assert other.side_n == pytest.approx(one.side_n, rel=1e-12)
        power = ride.slip_power_w(one, moves, GRIPS, 0.028)
        assert ride.slip_power_w(other, mirror(moves), GRIPS, 0.028) == pytest.approx(power, rel=1e-12)
        assert np.all(power >= 0.0)


def test_no_slip_heat_upright_and_coasting() -> None:
    flat = np.zeros(1)
    moves = ride.Motion(np.array([30.0]), flat, np.ones(1), flat, flat, flat, flat)
    rolling = ride.WheelForces(np.array([1400.0]), flat, flat)
    assert ride.slip_power_w(rolling, moves, GRIPS, 0.028)[0] == 0.0


@given(st.floats(1.0, 70.0), st.floats(200.0, 2500.0), st.floats(1.2, 3.5))
def test_the_road_takes_more_at_speed_and_at_load(speed_mps: float, load_n: float, gauge_bar: float) -> None:
    def conductance(load: float, speed: float) -> float:
        found = ride.road_conductance_w_k(np.array([load]), np.array([speed]), gauge_bar, 0.028, 520.0, 0.4)
        return float(found[0])

    own = conductance(load_n, speed_mps)
    assert own > 0.0
    assert conductance(load_n, 4.0 * speed_mps) == pytest.approx(2.0 * own, rel=1e-9)  # root of the speed
    assert conductance(4.0 * load_n, speed_mps) == pytest.approx(2.0 * own, rel=1e-9)  # area / root of length


@given(st.floats(2.0, 70.0), st.floats(1.2, 3.4))
def test_soft_tyres_roll_harder(speed_mps: float, gauge_bar: float) -> None:
    soft, hard = (
        float(ride.rolling_coefficient(np.array([speed_mps]), bar)[0]) for bar in (gauge_bar, gauge_bar + 0.1)
    )
    assert soft > hard > 0.0085
