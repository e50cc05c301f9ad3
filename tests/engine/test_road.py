"""The road's balance: it closes, it does not depend on the step, and it leans the right way."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder.catalogue import parameters
from leanladder.engine.constants import KELVIN, STEFAN_BOLTZMANN
from leanladder.engine.road import Course, Drive, Layer, grounded, surface_course
from leanladder.engine.road_day import Moment, air_before_c, air_range_k, drive_before, follow, road_day
from leanladder.planning.morning import road_parameters

FIGURES = road_parameters(parameters("road"))
SHORT = replace(FIGURES, spin_up_h=24.0)
APRIL_15 = 1776211200.0  # 2026-04-15T00:00Z
GROUND = grounded([Layer(0.15, 2.2, 1.5e6), Layer(1.0, 1.5, 1.9e6)])


def moment(hour: float = 9.0, *, latitude: float = 50.0, **changes: float) -> Moment:
    base = Moment(APRIL_15 + 3600.0 * hour, latitude, 0.0, 100.0, 10.0, None, 2.0, 0.3)
    return replace(base, **changes)


def constant(sun: list[float], air_c: float, wind: float = 2.0, steps: int = 72) -> Course:
    columns = np.ones((steps, 1))
    drive = Drive(300.0, np.tile(sun, (steps, 1)), 300.0 * columns, air_c * columns, wind * columns)
    start = np.full((len(GROUND.depth_m), len(sun)), 10.0)
    return surface_course(GROUND, drive, start, 10.0, albedo=0.15, emissivity=0.93)


def test_ground_fills_its_layers() -> None:
    whole = grounded([Layer(0.2, 1.0, 1e6), Layer(0.3, 2.0, 2e6)], insulated=True)
    assert whole.depth_m[-1] == pytest.approx(0.5)
    assert np.sum(whole.capacity_j_m2k) == pytest.approx(0.2e6 + 0.6e6)
    assert np.sum(1.0 / whole.conductance_w_m2k) == pytest.approx(0.2 / 1.0 + 0.3 / 2.0)
    assert np.any(np.isclose(whole.depth_m, 0.2))


@pytest.mark.parametrize("hour", [6.0, 12.0, 20.0])
def test_heat_is_neither_made_nor_lost(hour: float) -> None:
    course = road_day(FIGURES, moment(hour), almanac=False).course
    through = np.abs(course.taken_j_m2) + np.abs(course.lost_j_m2) + np.abs(course.stored_j_m2)
    gap = np.abs(course.taken_j_m2 - course.lost_j_m2 - course.stored_j_m2)
    assert np.all(gap <= 1e-9 * through)


def test_the_stated_flux_is_the_balance_of_its_parts() -> None:
    # The flux that entered must be what sun, sky, glow and film say at the temperature reached.
    course = constant([500.0], 12.0, steps=1)
    surface_k = course.surface_c[0, 0] + KELVIN
    mean_k = 0.5 * (surface_k + 12.0 + KELVIN)
    film = 698.24 * (0.00144 * mean_k**0.3 * 2.0**0.7 + 0.00097 * abs(surface_k - 12.0 - KELVIN) ** 0.3)
    net = 0.85 * 500.0 + 0.93 * 300.0 - 0.93 * STEFAN_BOLTZMANN * surface_k**4
    net -= film * (surface_k - 12.0 - KELVIN)
    assert course.taken_j_m2[0] / 300.0 == pytest.approx(net, rel=1e-6)


def test_equal_temperatures_stay_for_ever() -> None:
    columns = np.ones((500, 1))
    drive = Drive(3600.0, 0 * columns, STEFAN_BOLTZMANN * (10 + KELVIN) ** 4 * columns, 10 * columns, columns)
    start = np.full((len(GROUND.depth_m), 1), 10.0)
    course = surface_course(GROUND, drive, start, 10.0, albedo=0.15, emissivity=0.93)
    assert np.max(np.abs(course.profile_c - 10.0)) < 1e-6


def test_a_shorter_step_changes_little() -> None:
    _, coarse = drive_before(FIGURES, moment(13.0), almanac=False)
    steps = np.arange(len(coarse.air_c))
    fine_at = np.arange(1, 5 * len(steps) + 1) / 5.0 - 1.0
    finer = {
        name: np.column_stack([np.interp(fine_at, steps, column) for column in getattr(coarse, name).T])
        for name in ("sun_w_m2", "sky_w_m2", "air_c", "wind_mps")
    }
    day = slice(-288, None)
    slow = follow(FIGURES, coarse).surface_c[day]
    quick = follow(FIGURES, Drive(60.0, **finer)).surface_c[4::5][day]
    assert np.max(np.abs(slow - quick)) < 0.1


def test_a_day_in_april_is_what_road_people_know() -> None:
    # Common practice: near the air at dawn, some kelvin above by 9, much above at noon, shade below.
    day = road_day(FIGURES, moment(14.0, cloud=0.0, air_c=16.0), almanac=False)
    above = {
        hour: np.interp(APRIL_15 + 3600.0 * hour, day.unix_s, day.open_c - day.air_c) for hour in (5, 9, 12)
    }
    assert -3.0 < above[5] < 1.0
    assert 3.0 < above[9] < 11.0
    assert 12.0 < above[12] < 22.0
    assert np.max(day.shaded_c[-108:] - day.air_c[-108:]) < 0.0


@given(
    low=st.floats(0.0, 1000.0), more=st.floats(0.0, 300.0), air_c=st.floats(-5.0, 40.0), wind=st.floats(0, 12)
)
@settings(max_examples=60)
def test_more_sun_is_never_colder(low: float, more: float, air_c: float, wind: float) -> None:
    course = constant([low, low + more], air_c, wind)
    assert np.all(course.surface_c[:, 1] >= course.surface_c[:, 0] - 1e-7)


@given(
    hour=st.floats(0.0, 24.0),
    latitude=st.floats(-60.0, 66.0),
    air_c=st.floats(-5.0, 35.0),
    cloud=st.floats(0, 1),
)
@settings(max_examples=25)
def test_shade_is_never_warmer_than_the_open(
    hour: float, latitude: float, air_c: float, cloud: float
) -> None:
    day = road_day(SHORT, moment(hour, latitude=latitude, air_c=air_c, cloud=cloud), almanac=False)
    assert np.all(day.shaded_c <= day.open_c + 1e-7)


@given(
    hour=st.floats(0.0, 24.0), air_c=st.floats(-5.0, 30.0), more=st.floats(0.0, 10.0), wind=st.floats(0, 12)
)
@settings(max_examples=25)
def test_warmer_air_is_never_colder(hour: float, air_c: float, more: float, wind: float) -> None:
    cool, warm = (
        road_day(SHORT, moment(hour, air_c=air, wind_mps=wind), almanac=False)
        for air in (air_c, air_c + more)
    )
    assert warm.open_c[-1] >= cool.open_c[-1] - 1e-7
    assert warm.shaded_c[-1] >= cool.shaded_c[-1] - 1e-7


@given(
    latitude=st.floats(-35.0, 55.0), hour=st.floats(10.0, 15.0), cloud=st.floats(0, 1), more=st.floats(0, 1)
)
@settings(max_examples=25)
def test_more_cloud_by_day_is_never_warmer(latitude: float, hour: float, cloud: float, more: float) -> None:
    # Thin cloud sends a little more long-wave than it takes sun: 0.3 K is allowed for that.
    clear, cloudy = (
        road_day(SHORT, moment(hour, latitude=latitude, cloud=n), almanac=False)
        for n in (cloud, cloud + more * (1.0 - cloud))
    )
    assert cloudy.open_c[-1] <= clear.open_c[-1] + 0.3


def test_the_air_passes_through_what_was_read() -> None:
    now = moment(9.0)
    unix_s, drive = drive_before(FIGURES, now, almanac=False)
    assert unix_s[-1] == now.unix_s
    assert drive.air_c[-1, 0] == pytest.approx(now.air_c)
    last_day = air_before_c(FIGURES, now, unix_s)[-288:]
    assert np.ptp(last_day) == pytest.approx(air_range_k(FIGURES, 50.0, now.unix_s, 0.3), rel=0.02)


def test_the_range_shrinks_with_cloud_and_winter() -> None:
    at = APRIL_15
    assert air_range_k(FIGURES, 50.0, at, 1.0) < air_range_k(FIGURES, 50.0, at, 0.0)
    assert air_range_k(FIGURES, 50.0, at - 100 * 86400.0, 0.0) < air_range_k(FIGURES, 50.0, at, 0.0)
    assert air_range_k(FIGURES, 89.0, at - 100 * 86400.0, 0.0) == pytest.approx(
        FIGURES.air_range_cloudy_k, abs=1e-9
    )


def test_almanac_and_closed_sun_give_the_same_road() -> None:
    roads = [road_day(FIGURES, moment(9.0), almanac=which).open_c[-1] for which in (True, False)]
    assert roads[0] == pytest.approx(roads[1], abs=0.5)
