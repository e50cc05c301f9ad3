"""What a way's motion makes of the tyres: heat, rises, grip asked for, caps on arrival."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from leanladder.engine import ride, usage
from leanladder.engine.grip import Floats
from leanladder.engine.pool import each
from leanladder.engine.ride import Motion, WheelForces
from leanladder.engine.tyre_thermal import FLOW_COUNT, FLOWS, Body, heat_ride, read_c
from leanladder.planning.course import Course
from leanladder.planning.forcing import rolling_forcing
from leanladder.planning.riding import GAS, Wheels
from leanladder.planning.rubber import Rubber
from leanladder.planning.setting import Setting

INTO_RUBBER = [FLOWS.index("rolling"), FLOWS.index("slip")]


class Warmed(NamedTuple):
    """A lap of both tyres, front then rear.

    arrived: states on arrival (corners, n) [degC]; end: states at the line; heat_j [J] into both tyres'
    rubber by rolling and slip; used (2, steps) [-]: friction asked for over the friction at hand.
    """

    arrived: tuple[Floats, Floats]
    end: Wheels
    heat_j: float
    used: Floats


def heat_motion(place: Setting, way: Course, moves: Motion, start: Wheels) -> Warmed:
    """Return what a lap's motion makes of tyres that start as given."""
    forces = ride.wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])
    tyres = (place.front, place.rear)
    heated: dict[int, _Tyre] = {}

    def heat(end: int) -> None:
        heated[end] = _tyre(place, way, tyres[end], (moves, forces[end]), start[end])

    each(heat, len(tyres))
    front, rear = heated[0], heated[1]
    return Warmed(
        (front.arrived, rear.arrived),
        Wheels(front.end, rear.end),
        front.heat_j + rear.heat_j,
        np.stack([front.used, rear.used]),
    )


class _Tyre(NamedTuple):
    arrived: Floats
    end: Floats
    heat_j: float
    used: Floats


def _tyre(
    place: Setting, way: Course, tyre: Rubber, ridden: tuple[Motion, WheelForces], start: Floats
) -> _Tyre:
    moves, forces = ridden
    steps = moves.dt_s.size
    end, heat_j = start.copy(), np.zeros(FLOW_COUNT)
    forcing = rolling_forcing(moves, forces, tyre, place, float(start[GAS]), way.shaded[:steps])
    states = heat_ride(
        end, tyre.body, tyre.rolling, forcing, np.arange(steps + 1), heat_j, np.zeros(tyre.body.ribs)
    )
    corner = way.corner_of[:steps]
    rows = place.bends[:, 3].astype(np.int64)
    surfaces = np.where(corner >= 0, rows[corner], 0) if rows.size else np.zeros(steps, dtype=np.int64)
    at_hand = usage.grips_at_hand(states[:steps], forcing.contact_m, surfaces, tyre.crown)
    return _Tyre(states[way.arrivals], end, float(heat_j[INTO_RUBBER].sum()), usage.demand(forces) / at_hand)


def depths_c(states: Floats, body: Body) -> Floats:
    """Return skin, outer 2 mm and carcass by third of the crown, (..., 3 depths, 3 thirds) [degC].

    states (..., n) [degC].
    """
    read = read_c(states, body)
    return np.asarray(read.reshape(*read.shape[:-1], 3, body.ribs // 3).mean(axis=-1))
