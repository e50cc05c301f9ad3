"""What members carry: caps.py's own answer for a member like the plan, and its properties for any other."""

from __future__ import annotations

from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from leanladder.engine import grip
from leanladder.engine.caps import Crown, Stance, corner_caps
from leanladder.engine.carried import GLASS_ROWS, Curves, Machines, Own, Stances, asked_of, leans_carried
from leanladder.engine.tyre_thermal import LAYERS

Floats = NDArray[np.float64]
SEEDS = st.integers(0, 2**32 - 1)
RIBS, MEMBERS = 18, 8
CLOSE = 1e-10  # rad
SHARE = 0.8


def table(draw: np.random.Generator) -> Floats:
    """A grip table that rises to a plateau and fades."""
    axis = grip.table_axis()
    low, peak = draw.uniform(0.6, 0.9), draw.uniform(1.0, 1.4)
    risen = low + (peak - low) / (1.0 + np.exp(-(axis - draw.uniform(0, 50)) / draw.uniform(5, 20)))
    return np.asarray(risen * np.clip(1.0 - 0.004 * (axis - 90.0), 0.3, 1.0))


def curves(plain: Floats, draw: np.random.Generator, arc_m: float) -> Curves:
    """Tables whose grip falls a little with the glass temperature, and with colder shares."""
    rows = np.stack([plain * (1.0 - 0.01 * (row - 4)) for row in range(GLASS_ROWS)])
    cold = np.broadcast_to(0.03 * np.exp(-np.maximum(grip.table_axis(), 0.0) / 30.0), rows.shape)
    return Curves(rows[None], cold[None].copy(), RIBS, arc_m / RIBS, 0.5 * arc_m)


def own(draw: np.random.Generator, spread: float) -> Own:
    """Members about a plain tyre, alike where spread is 0."""
    some = [spread * draw.standard_normal(MEMBERS) for _ in range(6)]
    return Own(
        1.0 + 0.05 * some[0], 4.0 * some[1], 4.0 * some[2], some[3],
        0.08 * (1.0 + 0.05 * some[4]), 0.026 * (1.0 + 0.07 * some[5]),
    )  # fmt: skip


class World:
    """Members at some corners, drawn anew from a seed; alike where spread is 0."""

    def __init__(self, seed: int, spread: float) -> None:
        draw = np.random.default_rng(seed)
        self.arc_m = draw.uniform(0.11, 0.2, 2)
        self.tables = [table(draw), table(draw)]
        tyres = [curves(each, draw, arc) for each, arc in zip(self.tables, self.arc_m, strict=True)]
        self.stance = Stance(0.08, draw.uniform(0.55, 0.7), 3e-4, 0.04)
        apart = spread * draw.standard_normal((2, MEMBERS))
        stances = Stances(0.08 + 0.003 * apart[0], self.stance.cg_height_m + 0.02 * apart[1], 3e-4, 0.04)
        corners = 4
        self.bends = np.stack(
            [
                draw.choice([-1.0, 1.0], corners),
                np.radians(draw.uniform(-4, 8, corners)),
                draw.uniform(20.0, 150.0, corners),
                np.zeros(corners),
            ],
            axis=1,
        )
        level = 1.0 + 0.02 * spread * draw.standard_normal((corners, MEMBERS))
        self.machines = Machines(tyres[0], tyres[1], own(draw, spread), own(draw, spread), stances, level)
        base = draw.uniform(5.0, 60.0, (2, corners, 1, 1))
        slope = np.linspace(-12.0, 12.0, RIBS)[:, None]
        noise = spread * 3.0 * draw.standard_normal((2, corners, 1, MEMBERS))
        self.outer = np.ascontiguousarray(np.broadcast_to(base + slope, (2, corners, RIBS, MEMBERS)) + noise)

    def carried(self, share: float = SHARE) -> Floats:
        return leans_carried(self.bends, share, self.machines, self.outer[0], self.outer[1], 0)

    def asked(self, bike_leans: Floats) -> Floats:
        return asked_of(self.bends, bike_leans, self.machines, self.outer[0], self.outer[1], 0)


@given(SEEDS)
def test_a_member_like_the_plan_carries_what_the_plan_does(seed: int) -> None:
    world = World(seed, 0.0)
    crowns = [
        Crown(RIBS, arc / RIBS, 0.5 * arc, 0.026, 0.08, np.array([0.15, 0.3, 0.55]), plain[None])
        for arc, plain in zip(world.arc_m, world.tables, strict=True)
    ]
    states = [
        np.concatenate([np.tile(ribs[..., 0], (1, LAYERS)), np.zeros((4, 4))], axis=1) for ribs in world.outer
    ]
    plan = corner_caps(world.bends, SHARE, crowns[0], crowns[1], world.stance, states[0], states[1])
    found = world.carried()
    assert found[:, :, 0] == pytest.approx(plan, abs=CLOSE)
    assert np.ptp(found, axis=2).max() == 0.0


@given(SEEDS, st.floats(0.4, 0.95))
def test_demand_reaches_what_may_be_used_at_the_lean_carried_and_not_before(seed: int, share: float) -> None:
    world = World(seed, 1.0)
    found = world.carried(share)
    for end in (0, 1):
        bike = found[:, end]
        at = world.asked(bike)
        short = at[:, 2 + end] - share * at[:, end]
        reached = bike < radians(64.9)
        assert np.all(short[reached] == pytest.approx(0.0, abs=1e-12))
        lower = world.asked(np.maximum(bike - radians(1.0), 0.0) * 0.9)
        assert np.all(lower[:, 2 + end] <= share * lower[:, end] + 1e-9)


@given(SEEDS)
def test_more_grip_never_carries_less(seed: int) -> None:
    world = World(seed, 1.0)
    before = world.carried()
    world.machines = world.machines._replace(corner_level=world.machines.corner_level * 1.03)
    assert np.all(world.carried()[:, :2] >= before[:, :2] - CLOSE)


@given(SEEDS)
def test_a_mirrored_corner_on_a_mirrored_tyre_carries_the_same(seed: int) -> None:
    world = World(seed, 1.0)
    before = world.carried()
    world.bends[:, 0] *= -1.0
    world.outer = np.ascontiguousarray(world.outer[:, :, ::-1])
    assert world.carried() == pytest.approx(before, abs=CLOSE)


def test_members_are_told_apart_by_their_place() -> None:
    world = World(3, 1.0)
    whole = world.carried()
    later = leans_carried(
        world.bends,
        SHARE,
        world.machines,
        np.ascontiguousarray(world.outer[0][..., 4:]),
        np.ascontiguousarray(world.outer[1][..., 4:]),
        4,
    )
    assert np.array_equal(later, whole[..., 4:])


def test_the_friction_told_is_that_of_the_lesser_tyre_s_lean() -> None:
    world = World(5, 1.0)
    found = world.carried()
    at = world.asked(np.minimum(found[:, 0], found[:, 1]))
    assert at[:, :2] == pytest.approx(found[:, 2:4], abs=1e-12)
    upright = world.asked(np.broadcast_to(world.bends[:, 1:2], found[:, 0].shape).copy())
    assert np.minimum(upright[:, 0], upright[:, 1]) == pytest.approx(found[:, 4], abs=1e-12)
