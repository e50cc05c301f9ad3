"""Conduction in the tyre's kernel against exact solutions.

Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, and Incropera, table 5.1 (both from
memory); figures computed from the solutions, apart from this code. Ribs are conducted between as
layers are, and there may be any number: here a slab is laid along the ribs, heat and road at its edge.
"""

from __future__ import annotations

from math import erfc, exp, pi, sqrt, tan

import numpy as np
import pytest
from scipy.optimize import brentq

from leanladder.engine.tyre_thermal import (
    FLOW_COUNT,
    LAYER_SKIN,
    LAYERS,
    OUTER_LAYERS,
    Body,
    Forcing,
    Shares,
    heat_ride,
)

QUIET = Shares(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
K = 0.25  # W/mK
ALPHA = 1e-7  # m2/s
STORED = K / ALPHA  # J/m3K
EDGE_M = -1.0  # past the left edge: all load on rib 0
THROUGH = 1e12  # as good as no resistance between a face and its node


def slab(depth_m: float, cells: int) -> Body:
    """A bar of 1 m2 section along the skin's ribs; the other layers are cut off from it."""
    cell_m = depth_m / cells
    heat = np.full(LAYERS * cells + 4, STORED * cell_m)
    nothing, across = np.zeros(LAYERS), np.zeros(LAYERS)
    across[LAYER_SKIN] = K / cell_m
    return Body(
        ribs=cells,
        rib_m=0.01,
        half_arc_m=0.005 * cells,
        patch_half_m=0.001,
        flex_half_m=0.001,
        surface_w_k=THROUGH,
        layer_w_k=nothing[1:],
        liner_w_m2k=THROUGH,
        across_w_k=across,
        wall_w_k=0.0,
        bead_w_k=0.0,
        heat_j_k=heat,
        rib_m2=1.0,
        wall_m2=0.0,
        rim_m2=0.0,
        depth_share=nothing,
        outer_share=np.zeros(OUTER_LAYERS),
    )


def forcing(steps: int, dt_s: float, **given: np.ndarray | float) -> Forcing:
    values = {name: np.zeros(steps) for name in Forcing._fields}
    values["dt_s"] += dt_s
    values["contact_m"] += EDGE_M
    for name, value in given.items():
        values[name] = values[name] + value
    return Forcing(**values)


def run(body: Body, start_c: float, duration_s: float, **given: float) -> np.ndarray:
    """The bar's temperatures [degC] (cells,), rib 0 at the surface, after duration_s [s]."""
    cell_m = body.heat_j_k[0] / STORED
    steps = int(np.ceil(duration_s / (0.2 * cell_m**2 / ALPHA)))
    state = np.full(body.heat_j_k.size, start_c)
    heat_ride(
        state, body, QUIET, forcing(steps, duration_s / steps, **given),
        np.zeros(0, dtype=np.int64), np.zeros(FLOW_COUNT), np.zeros(body.ribs),
    )  # fmt: skip
    return state[: body.ribs]


def through(body: Body, coefficient_w_m2k: float) -> float:
    """The conductance [W/K] to rib 0's middle that makes its outer face's coefficient right."""
    cell_m = float(body.heat_j_k[0]) / STORED
    return 1.0 / (1.0 / coefficient_w_m2k + 0.5 * cell_m / K)


def middles_m(body: Body) -> np.ndarray:
    cell_m = float(body.heat_j_k[0]) / STORED
    return np.asarray(cell_m * (np.arange(body.ribs) + 0.5))


@pytest.mark.parametrize(("depth_m", "time_s", "left"), [(1e-3, 10.0, 0.520500), (3e-3, 60.0, 0.613524)])
def test_semi_infinite_step(depth_m: float, time_s: float, left: float) -> None:
    body = slab(12e-3, 96)
    found = run(body, 1.0, time_s, road_w_k=through(body, 1e9))
    assert np.interp(depth_m, middles_m(body), found) == pytest.approx(left, abs=1e-3)


def test_semi_infinite_constant_flux() -> None:
    # 2 q sqrt(alpha t/pi)/k: q = 1e4 W/m2, 5 s: 31.915 K at the surface.
    body = slab(6e-3, 120)
    found = run(body, 0.0, 5.0, skin_w=1e4)
    surface = found[0] + 1e4 * 0.5 * (6e-3 / 120) / K
    assert surface == pytest.approx(31.915, rel=2e-3)


def test_semi_infinite_convection() -> None:
    # 1 - exp(B^2) erfc(B), B = h sqrt(alpha t)/k = 0.489898 for h = 50 W/m2K, 60 s: 0.379094.
    root = 50.0 * sqrt(ALPHA * 60.0) / K
    assert root == pytest.approx(0.489898, abs=1e-6)
    assert 1.0 - exp(root**2) * erfc(root) == pytest.approx(0.379094, abs=1e-6)
    body = slab(20e-3, 100)
    found = run(body, 0.0, 60.0, road_w_k=through(body, 50.0), road_c=1.0)
    first_flux = through(body, 50.0) * (1.0 - found[0])
    assert 1.0 - first_flux / 50.0 == pytest.approx(0.379094, rel=3e-3)


SLAB = [
    (1.0, 0.2, 0.95064, 0.64339),
    (1.0, 0.5, 0.77253, 0.50452),
    (1.0, 1.0, 0.53386, 0.34818),
    (1.0, 2.0, 0.25467, 0.16609),
    (0.1, 1.0, 0.92239, 0.87813),
    (10.0, 0.5, 0.45464, 0.06433),
]


@pytest.mark.parametrize(("biot", "fourier", "centre", "surface"), SLAB)
def test_slab_that_cools_from_one_face(biot: float, fourier: float, centre: float, surface: float) -> None:
    # Half-thickness 5 mm, the middle insulated by symmetry; full series.
    half_m = 5e-3
    body = slab(half_m, 80)
    film = biot * K / half_m
    found = run(body, 1.0, fourier * half_m**2 / ALPHA, road_w_k=through(body, film))
    assert found[-1] == pytest.approx(centre, abs=5e-4)
    assert through(body, film) * found[0] / film == pytest.approx(surface, abs=5e-4)


@pytest.mark.parametrize(("biot", "root"), [(0.1, 0.3111), (1.0, 0.8603), (10.0, 1.4289)])
def test_late_decay_of_a_slab(biot: float, root: float) -> None:
    # zeta tan zeta = Bi; late, everything falls as exp(-zeta^2 Fo).
    assert brentq(lambda z: z * tan(z) - biot, 1e-6, pi / 2 - 1e-9) == pytest.approx(root, abs=5e-5)
    half_m = 5e-3
    body = slab(half_m, 50)
    film = through(body, biot * K / half_m)
    once = run(body, 1.0, 1.0 * half_m**2 / ALPHA, road_w_k=film)
    later = run(body, 1.0, 1.5 * half_m**2 / ALPHA, road_w_k=film)
    assert np.log(once[-1] / later[-1]) / 0.5 == pytest.approx(root**2, rel=2e-3)


def test_periodic_surface() -> None:
    # Amplitude exp(-x/d), d = sqrt(alpha P/pi) = 1.382 mm for P = 60 s.
    depth_m = sqrt(ALPHA * 60.0 / pi)
    assert depth_m == pytest.approx(1.382e-3, abs=5e-7)
    body = slab(12e-3, 96)
    steps = 9000
    wave = forcing(steps, 0.04, road_w_k=through(body, 1e9))
    wave.road_c[:] = np.sin(2.0 * pi * 0.04 * (np.arange(steps) + 0.5) / 60.0)
    state = np.zeros(body.heat_j_k.size)
    last = np.arange(7500, 9000, 10)
    kept = heat_ride(state, body, QUIET, wave, last, np.zeros(FLOW_COUNT), np.zeros(body.ribs))
    swing = np.ptp(kept[:, : body.ribs], axis=0) / 2.0
    found = np.interp([depth_m, 2.0 * depth_m], middles_m(body), swing)
    assert found == pytest.approx(np.exp([-1.0, -2.0]), rel=0.01)


def test_wall_heated_on_one_face() -> None:
    # q 5000 W/m2, L 6 mm, late: surface 40.0 K over the mean, back 20.0 K under it, 0.3333 K/s.
    body = slab(6e-3, 60)
    found = run(body, 0.0, 1500.0, skin_w=5000.0)
    earlier = run(body, 0.0, 1470.0, skin_w=5000.0)
    cell_m = 6e-3 / 60
    surface = found[0] + 5000.0 * 0.5 * cell_m / K
    assert surface - found.mean() == pytest.approx(40.0, abs=0.02)
    assert found[-1] - found.mean() == pytest.approx(-20.0, abs=0.02)
    assert (found - earlier) / 30.0 == pytest.approx(1.0 / 3.0, rel=1e-5)


def test_uniform_heat_with_an_insulated_back() -> None:
    # g 1e5 W/m3, L 6 mm, h 60 W/m2K: surface 10.0 K over the air, back 7.2 K over the surface.
    body = slab(6e-3, 30)
    film = through(body, 60.0)
    found = run(body, 0.0, 6000.0, sun_w_m2=1e5 * 6e-3 / 30, road_w_k=film)
    surface = film * found[0] / 60.0
    assert surface == pytest.approx(10.0, rel=1e-4)
    assert found[-1] - surface == pytest.approx(7.2, abs=0.01)
