"""Heat in and out of a tyre since the wheels rolled, up to the moment it arrives at a corner."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from leanladder.domain.why import HeatBudget
from leanladder.engine import ride
from leanladder.engine.grip import Floats
from leanladder.engine.ride import Motion, WheelForces
from leanladder.engine.tyre_thermal import FLOW_COUNT, FLOWS, FLOWS_IN, heat_ride
from leanladder.planning.forcing import motion, rolling_forcing
from leanladder.planning.laps import Step
from leanladder.planning.riding import GAS, Wheels
from leanladder.planning.rubber import RIBS, Rubber
from leanladder.planning.setting import Setting

NO_MARKS = np.zeros(0, dtype=np.int64)


class Arrival(NamedTuple):
    """One tyre at a corner: its state (n,) [degC], what flowed on the lap so far (FLOW_COUNT,) [J]."""

    state: Floats
    heat_j: Floats


def arrive(place: Setting, step: Step, at_start: Wheels, index: int) -> tuple[Arrival, Arrival]:
    """Return front and rear as they arrive at a corner by its index, the lap ridden again up to there.

    at_start: both tyres as the lap began. The states are those that the lap itself arrived with.
    """
    moves = motion(step.way, step.ridden.speeds, place.stance)
    forces = ride.wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])
    front = _arrived(place, step, index, (place.front, moves, forces[0], at_start.front))
    return front, _arrived(place, step, index, (place.rear, moves, forces[1], at_start.rear))


def _arrived(
    place: Setting, step: Step, index: int, ridden: tuple[Rubber, Motion, WheelForces, Floats]
) -> Arrival:
    tyre, moves, forces, at_start = ridden
    way, until = step.way, int(step.way.arrivals[index])
    shaded = way.shaded[: way.lap_steps]
    forcing = rolling_forcing(moves, forces, tyre, place, float(at_start[GAS]), shaded)
    so_far = type(forcing)(*(part[:until] for part in forcing))
    state, heat_j = at_start.copy(), np.zeros(FLOW_COUNT)
    heat_ride(state, tyre.body, tyre.rolling, so_far, NO_MARKS, heat_j, np.zeros(RIBS))
    return Arrival(state, heat_j)


def minutes_until(step: Step, place: Setting, index: int) -> float:
    """Return the minutes [min] since rolling at which a lap arrives at a corner by its index."""
    moves = motion(step.way, step.ridden.speeds, place.stance)
    return step.minute + float(moves.dt_s[: int(step.way.arrivals[index])].sum()) / 60.0


def budget(minutes: float, heat_j: Floats, stored_j: Mapping[str, float]) -> HeatBudget:
    """Return flows (FLOW_COUNT,) [J] by name, and what stayed."""
    flows = dict(zip(FLOWS, heat_j.tolist(), strict=True))
    named_in, named_out = FLOWS[:FLOWS_IN], FLOWS[FLOWS_IN:]
    return HeatBudget(
        minutes, {name: flows[name] for name in named_in}, {name: flows[name] for name in named_out}, stored_j
    )
