"""One lap in agreement with its caps."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Circuit
from leanladder.domain.session import Start
from leanladder.engine import cornering, ride
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import FLOW_COUNT, FLOWS_IN, Forcing, heat_ride
from leanladder.planning import riding
from leanladder.planning.forcing import motion, rolling_forcing
from leanladder.planning.laps import Step, started
from leanladder.planning.laps import ride as ridden_laps
from leanladder.planning.riding import GAS, MOST_PASSES, SETTLED_DEG, Ridden, caps_on_arrival, heat_lap
from leanladder.planning.rubber import RIBS
from leanladder.planning.setting import Setting

Place = Callable[..., Setting]
Scaled = Callable[[Circuit, float], Circuit]
REACHED_DEG = 0.5  # design: within half a degree a plan reaches its cap
LEVELS = ("new", "regular", "experienced")
STARTS = {"cold": Start("cold"), "warmers": Start("warmers", 80.0, 60.0, 5.0)}


def laps(here: Setting, count: int) -> list[Step]:
    return list(ridden_laps(here, started(here), count))


def cap_lean_deg(here: Setting, bike_deg: float) -> float:
    bike = math.radians(bike_deg)
    return math.degrees(cornering.lean_of_bike_lean(bike, here.stance.crown_m, here.stance.cg_height_m))


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("level", LEVELS)
def test_caps_pace_and_heat_settle(place: Place, level: str, start: str) -> None:
    for step in laps(place(level=level, start=STARTS[start]), 6):
        assert step.ridden.passes < MOST_PASSES


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("level", LEVELS)
def test_the_ridden_line_stays_within_every_cap(place: Place, level: str, start: str) -> None:
    """All of a corner, not its apex alone, and the caps the lap itself ended with.

    Before a ladder cuts the plan off at its caps it may pass them by what two passes may differ.
    """
    assert SETTLED_DEG < 0.1 * REACHED_DEG + 1e-9
    here = place(level=level, start=STARTS[start])
    for step in laps(here, 4):
        way, speeds = step.way, step.ridden.speeds
        leans = np.degrees(np.arctan(speeds**2 * np.abs(way.curvature_per_m) / GRAVITY_MPS2))
        for index in way.ridden:
            first, last = way.ranges[index]
            cap = cap_lean_deg(here, float(step.ridden.caps.cap[index]))
            assert leans[first:last].max() <= cap + SETTLED_DEG


@pytest.mark.parametrize("level", LEVELS)
def test_a_cap_is_the_least_of_its_parts(place: Place, level: str) -> None:
    here = place(level=level)
    for step in laps(here, 3):
        caps = step.ridden.caps
        parts = [
            caps.front,
            caps.rear,
            caps.card,
            here.clearance,
            np.full(caps.cap.size, here.session.level.top_lean_deg.value),
        ]
        assert np.array_equal(caps.cap, np.minimum.reduce(parts))
        assert np.all(caps.cap >= 0.0)


def test_rubber_below_zero_has_no_lean(place: Place) -> None:
    here = place()
    frozen = np.full((here.bends.shape[0], GAS + 1), -3.0)
    warm = np.full_like(frozen, 40.0)
    assert np.all(caps_on_arrival(here, frozen, warm).cap == 0.0)
    assert np.all(caps_on_arrival(here, warm, warm).cap > 10.0)


@given(st.integers(0, 2**32 - 1))
def test_warmer_rubber_never_lowers_a_cap_below_its_range(place: Place, seed: int) -> None:
    here, draw = place(level="experienced"), np.random.default_rng(seed)
    shape = (here.bends.shape[0], GAS + 1)
    front, rear = draw.uniform(0.0, 35.0, shape), draw.uniform(0.0, 35.0, shape)
    before = caps_on_arrival(here, front, rear)
    after = caps_on_arrival(here, front + draw.uniform(0.0, 8.0, shape), rear + draw.uniform(0.0, 8.0, shape))
    for name in ("front", "rear", "card", "cap"):
        assert np.all(getattr(after, name) >= getattr(before, name) - 1e-9)


@given(st.integers(0, 2**32 - 1))
def test_more_grip_never_lowers_a_cap(place: Place, seed: int) -> None:
    here, draw = place(level="regular"), np.random.default_rng(seed)
    shape = (here.bends.shape[0], GAS + 1)
    states = draw.uniform(0.0, 100.0, shape), draw.uniform(0.0, 100.0, shape)
    more = [
        tyre._replace(crown=tyre.crown._replace(tables=tyre.crown.tables * draw.uniform(1.0, 1.2)))
        for tyre in (here.front, here.rear)
    ]
    better = replace(here, front=more[0], rear=more[1])
    before, after = caps_on_arrival(here, *states), caps_on_arrival(better, *states)
    for name in ("front", "rear", "cap"):
        assert np.all(getattr(after, name) >= getattr(before, name) - 1e-9)


@pytest.mark.parametrize("level", LEVELS)
def test_the_budget_of_a_lap_closes(place: Place, level: str) -> None:
    here = place(level=level, start=STARTS["warmers"])
    state = started(here)
    for step in laps(here, 3):
        heated = step.ridden.heated
        for which, tyre in enumerate((here.front, here.rear)):
            heat_j = heated.heat_j[which]
            stored = float(tyre.body.heat_j_k @ (heated.end[which] - state[which]))
            left_over = heat_j[:FLOWS_IN].sum() - heat_j[FLOWS_IN:].sum() - stored
            assert abs(left_over) <= 1e-6 * np.abs(heat_j).sum()
        assert heated.load_s.sum(axis=1) == pytest.approx([heated.time_s, heated.time_s])
        state = heated.end


def forcings(here: Setting, step: Step, gas_c: tuple[float, float]) -> list[Forcing]:
    """What a ridden lap did to both tyres, once more."""
    way = step.way
    moves = motion(way, step.ridden.speeds, here.stance)
    forces = ride.wheel_forces(moves, here.chassis, here.tables.heat["driving_rolling"])
    both = zip((here.front, here.rear), forces, gas_c, strict=True)
    return [
        rolling_forcing(moves, force, tyre, here, at_c, way.shaded[: way.lap_steps])
        for tyre, force, at_c in both
    ]


def heated_lap(
    here: Setting, which: int, made: Forcing, start: Floats, marks: np.ndarray, into: int
) -> Floats:
    """States (marks + 1, NODES) [degC] on arrival and at the end with each step cut into some."""
    tyre = (here.front, here.rear)[which]
    finer = Forcing(*(np.repeat(values, into) for values in made))
    state = start.copy()
    kept = heat_ride(
        state,
        tyre.body,
        tyre.rolling,
        finer._replace(dt_s=finer.dt_s / into),
        into * marks,
        np.zeros(FLOW_COUNT),
        np.zeros(RIBS),
    )
    return np.vstack([kept, state])


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("level", ["new", "experienced"])
def test_finer_steps_move_no_temperature_by_a_tenth(
    place: Place, demo_circuit: Circuit, scaled: Scaled, level: str, start: str
) -> None:
    """Steps of 4 m, the coarsest that a circuit gets, and an eighth of them; skin and all,
    all round the lap."""
    step_m = demo_circuit.length_m / demo_circuit.s_m.size
    here = place(level=level, start=STARTS[start], circuit=scaled(demo_circuit, 4.0 / step_m))
    state = started(here)
    for step in laps(here, 3):
        assert step.way.step_m == pytest.approx(4.0)
        everywhere = np.arange(step.way.lap_steps)
        for which, made in enumerate(forcings(here, step, (state[0][GAS], state[1][GAS]))):
            one = heated_lap(here, which, made, state[which], everywhere, 1)
            assert one[-1] == pytest.approx(step.ridden.heated.end[which], rel=1e-12)  # the same lap
            finer = heated_lap(here, which, made, state[which], everywhere, 8)
            assert np.abs(one - finer).max() < 0.1
        state = step.ridden.heated.end


def test_early_laps_use_at_most_half_the_grip_upright(place: Place, demo_circuit: Circuit) -> None:
    allowed = replace(demo_circuit, hard_upright_allowed=True)
    here = place(level="experienced", circuit=allowed)
    for number, step in enumerate(laps(here, 2), 1):
        ridden: Ridden = step.ridden
        along = np.diff(ridden.speeds**2) / (2.0 * step.way.step_m)
        upright = float(ridden.caps.upright.min())
        most = 0.5 * upright * GRAVITY_MPS2
        assert number <= 2
        assert along.max() <= most + 0.05


def test_heat_of_a_lap_does_not_touch_its_start(place: Place) -> None:
    here = place()
    start = started(here)
    kept = start.front.copy(), start.rear.copy()
    step = laps(here, 1)[0]
    heat_lap(here, step.way, start, step.ridden.speeds)
    assert np.array_equal(start.front, kept[0])
    assert np.array_equal(start.rear, kept[1])


def test_each_lap_begins_where_the_last_one_ended(place: Place) -> None:
    here = place()
    steps = laps(here, 3)
    for before, after in pairwise(steps):
        assert after.ridden.speeds[0] <= before.ridden.speeds[before.way.lap_steps] + 1e-12
        assert after.minute == pytest.approx(before.minute + before.ridden.heated.time_s / 60.0)


def test_side_by_side_gives_the_same_bits_as_one_after_the_other(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    def one_by_one(run: Callable[[int], object], count: int) -> None:
        for number in range(count):
            run(number)

    here = place(level="experienced")
    beside = laps(here, 2)[-1].ridden
    monkeypatch.setattr(riding, "each", one_by_one)
    after = laps(here, 2)[-1].ridden
    for one, other in zip(beside.heated.end, after.heated.end, strict=True):
        assert np.array_equal(one, other)
    assert np.array_equal(beside.caps.cap, after.caps.cap)
