"""The finer model of the tyre's section against exact solutions, before it judges anything.

Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959 (from memory); figures computed from the
solutions, apart from this code.
"""

from __future__ import annotations

from math import erfc, exp, pi, sqrt

import numpy as np
import pytest
from tests.finer.riding import QUIET
from tests.finer.section import Grid, Section, Sizes
from tests.finer.wheel import LEFT_WALL, RIGHT_WALL, Load, Losses, Lumps, State, Wheel

K, ALPHA = 0.25, 1e-7
GRID = Grid(across=9)
LUMPS = Lumps(np.array([800.0, 800.0, 4000.0, 50.0]), 0.1, 0.3, 0.03, 3.0)


def wheel(depth_m: float, grid: Grid = GRID) -> Wheel:
    sizes = Sizes(0.06, 0.0045, depth_m - 0.0045, 2.0, K, K / ALPHA)
    far = Lumps(LUMPS.heat_j_k, 0.1, 0.3, 1e9, 0.0)  # walls too far away to take anything
    return Wheel(Section(sizes, grid), far, Losses(0.6, 0.25, 45.0, 0.0, 0.02, 0.06))


def after(tyre: Wheel, load: Load, span_s: float, steps: int, begin_c: float = 0.0) -> State:
    state = tyre.even(begin_c)
    for _ in range(steps):
        state = tyre.step(state, load, span_s / steps)
    return state


def at_surface(tyre: Wheel, state: State) -> float:
    top = tyre.section.surface
    return float(top.weight @ (top.values @ state.field) / top.weight.sum())


def test_a_steady_flux_into_thick_rubber() -> None:
    flux, span_s = 1e4, 5.0
    tyre = wheel(0.02, Grid(across=9, halvings=1))
    found = at_surface(tyre, after(tyre, QUIET._replace(sun_w_m2=flux), span_s, 100))
    exact = 2.0 * flux * sqrt(ALPHA * span_s / pi) / K
    assert exact == pytest.approx(31.915, abs=5e-4)
    assert found == pytest.approx(exact, rel=1.5e-3)


def test_air_over_thick_rubber() -> None:
    h, span_s = 50.0, 60.0
    tyre = wheel(0.02)
    found = at_surface(tyre, after(tyre, QUIET._replace(tread_w_m2k=h, air_c=1.0), span_s, 240))
    b = h * sqrt(ALPHA * span_s) / K
    assert found == pytest.approx(1.0 - exp(b * b) * erfc(b), rel=3e-3)


def test_a_plate_heated_from_one_side() -> None:
    """After a while: surface above the mean by qL/3k, back below it by qL/6k."""
    flux, depth_m, span_s = 5000.0, 0.006, 1500.0
    tyre = wheel(depth_m)
    state = after(tyre, QUIET._replace(sun_w_m2=flux), span_s, 500)
    mean = flux * span_s / (K / ALPHA * depth_m)
    back = tyre.section.liner
    assert at_surface(tyre, state) - mean == pytest.approx(flux * depth_m / (3.0 * K), rel=2e-3)
    below = float(back.weight @ (back.values @ state.field) / back.weight.sum()) - mean
    assert below == pytest.approx(-flux * depth_m / (6.0 * K), rel=2e-2)


@pytest.mark.parametrize("contact_m", [0.0, 0.03, -0.055, 0.075])
def test_all_heat_reaches_the_tyre_wherever_it_bears(contact_m: float) -> None:
    sizes = Sizes(0.06, 0.0045, 0.0025, 2.0, K, K / ALPHA)
    losses = Losses(0.6, 0.25, 45.0, 0.0, 0.02, 0.06)
    tyre = Wheel(Section(sizes, GRID), LUMPS, losses)
    load = QUIET._replace(contact_m=contact_m, skin_w=300.0, bulk_w=200.0, flex_w=500.0, brake_w=40.0)
    state = after(tyre, load, 10.0, 20)
    stored = float((tyre.section.heat @ state.field).sum()) + float(LUMPS.heat_j_k @ state.lumps)
    assert stored == pytest.approx(10.0 * (300.0 + 200.0 + 500.0 + 40.0), rel=1e-6)


def test_what_leaves_one_part_enters_another() -> None:
    tyre = Wheel(
        Section(Sizes(0.06, 0.0045, 0.0025, 2.0, K, K / ALPHA), GRID),
        LUMPS,
        Losses(0.6, 0.25, 45.0, 0.0, 0.02, 0.06),
    )
    begin = State(np.full(tyre.section.nodes, 80.0), np.array([10.0, 20.0, 40.0, 60.0]))
    state, load = begin, QUIET._replace(gas_w_m2k=20.0)
    for _ in range(200):
        state = tyre.step(state, load, 0.5)
    held = [
        float((tyre.section.heat @ each.field).sum()) + float(LUMPS.heat_j_k @ each.lumps)
        for each in (begin, state)
    ]
    assert held[1] == pytest.approx(held[0], rel=1e-6)
    assert state.lumps[LEFT_WALL] < state.lumps[RIGHT_WALL]


def test_halved_elements_and_steps_come_nearer() -> None:
    """The load's kinks fall between elements, so that the order shows only on the whole."""
    load = QUIET._replace(
        contact_m=0.01, skin_w=2000.0, flex_w=500.0, road_w_k=30.0, tread_w_m2k=60.0, gas_w_m2k=20.0
    )

    def read(halvings: int) -> np.ndarray:
        tyre = wheel(0.007, Grid(halvings=halvings))
        state = after(tyre, load, 4.0, 10 * 2**halvings)
        return np.asarray(tyre.section.reading @ state.field)

    coarse, middle, fine = (read(halvings) for halvings in range(3))
    assert np.abs(middle - fine).max() < 0.5 * np.abs(coarse - fine).max()
    assert np.abs(coarse - fine).max() < 0.003 * np.abs(fine).max()
