"""A session's laps, ridden one after the other: how each is to be ridden, and how it leaves the tyres."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from leanladder.domain.errors import Fault, InputError
from leanladder.engine import pace
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import third_c
from leanladder.planning import scrubbing, starts
from leanladder.planning.course import Course, course
from leanladder.planning.odds.crowd import Crowd
from leanladder.planning.odds.told import Told, ride_sure
from leanladder.planning.riding import Caps, Orders, Ridden, Wheels, ride_lap
from leanladder.planning.rubber import RIBS
from leanladder.planning.scrubbing import Scrubbed
from leanladder.planning.setting import Setting

MOST_LAPS = 40
MOST_MIN = 180.0


class Step(NamedTuple):
    """A ridden lap with the way it was ridden on, the minute it began and how it was to be ridden.

    scrubbed: how far it leaves the tyres scrubbed; most_deg (2,) [deg], the most lean on the crown, left
    and right. told: what the members say of the lap, None where none were asked.
    """

    way: Course
    ridden: Ridden
    minute: float
    orders: Orders
    scrubbed: Scrubbed
    most_deg: Floats
    told: Told | None = None


def started(place: Setting) -> Wheels:
    """Return both tyres as they are when the wheels roll."""
    start = place.session.start
    cold = starts.soaked(place.session.weather.air_c)
    if start.kind == "cold":
        return Wheels(cold, cold.copy())
    if start.kind == "warmers":
        return Wheels(starts.off_warmers(place.front, place), starts.off_warmers(place.rear, place))
    warm = _warmed_up(place, Wheels(cold, cold.copy()))
    stood = [
        starts.stood(state, tyre, place, start.off_min, start.in_sun)
        for state, tyre in zip(warm, (place.front, place.rear), strict=True)
    ]
    return Wheels(*stood)


def _warmed_up(place: Setting, cold: Wheels) -> Wheels:
    """The tyres after a session of the same riders on the same road from cold."""
    return next(step.ridden.heated.end for step in ride(place, cold, MOST_LAPS) if warm(place, step))


def warm(place: Setting, step: Step) -> bool:
    """Whether a lap ends what counts as a warmed-up session."""
    return step.minute + step.ridden.heated.time_s / 60.0 >= place.tables.margin["warm_session_min"]


def ride(
    place: Setting, start: Wheels, laps: int, crowd: Crowd | None = None, minutes: float = math.inf
) -> Iterator[Step]:
    """Yield lap after lap; the first from a standstill at the pit exit, or at the line without one.

    With a crowd the session's own laps, those begun within minutes [min], keep caps that hold with its
    chance, and laps after them carry the last offsets on; without one, a fixed share of the grip is held
    back instead. Raises InputError once the laps take more than 3 h.
    """
    circuit, margin = place.session.circuit, place.tables.margin
    first = course(circuit, circuit.pit_exit_m or 0.0, margin["arrival_m"])
    whole = course(circuit, 0.0, margin["arrival_m"])
    minute, entry, state = 0.0, pace.SLOWEST_MPS, start
    before: Caps | None = None
    last: Told | None = None
    scrubbed = scrubbing.at_start(place.session, place.tables.condition)
    for number in range(1, laps + 1):
        way = first if number == 1 else whole
        asked = orders(place, number, entry, before, state, scrubbing.limits_deg(place, scrubbed))
        asked = asked._replace(offsets=None if last is None else last.counted.offsets)
        told: Told | None = None
        if crowd is None or number > place.session.laps or minute >= minutes:
            ridden = ride_lap(place, way, state, asked)
        else:
            ridden, told = ride_sure(crowd, way, state, asked, number)
            crowd, last = replace(crowd, now=told.now), told
        leaned = scrubbing.leaned_deg(place, way, ridden.speeds)
        scrubbed = scrubbing.after_lap(place, way, leaned, scrubbed)
        yield Step(way, ridden, minute, asked, scrubbed, leaned.max(axis=1), told)
        minute += ridden.heated.time_s / 60.0
        if minute > MOST_MIN and number < laps:
            fault = Fault(field="laps", value=str(laps), allowed="3 h of riding at most")
            raise InputError(f"{laps} laps would take more than 3 h.", fault)
        entry, state, before = float(ridden.speeds[way.lap_steps]), ridden.heated.end, ridden.caps


def orders(
    place: Setting, number: int, entry_mps: float, before: Caps | None, start: Wheels, scrubbed_deg: Floats
) -> Orders:
    """Return how lap number is to be ridden from tyres that start it as given, warm and scrubbed.

    On the early laps, and until the rubber under the upright machine is in its range, at most half the grip
    is for upright drive and braking; where the level may not be told to warm tyres by them, or the circuit
    does not allow it, those laps keep to the coach's pace.
    """
    level = place.session.level
    early = number <= place.tables.margin["early_laps"] or not _centre_in(place, start)
    hard = level.warming and place.session.circuit.hard_upright_allowed
    coach = not hard and (early or number <= level.coach_laps)
    return Orders(
        entry_mps,
        level.coach_drive_mps2.value if coach else level.drive_mps2.value,
        level.coach_brake_mps2.value if coach else level.brake_mps2.value,
        early,
        coach,
        before,
        scrubbed_deg,
    )


def _centre_in(place: Setting, start: Wheels) -> bool:
    """Whether the outer 2 mm under the upright machine are in their range on both tyres."""
    share, session = place.front.crown.outer_share, place.session
    fitted = zip(start, (session.front, session.rear), strict=True)
    return all(third_c(state, RIBS, 1, share) >= tyre.tyre.working_low_c.value for state, tyre in fitted)


def straights_code(place: Setting, asked: Orders) -> str:
    """Return the wording code of how to ride the straights of a lap."""
    if asked.coach or not place.session.level.warming:
        return "straights_coach"
    return "straights_early" if asked.early else "straights_usual"
