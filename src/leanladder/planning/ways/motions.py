"""How each way is ridden: speeds and leans of its laps, by one speed that sets its pace."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from leanladder.engine import cornering, pace
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.ride import Motion
from leanladder.planning import scrubbing
from leanladder.planning.course import Course
from leanladder.planning.forcing import motion
from leanladder.planning.laps import orders
from leanladder.planning.riding import Caps, ride_lap
from leanladder.planning.ways.base import Base, caps_at, going, upright_limits
from leanladder.planning.ways.heating import heat_motion
from leanladder.planning.ways.swings import Swing, swung


class Ridden(NamedTuple):
    """One lap of a way: the course, its motion step by step, the speed at the line [m/s]."""

    way: Course
    moves: Motion
    last_mps: float


def _ridden(base: Base, way: Course, speeds: Floats) -> Ridden:
    return Ridden(way, motion(way, speeds, base.place.stance), float(speeds[way.lap_steps]))


def seconds(laps: list[Ridden]) -> float:
    """Return how long the laps take [s]."""
    return float(sum(lap.moves.dt_s.sum() for lap in laps))


def steady(base: Base, top_mps: float) -> list[Ridden]:
    """Return even laps: corners slow, drive and braking gentle, nowhere faster than top_mps [m/s]."""
    slow = np.minimum(base.caps.cap, base.ways["slow_corner_deg"])
    return _gentle(base, slow, top_mps)


def slow_straights(base: Base, top_mps: float) -> list[Ridden]:
    """Return laps with corners at the level's usual lean from the first on, straights at top_mps [m/s]."""
    usual = np.full(base.caps.cap.size, base.place.session.level.usual_lean_deg.value)
    return _gentle(base, np.minimum(usual, base.place.clearance), top_mps)


def _gentle(base: Base, bike_deg: Floats, top_mps: float) -> list[Ridden]:
    level, place = base.place.session.level, base.place
    laps: list[Ridden] = []
    entry_mps = pace.SLOWEST_MPS
    for way in base.laps:
        bounds = going(base, way, bike_deg, level.coach_drive_mps2.value, level.coach_brake_mps2.value)
        top = min(top_mps, level.straight_mps.value)
        speeds, _ = pace.lap_speeds(bounds, place.machine, top, entry_mps)
        laps.append(_ridden(base, way, speeds))
        entry_mps = laps[-1].last_mps
    return laps


def weaving(base: Base, top_mps: float) -> list[Ridden]:
    """Return steady laps that weave from side to side on every straight, in whole waves."""
    laps = steady(base, top_mps)
    return [lap._replace(moves=_woven(base, lap)) for lap in laps]


def _woven(base: Base, lap: Ridden) -> Motion:
    """A lap's motion with the weave's lean, side force and path on top of its own."""
    moves, stance = lap.moves, base.place.stance
    turn = 2.0 * math.pi / base.ways["weave_s"]
    phase = _phases(lap, turn)
    bike = moves.bike_lean + math.radians(base.ways["weave_deg"]) * np.sin(phase)
    lean = cornering.leans_of_bike_leans(bike, stance.crown_m, stance.cg_height_m)
    # across a weave the machine moves sideways by g tan(lean) integrated twice: once gives this speed
    across = np.where(
        phase > 0.0, GRAVITY_MPS2 * math.tan(float(np.abs(lean - moves.lean).max())) / turn, 0.0
    )
    return moves._replace(
        speed_mps=np.hypot(moves.speed_mps, across * np.cos(phase)), lean=lean, bike_lean=bike
    )


def _phases(lap: Ridden, turn: float) -> Floats:
    """Phase of the weave at each step [rad], 0 where none: corners, and what whole waves leave over."""
    inside = lap.way.corner_of[: lap.way.lap_steps] >= 0
    phase = np.zeros(inside.size)
    edges = np.flatnonzero(np.diff(np.concatenate([[True], inside, [True]]).astype(np.int64)))
    for first, stop in zip(edges[::2], edges[1::2], strict=True):
        passed = turn * (np.cumsum(lap.moves.dt_s[first:stop]) - 0.5 * lap.moves.dt_s[first:stop])
        whole = 2.0 * math.pi * math.floor((passed[-1] if passed.size else 0.0) / (2.0 * math.pi))
        phase[first:stop] = np.where(passed < whole, passed, 0.0)
    return phase


def upright(base: Base, middle_mps: float) -> list[Ridden]:
    """Return laps that drive and brake upright on every straight about middle_mps [m/s], corners slow."""
    level, place = base.place.session.level, base.place
    slow = np.minimum(base.caps.cap, base.ways["slow_corner_deg"])
    laps: list[Ridden] = []
    wheels, caps, entry_mps = base.start, base.caps, pace.SLOWEST_MPS
    for number, way in enumerate(base.laps, 1):
        drive, brake = upright_limits(base, number, caps)
        bounds = going(base, way, slow, drive, level.coach_brake_mps2.value)
        half = base.ways["swing_mps"]
        top = min(middle_mps + half, level.straight_mps.value)
        within, _ = pace.lap_speeds(bounds, place.machine, level.straight_mps.value, entry_mps)
        swing = Swing(top - 2.0 * half, top, drive, brake, level.coach_drive_mps2.value, base.ways["done_m"])
        laps.append(_ridden(base, way, swung(way, within, swing, place.machine)))
        wheels = heat_motion(place, way, laps[-1].moves, wheels).end
        caps, entry_mps = caps_at(place, wheels), laps[-1].last_mps
    return laps


def growing_lean(base: Base, top_mps: float) -> list[Ridden]:
    """Return the ladder's own laps, each within its caps, with straights at no more than top_mps [m/s]."""
    level = base.place.session.level
    slower = replace(level.straight_mps, value=min(top_mps, level.straight_mps.value))
    held = replace(base.place.session, level=replace(level, straight_mps=slower))
    place = replace(base.place, session=held)
    laps: list[Ridden] = []
    wheels, entry_mps = base.start, pace.SLOWEST_MPS
    before: Caps | None = None
    scrubbed = scrubbing.at_start(held, place.tables.condition)
    for number, way in enumerate(base.laps, 1):
        asked = orders(place, number, entry_mps, before, wheels, scrubbing.limits_deg(place, scrubbed))
        lap = ride_lap(place, way, wheels, asked)
        leaned = scrubbing.leaned_deg(place, way, lap.speeds)
        scrubbed = scrubbing.after_lap(place, way, leaned, scrubbed)
        laps.append(_ridden(base, way, lap.speeds))
        wheels, before, entry_mps = lap.heated.end, lap.caps, laps[-1].last_mps
    return laps
