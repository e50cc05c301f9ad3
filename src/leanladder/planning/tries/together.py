"""The plan's own tyres and few members on one lap at once: what the lap does to a tyre is worked out once."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from leanladder.engine import ride
from leanladder.engine.grip import Floats
from leanladder.engine.members import Differences, ride_members
from leanladder.engine.pool import each
from leanladder.engine.spells import Places
from leanladder.engine.tyre_thermal import FLOW_COUNT, Forcing, heat_ride
from leanladder.planning.course import Course
from leanladder.planning.forcing import forcing_and_spin, motion
from leanladder.planning.odds.crowd import Arrived, Crowd, Standing
from leanladder.planning.riding import GAS, Wheels
from leanladder.planning.rubber import RIBS, Rubber


class Together(NamedTuple):
    """A lap's tyres.

    own: the plan's, front and rear, on arrival (corners, NODES); end, at the line; arrived, now: members'.
    """

    own: tuple[Floats, Floats]
    end: Wheels
    arrived: Arrived
    now: Standing


class _End(NamedTuple):
    """One end's tyres as a lap begins, the plan's and members', and what the lap does to them."""

    tyre: Rubber
    differences: Differences
    forcing: Forcing
    spin: Floats
    own: Floats
    members: Floats


def ride_together(crowd: Crowd, way: Course, speeds: Floats, start: Wheels) -> Together:
    """Return what a lap at speeds (points,) [m/s] makes of the plan's tyres, that start so, and members'.

    The same as planning.riding.heat_lap and planning.odds.crowd.follow_lap; four rides, side by side.
    """
    ends = _ends(crowd, way, speeds, start)
    order = np.argsort(way.arrivals, kind="stable")
    back, marks = np.argsort(order, kind="stable"), way.arrivals[order]
    arrived: dict[int, Floats] = {}

    def run(number: int) -> None:
        # members first: they take longer than a tyre alone, which fills what time is left
        ride_one = _ride_own if number >= len(ends) else _ride_members
        arrived[number] = ride_one(ends[number % len(ends)], marks)

    each(run, 2 * len(ends))
    members = (np.ascontiguousarray(arrived[number][:, back]) for number in (0, 1))
    return Together(
        (arrived[2][back], arrived[3][back]),
        Wheels(*(end.own for end in ends)),
        Arrived(*members),
        Standing(*(end.members for end in ends)),
    )


def _ends(crowd: Crowd, way: Course, speeds: Floats, start: Wheels) -> tuple[_End, _End]:
    """Both ends, made ready on one thread: short sums on two would only wait for each other's lock."""
    place = crowd.place
    moves = motion(way, speeds, place.stance)
    front, rear = ride.wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])
    shaded = way.shaded[: way.lap_steps]

    def end(tyre: Rubber, differences: Differences, force: ride.WheelForces, at: Floats, now: Floats) -> _End:
        forcing, spin = forcing_and_spin(moves, force, tyre, place, float(at[GAS]), shaded)
        return _End(tyre, differences, forcing, spin, at.copy(), now.copy())

    return (
        end(place.front, crowd.members.front.differences, front, start.front, crowd.now.front),
        end(place.rear, crowd.members.rear.differences, rear, start.rear, crowd.now.rear),
    )


def _ride_own(end: _End, marks: Places) -> Floats:
    flowed, load_s = np.zeros(FLOW_COUNT), np.zeros(RIBS)
    return heat_ride(end.own, end.tyre.body, end.tyre.rolling, end.forcing, marks, flowed, load_s)


def _ride_members(end: _End, marks: Places) -> Floats:
    body, shares = end.tyre.body, end.tyre.rolling
    return ride_members(end.members, body, shares, end.forcing, end.spin, end.differences, marks)
