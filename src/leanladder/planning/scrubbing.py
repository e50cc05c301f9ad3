"""How far both tyres are scrubbed, lap by lap, and what that allows at each corner."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from leanladder.domain.condition import Condition
from leanladder.domain.session import Session
from leanladder.engine.grip import Floats
from leanladder.engine.scrubbing import scrubbed_on
from leanladder.planning.course import Course
from leanladder.planning.forcing import motion
from leanladder.planning.setting import Setting


class Scrubbed(NamedTuple):
    """How far tyres are opened, (2 ends, 2 sides) [deg], infinite to the edge; front and left first."""

    front: tuple[float, float]
    rear: tuple[float, float]


def at_start(session: Session, table: Mapping[str, float]) -> Scrubbed:
    """Return how far a session's tyres are scrubbed when the wheels roll.

    A tyre that nobody looked at counts as scrubbed to its edges; as new where the coach's pace stands in.
    """
    unseen = table["free_deg"] if session.coach_pace else math.inf
    front, rear = (
        (unseen, unseen) if state is None else _sides(state, table["free_deg"])
        for state in (session.front_state, session.rear_state)
    )
    return Scrubbed(front, rear)


def _sides(state: Condition, free_deg: float) -> tuple[float, float]:
    left, right = (
        math.inf if stated is None else max(stated, free_deg)
        for stated in (state.scrubbed_left_deg, state.scrubbed_right_deg)
    )
    return left, right


def limits_deg(place: Setting, scrubbed: Scrubbed) -> Floats:
    """Return the bike lean [deg] that scrubbing allows at each corner, (corners,): the lesser of both tyres.

    A bank that helps is not counted on, as with clearance.
    """
    sides = np.minimum(scrubbed.front, scrubbed.rear)
    own = np.where(place.bends[:, 0] < 0.0, sides[0], sides[1])
    return np.asarray(own + np.minimum(np.degrees(place.bends[:, 1]), 0.0))


def leaned_deg(place: Setting, way: Course, speeds: Floats) -> Floats:
    """Return where on the crown a lap stands, (2 sides, lap_steps) [deg], below zero on the other side."""
    moves = motion(way, speeds, place.stance)
    left = np.degrees(moves.bike_lean - moves.bank)
    return np.stack([left, -left])


def after_lap(place: Setting, way: Course, leaned: Floats, scrubbed: Scrubbed) -> Scrubbed:
    """Return how far the tyres are scrubbed after a lap leaned as given, (2 sides, lap_steps) [deg].

    Those that nobody looked at are allowed a lap's most at the coach's pace, however far the lap leaned.
    """
    session, table = place.session, place.tables.condition
    front, rear = (
        _added(sides, table["most_deg_per_lap"]) if state is None else _opened(sides, leaned, way, table)
        for sides, state in zip(scrubbed, (session.front_state, session.rear_state), strict=True)
    )
    return Scrubbed(front, rear)


def _added(sides: tuple[float, float], more_deg: float) -> tuple[float, float]:
    return sides[0] + more_deg, sides[1] + more_deg


def _opened(
    sides: tuple[float, float], leaned: Floats, way: Course, table: Mapping[str, float]
) -> tuple[float, float]:
    if math.isinf(min(sides)):
        return sides
    rates = (table["open_deg_per_m"], table["rubbed_deg"], table["most_deg_per_lap"])
    left, right = (
        scrubbed_on(before, on_side, way.step_m, *rates)
        for before, on_side in zip(sides, leaned, strict=True)
    )
    return left, right
