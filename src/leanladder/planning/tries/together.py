"""The plan's own tyres and few members on one lap at once: what the lap does to a tyre is worked out once."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from leanladder.engine import ride
from leanladder.engine.grip import Floats
from leanladder.engine.members import ride_members
from leanladder.engine.pool import each
from leanladder.engine.tyre_thermal import FLOW_COUNT, heat_ride
from leanladder.planning.course import Course
from leanladder.planning.forcing import forcing_and_spin, motion
from leanladder.planning.odds.crowd import Arrived, Crowd, Standing
from leanladder.planning.riding import GAS, Wheels
from leanladder.planning.rubber import NODES, RIBS


class Together(NamedTuple):
    """A lap's tyres.

    own: the plan's, front and rear, on arrival (corners, NODES); end, at the line; arrived, now: members'.
    """

    own: tuple[Floats, Floats]
    end: Wheels
    arrived: Arrived
    now: Standing


class _End(NamedTuple):
    """One end's tyres: the plan's on arrival and at the line, members' on arrival and at the line."""

    own: Floats
    end: Floats
    arrived: Floats
    now: Floats


def ride_together(crowd: Crowd, way: Course, speeds: Floats, start: Wheels) -> Together:
    """Return what a lap at speeds (points,) [m/s] makes of the plan's tyres, that start so, and members'.

    The same as planning.riding.heat_lap and planning.odds.crowd.follow_lap; the two ends go side by side.
    """
    place = crowd.place
    moves = motion(way, speeds, place.stance)
    forces = ride.wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])
    found: dict[int, _End] = {}

    def run(end: int) -> None:
        found[end] = _ridden(crowd, way, (moves, forces[end]), start[end], end)

    each(run, 2)
    front, rear = found[0], found[1]
    return Together(
        (front.own, rear.own),
        Wheels(front.end, rear.end),
        Arrived(front.arrived, rear.arrived),
        Standing(front.now, rear.now),
    )


def _ridden(
    crowd: Crowd, way: Course, lap: tuple[ride.Motion, ride.WheelForces], begins: Floats, end: int
) -> _End:
    place, (moves, force) = crowd.place, lap
    tyre, of_tyre = ((place.front, crowd.members.front), (place.rear, crowd.members.rear))[end]
    shaded = way.shaded[: way.lap_steps]
    forcing, spin = forcing_and_spin(moves, force, tyre, place, float(begins[GAS]), shaded)
    order = np.argsort(way.arrivals, kind="stable")
    back, marks = np.argsort(order, kind="stable"), way.arrivals[order]
    state, states, own = begins.copy(), crowd.now[end].copy(), np.empty((order.size, NODES))
    flowed, load_s = np.zeros(FLOW_COUNT), np.zeros(RIBS)
    own[order] = heat_ride(state, tyre.body, tyre.rolling, forcing, marks, flowed, load_s)
    outer = ride_members(states, tyre.body, tyre.rolling, forcing, spin, of_tyre.differences, marks)
    return _End(own, state, np.ascontiguousarray(outer[:, back]), states)
