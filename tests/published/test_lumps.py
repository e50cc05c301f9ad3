"""The tyre's nodes as plain lumps against exact solutions.

Newton's cooling and resistances in series (Incropera, from memory); figures computed from the solutions.
"""

from __future__ import annotations

from itertools import pairwise
from math import exp

import numpy as np
import pytest

from leanladder.engine.constants import STEFAN_BOLTZMANN
from leanladder.engine.tyre_thermal import (
    BASE_LAYERS,
    CARCASS_LAYERS,
    FLOW_COUNT,
    FLOWS,
    LAYER_CARCASS,
    LAYER_SKIN,
    LAYERS,
    OUTER_LAYERS,
    Body,
    Forcing,
    Shares,
    heat_ride,
    layers_c,
)

RIBS = 3
THROUGH = 1e12  # as good as no resistance between a face and its node
QUIET = Shares(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0)
NOTHING = Body(
    RIBS, 0.04, 0.06, 0.02, 0.05, THROUGH, np.zeros(LAYERS - 1), THROUGH, np.zeros(LAYERS), 0.0, 0.0,
    np.full(LAYERS * RIBS + 4, 1e3), 1.0, 0.0, 0.0, np.array([0.1, 0.2, 0.3, 0.2, 0.2, 0.0, 0.0]),
    np.array([0.15, 0.3, 0.55]),
)  # fmt: skip
RIM, GAS = LAYERS * RIBS + 2, LAYERS * RIBS + 3


def layered(heat_j_k: tuple[float, ...], layer_w_k: tuple[float, ...]) -> Body:
    """Three like ribs of 1 m2, each a column of lumps; what is not given is cut off from them."""
    rest = LAYERS - len(heat_j_k)
    heat = np.concatenate([np.repeat([*heat_j_k, *[1e3] * rest], RIBS), np.full(4, 1e3)])
    return NOTHING._replace(heat_j_k=heat, layer_w_k=np.array([*layer_w_k, *[0.0] * rest]))


def column(tread_m: float, carcass_m: float, stored: float, k: float) -> Body:
    """Three like ribs of 1 m2, each a column of rubber cut as the tyre is."""
    base_m = (tread_m - 2e-3) / BASE_LAYERS
    inside = [base_m] * BASE_LAYERS + [carcass_m / CARCASS_LAYERS] * CARCASS_LAYERS
    depths = np.array([0.3e-3, 0.6e-3, 1.1e-3, *inside])
    return layered(tuple(stored * depths), tuple(k / (0.5 * (depths[:-1] + depths[1:]))))._replace(
        surface_w_k=k / (0.5 * depths[0]),
        depth_share=np.append(depths[:LAYER_CARCASS] / tread_m, np.zeros(CARCASS_LAYERS)),
    )


def forcing(steps: int, dt_s: float, **given: float) -> Forcing:
    values = {name: np.zeros(steps) for name in Forcing._fields}
    values["dt_s"] += dt_s
    for name, value in given.items():
        values[name] += value
    return Forcing(**values)


def run(
    body: Body, state: np.ndarray, shares: Shares, duration_s: float, dt_s: float, **given: float
) -> tuple[np.ndarray, dict[str, float]]:
    state, heat_j = state.copy(), np.zeros(FLOW_COUNT)
    made = forcing(round(duration_s / dt_s), dt_s, **given)
    heat_ride(state, body, shares, made, np.zeros(0, dtype=np.int64), heat_j, np.zeros(RIBS))
    return state, dict(zip(FLOWS, heat_j, strict=True))


@pytest.mark.parametrize(("time_s", "left"), [(60.0, 0.81873), (300.0, 0.36788), (600.0, 0.13534)])
def test_skin_alone_cools_in_air(time_s: float, left: float) -> None:
    # exp(-t/tau), tau = C/(hA) = 300 s.
    body = layered((15_000.0,), ())
    state, _ = run(body, np.full(GAS + 1, 1.0), QUIET, time_s, 0.5, air_w_m2k=50.0)
    assert state[:RIBS] == pytest.approx(left, abs=5e-6)


@pytest.mark.parametrize(("time_s", "left"), [(60.0, 0.81873), (300.0, 0.36788), (600.0, 0.13534)])
def test_layers_that_conduct_well_cool_as_one(time_s: float, left: float) -> None:
    # Biot number 0.001: one lump to a part in a thousand.
    body = layered((600.0, 1200.0, 2200.0, 2500.0, 2500.0, 3000.0, 3000.0), (1e5,) * 6)
    state, _ = run(body, np.full(GAS + 1, 1.0), QUIET, time_s, 0.004, air_w_m2k=50.0)
    assert state[:RIBS] == pytest.approx(left, rel=2e-3)


def test_the_gas_follows_its_liner() -> None:
    # tau = 52/(10 x 0.7) = 7.4 s beside walls that do not move.
    heat = np.full(GAS + 1, 1e12)
    heat[GAS] = 52.0
    body = NOTHING._replace(heat_j_k=heat, rib_m2=0.1, wall_m2=0.1, rim_m2=0.2)
    state = np.full(GAS + 1, 60.0)
    state[GAS] = 20.0
    after, _ = run(body, state, QUIET._replace(gas_w_m2k=10.0), 15.0, 0.01)
    assert (60.0 - after[GAS]) / 40.0 == pytest.approx(exp(-15.0 / (52.0 / 7.0)), rel=1e-5)


LAPS = [19.18, 28.06, 32.17, 34.07, 34.95, 35.36]


def test_a_lumped_tyre_over_six_laps() -> None:
    # C 1e4 J/K, G 70 W/K, 2500 W, laps of 110 s.
    body = layered((1e4 / 3,), ())._replace(rib_m2=1.0)
    state = np.zeros(GAS + 1)
    for rise in LAPS:
        state, _ = run(body, state, QUIET, 110.0, 0.5, air_w_m2k=70.0 / 3, sun_w_m2=2500.0 / 3)
        assert state[:RIBS] == pytest.approx(rise, abs=6e-3)


TWO = [(100.0, 38.508, 53.994), (300.0, 28.158, 40.135), (1000.0, 9.907, 14.122)]


@pytest.mark.parametrize(("time_s", "skin_k", "core_k"), TWO)
def test_two_lumps(time_s: float, skin_k: float, core_k: float) -> None:
    # C 2000 and 8000 J/K, 40 W/K between, 20 W/K to the air: 29.844 s and 670.156 s.
    body = layered((2000.0, 8000.0), (40.0,))
    state, _ = run(body, np.full(GAS + 1, 60.0), QUIET, time_s, 0.1, air_w_m2k=20.0)
    assert state[:RIBS] == pytest.approx(skin_k, abs=6e-4)
    assert state[RIBS : 2 * RIBS] == pytest.approx(core_k, abs=6e-4)


def test_layers_in_series() -> None:
    # 0.002/0.25 + 0.006/0.25 + 1/15 = 0.0986667 m2K/W: 10.1351 W/m2K.
    body = layered((50.0, 50.0, 50.0, 1e15), (0.25 / 0.002, 0.25 / 0.006, 1e3))
    warm = np.full(GAS + 1, 1.0)
    settled, _ = run(body, warm, QUIET, 400.0, 0.01, air_w_m2k=15.0)
    _, flows = run(body, settled, QUIET, 1.0, 0.01, air_w_m2k=15.0)
    # the base layer's own 1000 W/K stands in the same series
    own = 1.0 / (1.0 / 10.1351 + 1e-3)
    assert flows["tread_air"] / RIBS == pytest.approx(own, rel=1e-5)


@pytest.mark.parametrize(("mean_k", "coefficient"), [(300.0, 5.82), (320.0, 7.06), (340.0, 8.47)])
def test_radiation(mean_k: float, coefficient: float) -> None:
    # 4 eps sigma Tm^3, eps 0.95; a kelvin apart it is the law itself.
    black = QUIET._replace(emissivity=0.95)
    air_c = mean_k - 273.15 - 0.5
    _, flows = run(NOTHING, np.full(GAS + 1, air_c + 1.0), black, 0.001, 0.001, tread_air_c=air_c)
    assert flows["tread_radiation"] / RIBS / 0.001 == pytest.approx(coefficient, abs=6e-3)


@pytest.mark.parametrize(
    ("surface_c", "air_c", "coefficient"), [(50.0, 20.0, 6.32), (70.0, 20.0, 6.98), (90.0, 20.0, 7.70)]
)
def test_radiation_of_a_standing_tyre(surface_c: float, air_c: float, coefficient: float) -> None:
    black = QUIET._replace(emissivity=0.95)
    _, flows = run(
        NOTHING, np.full(GAS + 1, surface_c), black, 0.001, 0.001, tread_air_c=air_c, wall_air_c=air_c
    )
    drop = surface_c - air_c
    assert flows["tread_radiation"] / RIBS / 0.001 / drop == pytest.approx(coefficient, abs=6e-3)
    # the fourth-power law itself
    both_k = np.array([surface_c, air_c]) + 273.15
    exact = 0.95 * STEFAN_BOLTZMANN * (both_k[0] ** 4 - both_k[1] ** 4)
    assert flows["tread_radiation"] / RIBS / 0.001 == pytest.approx(exact, rel=1e-4)


@pytest.mark.parametrize(("carcass_c", "more"), [(25.0, 1.0), (10.0, 1.1364), (0.0, 1.25)])
def test_a_cold_carcass_rolls_harder(carcass_c: float, more: float) -> None:
    # ISO 28580: Fr25 = Fr (1 + 0.008 (T - 25)), read (from memory) of the air, here of the carcass. The
    # engine's exponential of the same slope stays positive at any temperature; 2.5 % apart at 0 degC.
    shares = QUIET._replace(rolling_ref_c=25.0, rolling_per_k=0.008)
    _, flows = run(NOTHING, np.full(GAS + 1, carcass_c), shares, 0.001, 0.001, rolling_w=1000.0)
    assert flows["rolling"] == pytest.approx(more, rel=0.025)


def test_a_column_against_a_slab() -> None:
    """Uniform heat in 4.8 mm of tread over a carcass that makes none, insulated inside, h = 60."""
    tread_m, carcass_m, k, made, film = 4.8e-3, 3e-3, 0.25, 1e5, 60.0
    body = column(tread_m, carcass_m, 2e6, k)._replace(rib_m=0.04, patch_half_m=0.001)
    given = {"contact_m": -1.0, "bulk_w": made * tread_m, "air_w_m2k": film}
    state, _ = run(body, np.zeros(GAS + 1), QUIET, 6000.0, 0.1, **given)
    layers = layers_c(state, RIBS)[:, 0]
    surface = made * tread_m / film  # g L/h, exact whatever the layers
    skin_mean = made / k * (tread_m * 0.15e-3 - 0.3e-3**2 / 6.0)  # of the parabola g (L z - z2/2) / k
    assert layers[LAYER_SKIN] - surface == pytest.approx(skin_mean, abs=0.01)
    # the parabola's rise to the tread's base is the carcass's, throughout
    assert layers[LAYER_CARCASS:] - surface == pytest.approx(made * tread_m**2 / (2.0 * k), rel=0.02)


DISCRETE = [
    (3.0, 0.05, 0.02),
    (10.0, 0.04, 0.02),
    (30.0, 0.03, 0.02),
    (120.0, 0.02, 0.02),
    (300.0, 0.01, 0.02),
]


@pytest.mark.parametrize(("time_s", "outer", "inner"), DISCRETE)
def test_step_into_the_layers(time_s: float, outer: float, inner: float) -> None:
    """Surface held at 0 over rubber at 1, the inner face insulated: layers' means against the exact slab.

    outer and inner are what the layers may cost after a sudden step (Carslaw and Jaeger's series) within
    the outer 2 mm and below.
    """
    stored, k = 2.5e6, 0.25
    body = column(4.8e-3, 3e-3, stored, k)._replace(rib_m=0.04, patch_half_m=0.001)
    state, _ = run(body, np.ones(GAS + 1), QUIET, time_s, 0.05, contact_m=-1.0, road_w_k=1e9)
    edges = np.cumsum([0.0, *body.heat_j_k[: LAYERS * RIBS : RIBS] / stored])
    exact = [slab_mean(low, high, 7.8e-3, time_s, k / stored) for low, high in pairwise(edges)]
    layers = layers_c(state, RIBS)[:, 0]
    assert layers[:OUTER_LAYERS] == pytest.approx(exact[:OUTER_LAYERS], abs=outer)
    assert layers[OUTER_LAYERS:] == pytest.approx(exact[OUTER_LAYERS:], abs=inner)


def slab_mean(low: float, high: float, depth: float, time_s: float, alpha: float) -> float:
    """Mean over low..high of a slab at 1, face at 0 held at 0, back at depth insulated."""
    number = (np.arange(400) + 0.5) * np.pi
    shape = (np.cos(number * low / depth) - np.cos(number * high / depth)) * depth / (number * (high - low))
    return float(np.sum(2.0 / number * np.exp(-(number**2) * alpha * time_s / depth**2) * shape))
