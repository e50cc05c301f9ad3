"""A ladder at a glance: what few members tell of it, for which way limits go while a control moves.

What it leaves out of a plan: each lap is ridden once, at the speeds of limits guessed from another glance,
and counted once; few members, none asked for its odds or for what moves it; no laps beyond those shown. Its
limits lie near a plan's, on the low side where grip sets them: they are compared with each other alone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from leanladder.domain.session import Session
from leanladder.engine import pace
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import third_c
from leanladder.planning import scrubbing
from leanladder.planning.course import Course, course
from leanladder.planning.laps import orders, started
from leanladder.planning.odds.crowd import Crowd, gather
from leanladder.planning.odds.told import Counted, count, count_still
from leanladder.planning.riding import Caps, Orders, Wheels, check_followed, speeds_within
from leanladder.planning.rubber import RIBS
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import Tables, shipped_tables
from leanladder.planning.tries.origin import Begin
from leanladder.planning.tries.together import Together, ride_together

MEMBERS = 64
SETTLING = 3  # rides of a lap where there is no glance to guess from


class Glance(NamedTuple):
    """What a glance tells of each lap and corner.

    caps_deg (laps, corners) [deg, bike lean], shoulders_c (laps, corners, 2) [degC]: outer 2 mm of the side
    leaned to on arrival, front and rear; NaN where a lap starts behind the corner. caps: by lap.
    """

    caps_deg: Floats
    shoulders_c: Floats
    caps: tuple[Caps, ...]


class _Lap(NamedTuple):
    """A lap glanced at."""

    way: Course
    counted: Counted
    ridden: Together
    exit_mps: float
    scrubbed: scrubbing.Scrubbed
    crowd: Crowd


def glance(
    session: Session,
    laps: int,
    *,
    begin: Begin | None = None,
    guess: Glance | None = None,
    going_on: Callable[[], None] = lambda: None,
    tables: Tables | None = None,
) -> Glance:
    """Return what a glance tells of a session's first laps.

    begin: as planning.ladder.follow takes it. guess: a glance at nearly the same session, whose limits
    the laps are ridden at; without it each lap is ridden till it settles. going_on is called lap by lap and
    raises where the answer is no longer wanted. Raises as planning.ladder.plan does.
    """
    place = setting(session, shipped_tables() if tables is None else tables)
    start = (begin or started)(place)
    crowd = gather(place, start, carried_on=begin is not None, count=MEMBERS)
    found: list[_Lap] = []
    for number in range(1, laps + 1):
        going_on()
        found.append(_lap(crowd, start, number, found[-1] if found else None, guess))
        crowd = found[-1].crowd
    return _told(place, found)


def _lap(crowd: Crowd, start: Wheels, number: int, last: _Lap | None, guess: Glance | None) -> _Lap:
    place = crowd.place
    way, state, asked = _asked(place, start, number, last)
    caps = _guessed(crowd, start, asked, last, guess, number)
    for _ in range(1 if guess is not None else SETTLING):
        speeds = speeds_within(place, way, asked, caps)
        ridden = ride_together(crowd, way, speeds, state)
        check_followed(ridden.end)
        counted = count(crowd, ridden.arrived, ridden.own, asked.scrubbed, number)
        caps = counted.caps
    leaned = scrubbing.leaned_deg(place, way, speeds)
    began = scrubbing.at_start(place.session, place.tables.condition) if last is None else last.scrubbed
    scrubbed = scrubbing.after_lap(place, way, leaned, began)
    exit_mps = float(speeds[way.lap_steps])
    return _Lap(way, counted, ridden, exit_mps, scrubbed, replace(crowd, now=ridden.now))


def _asked(place: Setting, start: Wheels, number: int, last: _Lap | None) -> tuple[Course, Wheels, Orders]:
    """The way of a lap, both tyres as it begins, and how it is to be ridden."""
    circuit, arrival_m = place.session.circuit, place.tables.margin["arrival_m"]
    if last is None:
        way, state, entry, before = (
            course(circuit, circuit.pit_exit_m or 0.0, arrival_m),
            start,
            pace.SLOWEST_MPS,
            None,
        )
        scrubbed = scrubbing.at_start(place.session, place.tables.condition)
    else:
        way = last.way if number > 2 else course(circuit, 0.0, arrival_m)
        state, entry, before, scrubbed = last.ridden.end, last.exit_mps, last.counted.caps, last.scrubbed
    asked = orders(place, number, entry, before, state, scrubbing.limits_deg(place, scrubbed))
    return way, state, asked._replace(offsets=None if last is None else last.counted.offsets)


def _guessed(
    crowd: Crowd, start: Wheels, asked: Orders, last: _Lap | None, guess: Glance | None, number: int
) -> Caps:
    """The limits that a lap is ridden at: the other glance's, moved as those of the lap before were."""
    if guess is None or number > len(guess.caps):
        return count_still(crowd, start, asked.scrubbed).caps if last is None else last.counted.caps
    theirs = guess.caps[number - 1]
    if last is None:
        return theirs
    before = guess.caps[number - 2]
    moved = np.maximum(theirs.cap + last.counted.caps.cap - before.cap, 0.0)
    return theirs._replace(cap=moved, held_upright=last.counted.caps.held_upright)


def _told(place: Setting, found: list[_Lap]) -> Glance:
    corners = place.bends.shape[0]
    caps, shoulders = np.full((len(found), corners), np.nan), np.full((len(found), corners, 2), np.nan)
    share = place.front.crown.outer_share
    for row, lap in enumerate(found):
        for index in lap.way.ridden:
            third = 0 if place.bends[index, 0] < 0 else 2
            states = (lap.ridden.own[0][index], lap.ridden.own[1][index])
            caps[row, index] = lap.counted.caps.cap[index]
            shoulders[row, index] = [third_c(state, RIBS, third, share) for state in states]
    return Glance(caps, shoulders, tuple(lap.counted.caps for lap in found))
