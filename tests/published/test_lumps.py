"""The tyre's nodes as plain lumps against exact solutions.

Newton's cooling and resistances in series (Incropera, from memory); figures computed from the solutions.
"""

from __future__ import annotations

from itertools import pairwise
from math import exp

import numpy as np
import pytest

from leanladder.engine.constants import STEFAN_BOLTZMANN
from leanladder.engine.tyre_thermal import FLOW_COUNT, FLOWS, LAYERS, Body, Forcing, Shares, heat_ride

RIBS = 3
QUIET = Shares(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0)
NOTHING = Body(
    RIBS, 0.04, 0.06, 0.02, 0.05, np.zeros(3), np.zeros(4), 0.0, 0.0,
    np.full(LAYERS * RIBS + 4, 1e3), 1.0, 0.0, 0.0, np.array([0.2, 0.4, 0.4, 0.0]),
)  # fmt: skip
RIM, GAS = LAYERS * RIBS + 2, LAYERS * RIBS + 3


def layered(heat_j_k: tuple[float, ...], layer_w_k: tuple[float, ...]) -> Body:
    """Three like ribs of 1 m2, each a column of four lumps."""
    heat = np.concatenate([np.repeat(heat_j_k, RIBS), np.full(4, 1e3)])
    return NOTHING._replace(heat_j_k=heat, layer_w_k=np.array(layer_w_k))


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
    body = layered((15_000.0, 1e3, 1e3, 1e3), (0.0, 0.0, 0.0))
    state, _ = run(body, np.full(GAS + 1, 1.0), QUIET, time_s, 0.5, air_w_m2k=50.0)
    assert state[:RIBS] == pytest.approx(left, abs=5e-6)


@pytest.mark.parametrize(("time_s", "left"), [(60.0, 0.81873), (300.0, 0.36788), (600.0, 0.13534)])
def test_four_layers_that_conduct_well_cool_as_one(time_s: float, left: float) -> None:
    # Biot number 0.001: one lump to a part in a thousand.
    body = layered((600.0, 3400.0, 5000.0, 6000.0), (1e5, 1e5, 1e5))
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
    body = layered((1e4 / 3, 1e3, 1e3, 1e3), (0.0, 0.0, 0.0))._replace(rib_m2=1.0)
    state = np.zeros(GAS + 1)
    for rise in LAPS:
        state, _ = run(body, state, QUIET, 110.0, 0.5, air_w_m2k=70.0 / 3, sun_w_m2=2500.0 / 3)
        assert state[:RIBS] == pytest.approx(rise, abs=6e-3)


TWO = [(100.0, 38.508, 53.994), (300.0, 28.158, 40.135), (1000.0, 9.907, 14.122)]


@pytest.mark.parametrize(("time_s", "skin_k", "core_k"), TWO)
def test_two_lumps(time_s: float, skin_k: float, core_k: float) -> None:
    # C 2000 and 8000 J/K, 40 W/K between, 20 W/K to the air: 29.844 s and 670.156 s.
    body = layered((2000.0, 8000.0, 1e3, 1e3), (40.0, 0.0, 0.0))
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


def test_columns_of_four_layers_against_a_slab() -> None:
    """Uniform heat in 7.8 mm of rubber, insulated inside, h = 60: coarse layers, small error."""
    depths = np.array([0.3e-3, 1.7e-3, 2.8e-3, 3.0e-3])
    stored, k, made, film = 2.0e6, 0.25, 1e5, 60.0
    layer_w_k = k / (0.5 * (depths[:-1] + depths[1:]))
    # heat made goes to the tread alone: the carcass below is a part that makes none
    body = layered(tuple(stored * depths), tuple(layer_w_k))._replace(
        depth_share=np.append(depths[:3] / depths[:3].sum(), 0.0), rib_m=0.04, patch_half_m=0.02
    )
    tread_m = depths[:3].sum()
    given = {"contact_m": -1.0, "bulk_w": made * tread_m, "air_w_m2k": film}
    state, _ = run(body, np.zeros(GAS + 1), QUIET, 6000.0, 0.1, **given)
    surface = made * tread_m / film  # g L/h, exact whatever the layers
    assert state[0] == pytest.approx(surface, rel=2e-3)
    back = state[3 * RIBS] - state[0]
    assert back == pytest.approx(made * tread_m**2 / (2.0 * k), rel=0.10)


DISCRETE = [(10.0, 0.12), (30.0, 0.05), (60.0, 0.05), (120.0, 0.03), (300.0, 0.03)]


@pytest.mark.parametrize(("time_s", "error"), DISCRETE)
def test_step_into_four_layers(time_s: float, error: float) -> None:
    """Skin held at 0 over rubber at 1, the inner face insulated: every layer's mean against the exact slab.

    error is what four layers may cost after a sudden step (Carslaw and Jaeger's series): a tenth of
    the step in the outer 2 mm at first, a twentieth from half a minute on.
    """
    depths = np.array([0.3e-3, 1.7e-3, 2.8e-3, 3.0e-3])
    stored, k = 2.5e6, 0.25
    heat = stored * depths
    heat[0] = 1e15
    body = layered(tuple(heat), tuple(k / (0.5 * (depths[:-1] + depths[1:]))))
    warm = np.ones(GAS + 1)
    warm[:RIBS] = 0.0
    state, _ = run(body, warm, QUIET, time_s, 0.05)
    inner = depths.sum() - 0.5 * depths[0]
    edges = np.cumsum(depths) - 0.5 * depths[0]
    exact = [slab_mean(low, high, inner, time_s, k / stored) for low, high in pairwise(edges)]
    assert state[RIBS : LAYERS * RIBS : RIBS] == pytest.approx(exact, abs=error)


def slab_mean(low: float, high: float, depth: float, time_s: float, alpha: float) -> float:
    """Mean over low..high of a slab at 1, face at 0 held at 0, back at depth insulated."""
    number = (np.arange(400) + 0.5) * np.pi
    shape = (np.cos(number * low / depth) - np.cos(number * high / depth)) * depth / (number * (high - low))
    return float(np.sum(2.0 / number * np.exp(-(number**2) * alpha * time_s / depth**2) * shape))
