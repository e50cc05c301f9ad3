"""Speed along the line: never more than caps, grip, power, brakes and the rider allow."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from leanladder.engine import pace
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.pace import Going, Machine, corner_speeds, lap_speeds

Floats = NDArray[np.float64]
SEEDS = st.integers(0, 2**32 - 1)
POINTS = 300
EXACT = 1e-9


def going(draw: np.random.Generator) -> Going:
    """A winding road with caps, grip and a rider's habits of invented size."""
    knots = np.linspace(0, POINTS, 25)
    bends = draw.uniform(0.0, 0.05, 25) * draw.choice([-1.0, 0.0, 0.0, 1.0], 25)
    points = np.arange(POINTS)
    return Going(
        np.interp(points, knots, bends),
        np.interp(points, knots, draw.uniform(-0.05, 0.05, 25)),
        np.interp(points, knots, draw.uniform(0.15, 0.8, 25)),
        np.interp(points, knots, draw.uniform(1.1, 1.4, 25)),
        np.full(POINTS, draw.uniform(1.0, 6.0)),
        np.full(POINTS, draw.uniform(1.0, 9.0)),
        draw.uniform(2.0, 4.0),
    )


def machine(draw: np.random.Generator) -> Machine:
    mass_kg = draw.uniform(70.0, 320.0)
    power_w = mass_kg * draw.uniform(80.0, 400.0)
    return Machine(mass_kg, power_w, 0.25, draw.uniform(0.45, 0.55), 10.0, 10.0, draw.uniform(30.0, 80.0))


def lap(seed: int) -> tuple[Going, Machine, float, Floats, NDArray[np.int64]]:
    draw = np.random.default_rng(seed)
    road, bike, straight_mps = going(draw), machine(draw), draw.uniform(25.0, 70.0)
    speeds, codes = lap_speeds(road, bike, straight_mps, draw.uniform(2.0, 30.0))
    return road, bike, straight_mps, speeds, codes


def along_mps2(road: Going, speeds: Floats) -> Floats:
    return np.asarray((speeds[1:] ** 2 - speeds[:-1] ** 2) / (2.0 * road.step_m))


@given(SEEDS)
def test_never_faster_than_a_corner_or_a_straight_allows(seed: int) -> None:
    road, bike, straight_mps, speeds, _ = lap(seed)
    assert np.all(speeds <= corner_speeds(road, bike, straight_mps) * (1.0 + EXACT))
    assert speeds.max() <= min(bike.top_mps, straight_mps)


@given(SEEDS)
def test_never_past_the_lean_limit(seed: int) -> None:
    road, _, _, speeds, _ = lap(seed)
    lean = np.arctan(speeds**2 * np.abs(road.curvature_per_m) / GRAVITY_MPS2)
    assert np.all(lean <= road.lean_limit + EXACT)


@given(SEEDS)
def test_drive_stays_within_ellipse_power_and_rider(seed: int) -> None:
    road, bike, _, speeds, _ = lap(seed)
    along = along_mps2(road, speeds)
    now = speeds[:-1]
    drag = bike.drag_kg_m * now**2 / bike.mass_kg + GRAVITY_MPS2 * road.slope[:-1]
    driven = along > 0.0
    push = (along + drag)[driven]
    across = (now**2 * np.abs(road.curvature_per_m[:-1]) / GRAVITY_MPS2 / road.grip[:-1])[driven]
    wheel = push / (GRAVITY_MPS2 * bike.drive_share * road.grip[:-1][driven])
    assert np.all(across**2 + np.maximum(wheel, 0.0) ** 2 <= 1.0 + EXACT)
    assert np.all(push * bike.mass_kg * now[driven] <= bike.power_w * (1.0 + EXACT))
    assert np.all(along <= np.minimum(road.drive_mps2[:-1], bike.drive_lift_mps2) + EXACT)


@given(SEEDS)
def test_braking_stays_within_ellipse_and_rider(seed: int) -> None:
    road, bike, _, speeds, codes = lap(seed)
    held = np.flatnonzero(codes[:-1] == pace.AT_BRAKING)
    slowing = -along_mps2(road, speeds)[held]
    ahead = speeds[held + 1]
    free = GRAVITY_MPS2 * road.slope[held] + bike.drag_kg_m * ahead**2 / bike.mass_kg
    brake = np.where(slowing <= 0.05 + EXACT, 0.0, slowing - free)  # as good as rolling on
    across = ahead**2 * np.abs(road.curvature_per_m[held + 1]) / GRAVITY_MPS2 / road.grip[held + 1]
    wheels = np.maximum(brake, 0.0) / (GRAVITY_MPS2 * road.grip[held + 1])
    assert np.all(across**2 + wheels**2 <= 1.0 + 1e-6)
    assert np.all(brake <= np.minimum(road.brake_mps2[held], bike.brake_lift_mps2) + 1e-6)


@given(SEEDS)
def test_no_stretch_slows_more_than_brakes_road_and_air_can(seed: int) -> None:
    road, bike, _, speeds, _ = lap(seed)
    most = road.brake_mps2[:-1] + GRAVITY_MPS2 * 0.05 + bike.drag_kg_m * speeds[:-1] ** 2 / bike.mass_kg
    assert np.all(-along_mps2(road, speeds) <= np.maximum(most, 0.05) + EXACT)


@given(SEEDS)
def test_a_mirrored_road_is_ridden_alike(seed: int) -> None:
    draw = np.random.default_rng(seed)
    road, bike = going(draw), machine(draw)
    speeds, codes = lap_speeds(road, bike, 60.0, 10.0)
    mirror, codes_mirror = lap_speeds(road._replace(curvature_per_m=-road.curvature_per_m), bike, 60.0, 10.0)
    assert np.array_equal(speeds, mirror)
    assert np.array_equal(codes, codes_mirror)


@given(SEEDS, st.floats(0.0, 0.3))
def test_more_lean_never_slows_a_corner(seed: int, more: float) -> None:
    draw = np.random.default_rng(seed)
    road, bike = going(draw), machine(draw)
    freer = road._replace(lean_limit=road.lean_limit + more)
    assert np.all(corner_speeds(freer, bike, 60.0) >= corner_speeds(road, bike, 60.0) - EXACT)


def straight(points: int, drive_mps2: float = 3.0) -> Going:
    flat = np.zeros(points)
    return Going(flat, flat.copy(), flat + 0.5, flat + 2.0, flat + drive_mps2, flat + 5.0, 2.0)


def test_a_standing_start_gathers_speed_as_the_rider_asks() -> None:
    bike = Machine(250.0, 1e9, 0.0, 1.0, 99.0, 99.0, 90.0)
    speeds, codes = lap_speeds(straight(100), bike, 90.0, 0.0)
    assert speeds == pytest.approx(np.sqrt(pace.SLOWEST_MPS**2 + 2.0 * 3.0 * 2.0 * np.arange(100)))
    assert set(codes[1:]) == {pace.AT_POWER}


def test_top_speed_is_where_power_meets_drag() -> None:
    bike = Machine(250.0, 50_000.0, 0.25, 0.5, 10.0, 10.0, 90.0)
    speeds, _ = lap_speeds(straight(5000, drive_mps2=9.0), bike, 90.0, 20.0)
    assert speeds[-1] == pytest.approx((50_000.0 / 0.25) ** (1 / 3), rel=1e-3)


def test_braking_for_a_corner_is_steady() -> None:
    road = straight(200)
    road.curvature_per_m[-5:] = 0.1
    bike = Machine(250.0, 1e6, 0.0, 0.5, 10.0, 10.0, 90.0)
    speeds, codes = lap_speeds(road, bike, 50.0, 40.0)
    braking = np.flatnonzero(codes == pace.AT_BRAKING)
    assert braking.size > 10
    assert -along_mps2(road, speeds)[braking[:-5]] == pytest.approx(5.0, rel=1e-6)
