"""Members beside the scalar kernel: the same tyre in the same ride, by another way."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.engine.test_tyre_thermal import SHARES, body

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
