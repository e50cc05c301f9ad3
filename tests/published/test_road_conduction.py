"""The ground below the road against exact solutions.

Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959 (from memory). A huge film
coefficient holds the surface at the air's temperature; emissivity 0 and no film give pure flux.
"""

from __future__ import annotations

from math import erf, exp, pi, sqrt

import numpy as np
import pytest

from leanladder.engine.road import Course, Drive, Film, Ground, Layer, grounded, surface_course

RUBBERLIKE = Layer(0.05, 0.25, 2.5e6)  # diffusivity 1e-7 m2/s
ASPHALT = Layer(2.5, 2.0, 2.0e6)  # diffusivity 1e-6 m2/s


def held(surface_c: np.ndarray, air_c: np.ndarray, wind_mps: np.ndarray) -> np.ndarray:
    return np.full_like(surface_c + air_c, 1e7)


def still(surface_c: np.ndarray, air_c: np.ndarray, wind_mps: np.ndarray) -> np.ndarray:
    return np.zeros_like(surface_c + air_c)


def drive(step_s: float, sun: np.ndarray, air: np.ndarray) -> Drive:
    nothing = np.zeros((len(air), 1))
    return Drive(step_s, sun[:, None], nothing, air[:, None], nothing)


def run(layer: Layer, step_s: float, sun: np.ndarray, air: np.ndarray, film: Film) -> tuple[Ground, Course]:
    ground = grounded([layer], finest_m=1e-4, growth=1.08)
    start = np.zeros((len(ground.depth_m), 1))
    acting = drive(step_s, sun, air)
    course = surface_course(ground, acting, start, [0.0], albedo=0.0, emissivity=0.0, film=film)
    return ground, course


@pytest.mark.parametrize(("depth_m", "time_s", "left"), [(1e-3, 10.0, 0.520500), (3e-3, 60.0, 0.613524)])
def test_semi_infinite_step(depth_m: float, time_s: float, left: float) -> None:
    steps = 1000
    ground, course = run(RUBBERLIKE, time_s / steps, np.zeros(steps), np.ones(steps), held)
    assert left == pytest.approx(erf(depth_m / (2 * sqrt(1e-7 * time_s))), abs=1e-6)
    found = 1.0 - np.interp(depth_m, ground.depth_m, course.profile_c[:, 0])
    assert found == pytest.approx(left, abs=1.5e-3)


def test_semi_infinite_constant_flux() -> None:
    # dT = 2 q sqrt(alpha t / pi) / k = 31.915 K for q = 1e4 W/m2, 5 s, k = 0.25.
    steps = 1000
    _, course = run(RUBBERLIKE, 5.0 / steps, np.full(steps, 1e4), np.zeros(steps), still)
    assert course.surface_c[-1, 0] == pytest.approx(31.915, rel=3e-3)


def test_plane_wall_of_one_sided_flux() -> None:
    # Late: surface - mean = qL/3k = 40 K, back - mean = -20 K, rate q/(rho c L) = 0.3333 K/s.
    ground = grounded([Layer(6e-3, 0.25, 2.5e6)], finest_m=1e-4, growth=1.02, insulated=True)
    steps = 2000
    acting = drive(1.0, np.full(steps, 5000.0), np.zeros(steps))
    start = np.zeros((len(ground.depth_m), 1))
    course = surface_course(ground, acting, start, [0.0], albedo=0.0, emissivity=0.0, film=still)
    mean = np.sum(ground.capacity_j_m2k * course.profile_c[:, 0]) / np.sum(ground.capacity_j_m2k)
    assert course.profile_c[0, 0] - mean == pytest.approx(40.0, rel=2e-3)
    assert course.profile_c[-1, 0] - mean == pytest.approx(-20.0, rel=2e-3)
    assert course.surface_c[-1, 0] - course.surface_c[-2, 0] == pytest.approx(1 / 3, rel=1e-6)


def test_periodic_day() -> None:
    # Amplitude exp(-x/d), lag x/d, d = sqrt(alpha P / pi) = 165.8 mm for a day at 1e-6 m2/s.
    reach = sqrt(1e-6 * 86400.0 / pi)
    assert reach == pytest.approx(0.1658, abs=1e-4)
    ground = grounded([ASPHALT])
    profile = np.zeros((len(ground.depth_m), 1))
    hours, seen = np.arange(1, 8 * 24 + 1), []
    for hour in hours:
        times = 3600.0 * (hour - 1) + 300.0 * np.arange(1, 13)
        air = np.sin(2 * pi * times / 86400.0)
        course = surface_course(
            ground, drive(300.0, 0 * air, air), profile, [0.0], albedo=0.0, emissivity=0.0, film=held
        )
        profile = course.profile_c
        seen.append(np.interp([reach, 2 * reach], ground.depth_m, profile[:, 0]))
    last = np.array(seen)[-24:]
    angle = 2 * pi * hours[-24:] / 24.0
    for i, depths in enumerate((1.0, 2.0)):
        wave = np.array([np.sum(last[:, i] * np.sin(angle)), np.sum(last[:, i] * np.cos(angle))]) / 12.0
        assert np.hypot(*wave) == pytest.approx(exp(-depths), abs=0.012)
        assert -np.arctan2(wave[1], wave[0]) == pytest.approx(depths, abs=0.06)


def test_a_coarser_grid_misses_the_step() -> None:
    # The mutant: three nodes cannot follow a step at 1 mm, so the bound above can fail.
    ground = grounded([RUBBERLIKE], finest_m=0.015, growth=1.0)
    start = np.zeros((len(ground.depth_m), 1))
    acting = drive(0.01, np.zeros(1000), np.ones(1000))
    course = surface_course(ground, acting, start, [0.0], albedo=0.0, emissivity=0.0, film=held)
    assert abs(1.0 - np.interp(1e-3, ground.depth_m, course.profile_c[:, 0]) - 0.5205) > 0.05
