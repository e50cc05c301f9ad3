"""Heat in one tyre: what must hold whatever the figures."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from leanladder.engine.tyre_thermal import (
    FLOW_COUNT,
    FLOWS_IN,
    LAYER_CARCASS,
    LAYER_LINER,
    LAYERS,
    LONGEST_S,
    Body,
    Forcing,
    Shares,
    heat_ride,
    outer_c,
    read_c,
    spread_weights,
    third_c,
)

Floats = NDArray[np.float64]
SEEDS = st.integers(0, 2**32 - 1)
RIBS = st.sampled_from([3, 9, 11, 15])
SHARES = Shares(0.45, 0.22, 45.0, 0.008, 0.5, 0.4, 25.0, 0.95, 0.65)
INSULATED = Shares(0.45, 0.22, 45.0, 0.0, 0.0, 0.0, 25.0, 0.0, 0.0)


def body(ribs: int, draw: np.random.Generator) -> Body:
    """A tyre of invented but possible figures."""
    arc_m, girth_m = draw.uniform(0.11, 0.24), 1.95
    carcass_m = draw.uniform(2e-3, 4e-3)
    depths = np.array([0.3e-3, 0.6e-3, 1.1e-3, draw.uniform(1.5e-3, 5e-3), *[0.5 * carcass_m] * 2])
    depths = np.insert(depths, 3, depths[3] * draw.uniform(0.3, 0.7))
    depths[4] -= depths[3]
    stored, k = draw.uniform(1.7e6, 2.4e6), draw.uniform(0.2, 0.3)
    rib_m = arc_m / ribs
    rib_m2 = rib_m * girth_m
    heat: list[Floats] = [
        np.repeat(stored * rib_m2 * depths, ribs),
        np.full(2, draw.uniform(300.0, 900.0)),
        np.array([3600.0, 50.0]),
    ]
    return Body(
        ribs=ribs,
        rib_m=rib_m,
        half_arc_m=0.5 * arc_m,
        patch_half_m=draw.uniform(0.015, 0.035),
        flex_half_m=draw.uniform(0.03, 0.08),
        surface_w_k=k * rib_m2 / (0.5 * depths[0]),
        liner_w_m2k=k / (0.5 * depths[-1]),
        layer_w_k=k * rib_m2 / (0.5 * (depths[:-1] + depths[1:])),
        across_w_k=k * girth_m * depths / rib_m,
        wall_w_k=draw.uniform(0.01, 0.1),
        bead_w_k=draw.uniform(1.0, 5.0),
        heat_j_k=np.concatenate(heat),
        rib_m2=rib_m2,
        wall_m2=0.11,
        rim_m2=0.3,
        depth_share=np.append(depths[:5] / depths[:5].sum(), [0.0, 0.0]),
        outer_share=depths[:3] / 2e-3,
    )


def forcing(steps: int, draw: np.random.Generator) -> Forcing:
    """A ride of invented figures, every path of heat in use."""

    def within(low: float, high: float) -> Floats:
        return draw.uniform(low, high, steps)

    return Forcing(
        within(0.05, 0.2), within(-0.1, 0.1), within(0.0, 3000.0), within(0.0, 2000.0), within(0.0, 4000.0),
        within(0.0, 500.0), within(0.0, 60.0), within(-5.0, 60.0), within(0.0, 200.0), within(0.0, 160.0),
        within(-10.0, 45.0), within(-10.0, 45.0),
    )  # fmt: skip


def nothing(steps: int, dt_s: float) -> Forcing:
    quiet = Forcing(*(np.zeros(steps) for _ in Forcing._fields))
    return quiet._replace(dt_s=np.full(steps, dt_s))


def ride(tyre: Body, shares: Shares, made: Forcing, start: Floats) -> tuple[Floats, Floats, Floats]:
    """Return the state after a ride, the heat that flowed [J] and how long each rib bore the load [s]."""
    state, heat_j, load_s = start.copy(), np.zeros(FLOW_COUNT), np.zeros(tyre.ribs)
    heat_ride(state, tyre, shares, made, np.zeros(0, dtype=np.int64), heat_j, load_s)
    return state, heat_j, load_s


def mirrored(state: Floats, ribs: int) -> Floats:
    layers = state[: LAYERS * ribs].reshape(LAYERS, ribs)[:, ::-1].ravel()
    left, right, rim, gas = state[LAYERS * ribs :]
    return np.concatenate([layers, [right, left, rim, gas]])


def some_state(ribs: int, draw: np.random.Generator) -> Floats:
    return draw.uniform(-5.0, 90.0, LAYERS * ribs + 4)


@given(SEEDS, RIBS, st.integers(1, 400))
def test_the_budget_closes(seed: int, ribs: int, steps: int) -> None:
    draw = np.random.default_rng(seed)
    tyre, start = body(ribs, draw), some_state(ribs, draw)
    after, heat_j, _ = ride(tyre, SHARES, forcing(steps, draw), start)
    stored = float(tyre.heat_j_k @ (after - start))
    left_over = heat_j[:FLOWS_IN].sum() - heat_j[FLOWS_IN:].sum() - stored
    assert abs(left_over) <= 1e-6 * np.abs(heat_j).sum()


@given(SEEDS, RIBS, st.floats(-30.0, 120.0))
def test_without_heat_and_without_air_nothing_moves(seed: int, ribs: int, everywhere_c: float) -> None:
    tyre = body(ribs, np.random.default_rng(seed))
    start = np.full(LAYERS * ribs + 4, everywhere_c)
    after, heat_j, _ = ride(tyre, INSULATED, nothing(2000, 0.2), start)
    assert np.array_equal(after, start)
    assert not heat_j.any()


@given(SEEDS, RIBS)
def test_a_tyre_as_warm_as_all_around_it_stays_so(seed: int, ribs: int) -> None:
    draw = np.random.default_rng(seed)
    tyre, around_c = body(ribs, draw), draw.uniform(-5.0, 50.0)
    same = {name: np.full(500, around_c) for name in ("road_c", "tread_air_c", "wall_air_c")}
    open_air = nothing(500, 0.1)._replace(road_w_k=np.full(500, 40.0), air_w_m2k=np.full(500, 100.0), **same)
    start = np.full(LAYERS * ribs + 4, around_c)
    assert np.array_equal(ride(tyre, SHARES, open_air, start)[0], start)


@given(SEEDS, RIBS)
def test_conduction_conserves_the_heat_and_evens_it_out(seed: int, ribs: int) -> None:
    draw = np.random.default_rng(seed)
    tyre, start = body(ribs, draw), some_state(ribs, draw)
    after, heat_j, _ = ride(tyre, INSULATED, nothing(500, 0.2), start)
    assert tyre.heat_j_k @ after == pytest.approx(float(tyre.heat_j_k @ start), rel=1e-11, abs=1e-6)
    assert not heat_j.any()
    assert after.max() <= start.max()
    assert after.min() >= start.min()
    assert np.ptp(after) < np.ptp(start)


@given(SEEDS, RIBS)
def test_a_mirrored_ride_mirrors_the_tyre(seed: int, ribs: int) -> None:
    draw = np.random.default_rng(seed)
    tyre, start, made = body(ribs, draw), some_state(ribs, draw), forcing(300, draw)
    after, heat_j, load_s = ride(tyre, SHARES, made, start)
    other = made._replace(contact_m=-made.contact_m)
    after_other, heat_other, load_other = ride(tyre, SHARES, other, mirrored(start, ribs))
    assert mirrored(after_other, ribs) == pytest.approx(after, rel=1e-9)
    assert heat_other == pytest.approx(heat_j, rel=1e-9, abs=1e-9)
    assert load_other[::-1] == pytest.approx(load_s, rel=1e-9, abs=1e-12)


@settings(max_examples=20)
@given(SEEDS)
def test_third_order_in_the_step(seed: int) -> None:
    """The error left by a step falls to about an eighth with half the step."""
    draw = np.random.default_rng(seed)
    tyre, start = body(9, draw), some_state(9, draw)
    made = Forcing(*(np.repeat(values[:20], 20) for values in forcing(20, draw)))
    made = made._replace(dt_s=np.full(400, LONGEST_S))

    def cut(into: int) -> Floats:
        finer = Forcing(*(np.repeat(values, into) for values in made))
        return ride(tyre, SHARES, finer._replace(dt_s=finer.dt_s / into), start)[0]

    exact = cut(16)
    coarse, fine = np.abs(cut(1) - exact).max(), np.abs(cut(2) - exact).max()
    assert fine < 0.2 * coarse


@given(SEEDS, RIBS)
def test_marks_are_the_states_of_those_steps(seed: int, ribs: int) -> None:
    draw = np.random.default_rng(seed)
    tyre, start, made = body(ribs, draw), some_state(ribs, draw), forcing(60, draw)
    marks = np.array([0, 0, 17, 59, 60])
    state = start.copy()
    kept = heat_ride(state, tyre, SHARES, made, marks, np.zeros(FLOW_COUNT), np.zeros(ribs))
    assert np.array_equal(kept[0], start)
    assert np.array_equal(kept[1], start)
    assert np.array_equal(kept[4], state)
    early = Forcing(*(values[:17] for values in made))
    assert np.array_equal(kept[2], ride(tyre, SHARES, early, start)[0])


@given(SEEDS, RIBS)
def test_the_load_is_borne_all_the_time(seed: int, ribs: int) -> None:
    draw = np.random.default_rng(seed)
    made = forcing(100, draw)
    load_s = ride(body(ribs, draw), SHARES, made, some_state(ribs, draw))[2]
    assert load_s.sum() == pytest.approx(made.dt_s.sum(), rel=1e-12)


WHERE = {
    "ribs": st.integers(1, 31),
    "contact_m": st.floats(-0.3, 0.3),
    "half_m": st.floats(0.005, 0.1),
    "arc_m": st.floats(0.08, 0.3),
}


@given(**WHERE)
def test_the_patch_is_shared_out_whole(ribs: int, contact_m: float, half_m: float, arc_m: float) -> None:
    weights, other = np.empty(ribs), np.empty(ribs)
    spread_weights(weights, contact_m, half_m, arc_m / ribs, 0.5 * arc_m)
    spread_weights(other, -contact_m, half_m, arc_m / ribs, 0.5 * arc_m)
    assert weights.sum() == pytest.approx(1.0, abs=1e-12)
    assert np.all(weights >= 0.0)
    assert other[::-1] == pytest.approx(weights, rel=1e-9, abs=1e-12)


@given(
    **(WHERE | {"ribs": st.just(15), "contact_m": st.floats(-0.03, 0.03), "half_m": st.floats(0.01, 0.03)})
)
def test_the_patch_stands_where_the_contact_is(
    ribs: int, contact_m: float, half_m: float, arc_m: float
) -> None:
    arc_m = max(arc_m, 2.0 * (abs(contact_m) + half_m))
    weights = np.empty(ribs)
    spread_weights(weights, contact_m, half_m, arc_m / ribs, 0.5 * arc_m)
    middles = -0.5 * arc_m + (np.arange(ribs) + 0.5) * arc_m / ribs
    assert weights @ middles == pytest.approx(contact_m, abs=0.5 * arc_m / ribs)


def test_a_patch_reaching_past_the_edge_bears_on_what_is_left() -> None:
    """Middle on the edge of five ribs of 20 mm, half-width 40 mm: half a parabola, by hand."""
    weights = np.empty(5)
    for contact_m in (0.05, 0.3):  # the middle itself stays on the tread
        spread_weights(weights, contact_m, 0.04, 0.02, 0.05)
        # 1.5 x - 0.5 x^3 from the edge inwards, x in half-widths: 0.6875 to x = 0.5, 1 to x = 1
        assert weights == pytest.approx([0.0, 0.0, 0.0, 0.3125, 0.6875], abs=1e-12)


def test_bending_wider_than_the_crown_is_even_on_it() -> None:
    """Upright, half-width 1.5 crowns: the parabola cut on both sides, scaled to 1, by its integral."""
    weights = np.empty(3)
    spread_weights(weights, 0.0, 0.15, 0.03, 0.045)
    below = np.array([0.75 * x - 0.25 * x**3 for x in (-0.3, -0.1, 0.1, 0.3)])
    assert weights == pytest.approx(np.diff(below) / (below[-1] - below[0]), rel=1e-12)


def test_readings_of_the_outer_2_mm() -> None:
    state = np.zeros(LAYERS * 6 + 4)
    state[:6] = [10.0, 20.0, 30.0, 40.0, 50.0, 60.0]  # skin
    state[6:12] = 2.0  # the layers below it within 2 mm
    state[12:18] = 4.0
    share = np.array([0.15, 0.3, 0.55])
    assert outer_c(state, 6, 0, share) == pytest.approx(1.5 + 0.6 + 2.2)
    thirds = [third_c(state, 6, third, share) for third in range(3)]
    assert thirds == pytest.approx([0.15 * 15.0 + 2.8, 0.15 * 35.0 + 2.8, 0.15 * 55.0 + 2.8])
    tyre = body(6, np.random.default_rng(1))
    state[LAYER_CARCASS * 6 : LAYER_LINER * 6], state[LAYER_LINER * 6 : LAYERS * 6] = 30.0, 40.0
    skin, outer, carcass = read_c(state, tyre)
    assert skin.tolist() == state[:6].tolist()
    assert outer == pytest.approx([outer_c(state, 6, rib, share) for rib in range(6)])
    assert carcass.tolist() == [35.0] * 6
    assert np.array_equal(read_c(np.stack([state, state]), tyre)[1], read_c(state, tyre))


def test_a_long_step_on_the_road_is_cut() -> None:
    draw = np.random.default_rng(5)
    tyre, start = body(9, draw), some_state(9, draw)
    long = Forcing(*(np.repeat(values[:1], 3) for values in forcing(1, draw)))._replace(
        dt_s=np.full(3, 10.0 * LONGEST_S)
    )
    fine = Forcing(*(np.repeat(values, 10) for values in long))._replace(dt_s=np.full(30, LONGEST_S))
    for one, other in zip(ride(tyre, SHARES, long, start), ride(tyre, SHARES, fine, start), strict=True):
        assert one == pytest.approx(other, rel=1e-9)
