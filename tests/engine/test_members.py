"""Members beside the scalar kernel: the same tyre in the same ride, by another way."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from tests.engine.test_tyre_thermal import INSULATED, SHARES, body, mirrored

from leanladder.engine import spells
from leanladder.engine.block_rows import WIDTH
from leanladder.engine.members import (
    Differences,
    in_blocks,
    no_differences,
    out_of_blocks,
    ride_members,
)
from leanladder.engine.tyre_thermal import (
    FLOW_COUNT,
    LAYERS,
    OUTER_LAYERS,
    Body,
    Forcing,
    Shares,
    heat_ride,
)

Floats = NDArray[np.float64]
RIBS = 18
NODES = LAYERS * RIBS + 4
NEAR_K = 0.05
CUT = 16


def lap(steps: int, draw: np.random.Generator) -> tuple[Forcing, Floats]:
    """A ride of turns and straights as smooth as a rider's, and the part of slip heat that is camber spin."""
    bend = np.sin(np.linspace(0.0, 2.0 * np.pi * steps / 110.0, steps) + draw.uniform(0.0, 6.0))
    lean = np.clip(1.8 * bend, -1.0, 1.0) * draw.uniform(0.04, 0.085)
    busy = np.abs(bend) ** 3
    going = 30.0 + 12.0 * np.cos(np.linspace(0.0, 2.0 * np.pi * steps / 55.0, steps))
    shaded = np.sin(np.linspace(0.0, 20.0, steps)) > 0.7
    made = Forcing(
        dt_s=5.2 / going,
        contact_m=lean,
        rolling_w=15.0 * going * (1.0 + busy),
        bulk_w=400.0 * busy,
        skin_w=1600.0 * busy,
        brake_w=np.where(bend > 0.9, 400.0, 0.0),
        road_w_k=6.0 * np.sqrt(going),
        road_c=np.where(shaded, 11.0, 16.0),
        sun_w_m2=np.where(shaded, 0.0, 60.0),
        air_w_m2k=3.0 * going,
        tread_air_c=np.full(steps, 12.0),
        wall_air_c=np.full(steps, 13.0),
    )
    return made, 0.2 + 0.6 * busy


def standing(steps: int) -> Forcing:
    quiet = Forcing(*(np.zeros(steps) for _ in Forcing._fields))
    air = np.full(steps, 8.0)
    return quiet._replace(
        dt_s=np.ones(steps), air_w_m2k=air, tread_air_c=air, wall_air_c=air, sun_w_m2=3.0 * air
    )


def marks_of(steps: int) -> NDArray[np.int64]:
    return np.array([0, 0, 1, steps // 3, steps // 2, steps - 1, steps])


def alone(
    state: Floats, tyre: Body, shares: Shares, made: Forcing, marks: NDArray[np.int64]
) -> tuple[Floats, Floats]:
    """The scalar kernel with steps cut: outer means (marks, ribs) [degC], and the state after."""
    fine = Forcing(*(np.repeat(values, CUT) for values in made))
    fine, end = fine._replace(dt_s=fine.dt_s / CUT), state.copy()
    kept = heat_ride(end, tyre, shares, fine, CUT * marks, np.zeros(FLOW_COUNT), np.zeros(tyre.ribs))
    layers = kept[:, : LAYERS * tyre.ribs].reshape(marks.size, LAYERS, tyre.ribs)
    return np.einsum("l,mlr->mr", tyre.outer_share, layers[:, :OUTER_LAYERS]), end


def changed(made: Forcing, spin_part: Floats, tyre: Body, own: dict[str, float]) -> tuple[Forcing, Body]:
    """What a member's differences come to for the scalar kernel."""
    scrubbed = 1.0 + (own["scrub"] - 1.0) * spin_part
    ridden = made._replace(
        contact_m=made.contact_m * own["crown"],
        rolling_w=made.rolling_w * own["loss"],
        bulk_w=made.bulk_w * scrubbed,
        skin_w=made.skin_w * scrubbed,
        road_w_k=made.road_w_k * own["contact"],
        road_c=made.road_c + own["road_k"],
        sun_w_m2=made.sun_w_m2 * own["sun"],
        air_w_m2k=made.air_w_m2k * own["air"],
        tread_air_c=made.tread_air_c + own["air_k"],
        wall_air_c=made.wall_air_c + own["air_k"],
    )
    return ridden, tyre._replace(patch_half_m=own["patch_half_m"], flex_half_m=own["flex_half_m"])


def drawn(count: int, tyre: Body, draw: np.random.Generator) -> Differences:
    """Members that differ in everything, (blocks, WIDTH)."""
    spread = {"crown": 0.05, "loss": 0.15, "scrub": 0.6, "contact": 0.5, "air": 0.15, "sun": 0.5}
    own = {name: np.exp(draw.normal(0.0, part, count)) for name, part in spread.items()}
    own |= {"road_k": draw.normal(0.0, 2.0, count), "air_k": draw.normal(0.0, 1.0, count)}
    own |= {"patch_half_m": tyre.patch_half_m * draw.uniform(0.85, 1.15, count)}
    own |= {"flex_half_m": tyre.flex_half_m * draw.uniform(0.8, 1.2, count)}
    return Differences(**{name: in_blocks(values) for name, values in own.items()})


def of(differences: Differences, block: int, member: int) -> dict[str, float]:
    return {name: float(values[block, member]) for name, values in differences._asdict().items()}


@pytest.fixture(scope="module")
def draw() -> np.random.Generator:
    return np.random.default_rng(11)


@pytest.fixture(scope="module")
def tyre() -> Body:
    return body(RIBS, np.random.default_rng(3))


def start(draw: np.random.Generator) -> Floats:
    """A tyre that is warm in places, with no steps that a lap would have evened out."""
    ribs = np.linspace(-1.0, 1.0, RIBS)
    depth = np.linspace(0.0, 1.0, LAYERS)[:, None]
    rubber = 30.0 + 8.0 * depth + 10.0 * np.sin(2.0 * ribs + draw.uniform(0.0, 6.0)) * (1.0 - 0.5 * depth)
    return np.concatenate([rubber.ravel(), [25.0, 27.0, 20.0, 32.0]])


def test_members_go_into_blocks_and_out() -> None:
    values = np.arange(3.0 * (WIDTH + 3)).reshape(WIDTH + 3, 3)
    blocks = in_blocks(values)
    assert blocks.shape == (2, 3, WIDTH)
    assert np.array_equal(blocks[1, :, 3], values[-1])  # padded by the last member
    assert np.array_equal(blocks[1, :, -1], values[-1])
    assert np.array_equal(out_of_blocks(blocks, WIDTH + 3), values)
    assert in_blocks(values[:, 0]).shape == (2, WIDTH)


@pytest.mark.parametrize("steps", [1, 7, 400])
def test_a_member_like_the_plan_is_the_plan(steps: int, tyre: Body, draw: np.random.Generator) -> None:
    made, spin_part = lap(steps, draw)
    state, marks = start(draw), marks_of(max(steps, 3))
    marks = np.minimum(marks, steps)
    states = in_blocks(np.tile(state, (2, 1)))
    kept = ride_members(states, tyre, SHARES, made, spin_part, no_differences(tyre, 1), marks)
    outer, end = alone(state, tyre, SHARES, made, marks)
    assert kept.shape == (1, marks.size, RIBS, WIDTH)
    assert np.abs(kept[0, :, :, 0] - outer).max() <= NEAR_K
    assert np.abs(states[0, LAYERS * RIBS // 3 :, 0] - end[LAYERS * RIBS // 3 :]).max() <= 2.0 * NEAR_K
    assert np.array_equal(kept[..., 0], kept[..., -1])


ALONE = {
    "crown": 1.15, "patch_half_m": 0.03, "flex_half_m": 0.03, "loss": 1.4, "scrub": 3.0, "contact": 0.3,
    "air": 1.5, "road_k": 5.0, "air_k": -4.0, "sun": 2.5,
}  # fmt: skip


@pytest.mark.parametrize("name", Differences._fields)
def test_each_difference_alone(name: str, tyre: Body, draw: np.random.Generator) -> None:
    made, spin_part = lap(200, draw)
    state, marks = start(draw), marks_of(200)
    other = no_differences(tyre, 1)
    other = other._replace(**{name: np.full((1, WIDTH), ALONE[name])})
    kept = ride_members(in_blocks(state[None]), tyre, SHARES, made, spin_part, other, marks)
    ridden, own = changed(made, spin_part, tyre, of(other, 0, 0))
    outer, _ = alone(state, own, SHARES, ridden, marks)
    assert np.abs(kept[0, :, :, 0] - outer).max() <= NEAR_K
    plain, _ = alone(state, tyre, SHARES, made, marks)
    assert np.abs(plain - outer).max() > NEAR_K  # so that a difference left out would show


def test_members_that_differ_in_everything(tyre: Body, draw: np.random.Generator) -> None:
    made, spin_part = lap(300, draw)
    state, marks = start(draw), marks_of(300)
    several = drawn(WIDTH, tyre, draw)
    states = in_blocks(np.tile(state, (WIDTH, 1)))
    kept = ride_members(states, tyre, SHARES, made, spin_part, several, marks)
    for member in range(0, WIDTH, 5):
        ridden, own = changed(made, spin_part, tyre, of(several, 0, member))
        outer, _ = alone(state, own, SHARES, ridden, marks)
        assert np.abs(kept[0, :, :, member] - outer).max() <= NEAR_K


def test_a_standing_wheel(tyre: Body, draw: np.random.Generator) -> None:
    made, state, marks = standing(120), start(draw), marks_of(120)
    states = in_blocks(state[None])
    kept = ride_members(states, tyre, SHARES, made, np.zeros(120), no_differences(tyre, 1), marks)
    outer, end = alone(state, tyre, SHARES, made, marks)
    assert np.abs(kept[0, :, :, 0] - outer).max() <= NEAR_K
    assert np.abs(states[0, :, 0] - end).max() <= NEAR_K


@pytest.mark.parametrize("threads", [1, 2])
def test_order_and_threads_change_no_bit(threads: int, tyre: Body, draw: np.random.Generator) -> None:
    count = 3 * WIDTH
    made, spin_part = lap(90, np.random.default_rng(1))
    draws = np.random.default_rng(2)
    several, state, marks = drawn(count, tyre, draws), start(draws), marks_of(90)
    states = in_blocks(state + draws.normal(0.0, 2.0, (count, 1)))
    order = draws.permutation(count)
    mixed = Differences(*(in_blocks(out_of_blocks(values, count)[order]) for values in several))
    mixed_states = in_blocks(out_of_blocks(states, count)[order])
    kept = ride_members(states, tyre, SHARES, made, spin_part, several, marks, threads)
    other = ride_members(mixed_states, tyre, SHARES, made, spin_part, mixed, marks)
    assert np.array_equal(out_of_blocks(kept, count)[order], out_of_blocks(other, count))
    assert np.array_equal(out_of_blocks(states, count)[order], out_of_blocks(mixed_states, count))


def test_a_mirrored_ride_mirrors_the_members(tyre: Body, draw: np.random.Generator) -> None:
    made, spin_part = lap(150, draw)
    state, marks, several = start(draw), marks_of(150), drawn(WIDTH, tyre, np.random.default_rng(4))
    states = in_blocks(np.tile(state, (WIDTH, 1)))
    other_states = in_blocks(np.tile(mirrored(state, RIBS), (WIDTH, 1)))
    kept = ride_members(states, tyre, SHARES, made, spin_part, several, marks)
    other = made._replace(contact_m=-made.contact_m)
    other_kept = ride_members(other_states, tyre, SHARES, other, spin_part, several, marks)
    assert other_kept[:, :, ::-1] == pytest.approx(kept, rel=1e-9)
    assert mirrored(other_states[0, :, 1], RIBS) == pytest.approx(states[0, :, 1], rel=1e-9)


@settings(max_examples=10)
@given(st.integers(0, 2**32 - 1), st.floats(0.1, 1.0))
def test_conduction_conserves_the_heat(seed: int, dt_s: float) -> None:
    draw = np.random.default_rng(seed)
    tyre, steps = body(RIBS, draw), 200
    quiet = standing(steps)._replace(dt_s=np.full(steps, dt_s), air_w_m2k=np.zeros(steps))
    quiet = quiet._replace(sun_w_m2=np.zeros(steps))
    states = in_blocks(draw.uniform(-5.0, 90.0, (WIDTH, NODES)))
    before = np.einsum("n,bnw->bw", tyre.heat_j_k, states)
    several, marks = drawn(WIDTH, tyre, draw), np.zeros(0, dtype=np.int64)
    ride_members(states, tyre, INSULATED, quiet, np.zeros(steps), several, marks)
    after = np.einsum("n,bnw->bw", tyre.heat_j_k, states)
    assert after == pytest.approx(before, rel=1e-9)


def test_all_heat_that_is_put_in_is_there(tyre: Body, draw: np.random.Generator) -> None:
    """Slip, brake and rolling heat (that does not fall with temperature), no way out: all of it is stored."""
    made, spin_part = lap(200, draw)
    none = np.zeros(200)
    shut = made._replace(road_w_k=none, air_w_m2k=none, sun_w_m2=none, dt_s=np.full(200, 0.15))
    several, marks = drawn(WIDTH, tyre, draw), np.zeros(0, dtype=np.int64)
    states = in_blocks(np.tile(start(draw), (WIDTH, 1)))
    before = np.einsum("n,bnw->bw", tyre.heat_j_k, states)
    ride_members(states, tyre, INSULATED, shut, spin_part, several, marks)
    stored = np.einsum("n,bnw->bw", tyre.heat_j_k, states) - before
    slip_w = shut.bulk_w + shut.skin_w
    scrubbed = 1.0 + (several.scrub[..., None] - 1.0) * spin_part
    put_in = (several.loss[..., None] * shut.rolling_w + scrubbed * slip_w + shut.brake_w) @ shut.dt_s
    assert stored == pytest.approx(put_in, rel=1e-9)


def test_rest_stays_at_rest(tyre: Body) -> None:
    quiet = standing(50)._replace(sun_w_m2=np.zeros(50))
    states = np.full((1, NODES, WIDTH), 8.0)
    marks = np.array([50])
    kept = ride_members(states, tyre, SHARES, quiet, np.zeros(50), no_differences(tyre, 1), marks)
    assert kept == pytest.approx(8.0, abs=1e-9)
    assert states == pytest.approx(8.0, abs=1e-9)


def test_a_long_step_on_the_road_is_cut(tyre: Body, draw: np.random.Generator) -> None:
    made, spin_part = lap(40, draw)
    marks = np.array([20, 40])
    long, state = made._replace(dt_s=np.full(40, 1.3)), start(draw)
    states = in_blocks(state[None])
    kept = ride_members(states, tyre, SHARES, long, spin_part, no_differences(tyre, 1), marks)
    outer, _ = alone(state, tyre, SHARES, long, marks)
    assert np.abs(kept[0, :, :, 0] - outer).max() <= 4.0 * NEAR_K  # of a rise of some 50 K


def test_a_tyre_that_is_not_made_for_it_is_refused(tyre: Body, draw: np.random.Generator) -> None:
    made, spin_part = lap(5, draw)
    marks, same = np.array([5]), no_differences(tyre, 1)
    states = np.full((1, NODES, WIDTH), 20.0)
    with pytest.raises(ValueError, match="18 ribs; this tyre has 9"):
        ride_members(states, tyre._replace(ribs=9), SHARES, made, spin_part, same, marks)
    uneven = tyre.heat_j_k.copy()
    uneven[3] *= 2.0
    with pytest.raises(ValueError, match="differ"):
        ride_members(states, tyre._replace(heat_j_k=uneven), SHARES, made, spin_part, same, marks)
    with pytest.raises(ValueError, match="states must be"):
        ride_members(states[:, 1:], tyre, SHARES, made, spin_part, same, marks)


def test_beats_and_spells_hold_all_of_a_ride(tyre: Body, draw: np.random.Generator) -> None:
    made, spin_part = lap(300, draw)
    marks = marks_of(300)
    cut = spells.cut(made, spin_part, marks, tyre, SHARES)
    lasts_s = cut.beat_factors[:, spells.STEP]
    assert lasts_s.sum() == pytest.approx(made.dt_s.sum(), rel=1e-12)
    assert lasts_s.max() <= spells.BEAT_S
    assert cut.spells[:, spells.LASTS].max() <= spells.SPELL_S
    across_s = cut.spells[:, spells.BEFORE] + cut.spells[:, spells.AFTER]
    assert across_s.sum() == pytest.approx(made.dt_s.sum(), rel=1e-12)
    for part, values in (
        (spells.ROLLING, made.rolling_w),
        (spells.SKIN_SPIN, made.skin_w * spin_part),
        (spells.ROAD_HEAT, made.road_w_k * made.road_c),
    ):
        assert lasts_s @ cut.beats[:, part] == pytest.approx(float(made.dt_s @ values), rel=1e-12)
    of_spells = np.add.reduceat(lasts_s, cut.first[:-1])
    assert of_spells == pytest.approx(cut.spells[:, spells.LASTS], rel=1e-12)
    begun_s = np.concatenate([[0.0], np.cumsum(of_spells)])
    steps_s = np.concatenate([[0.0], np.cumsum(made.dt_s)])
    assert begun_s[cut.marked] == pytest.approx(steps_s[marks], rel=1e-9, abs=1e-9)
