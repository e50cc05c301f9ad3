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
    """Return how far a session's tyres are scrubbed when the wheels roll; to the edge where not stated."""
    return Scrubbed(
        *(_sides(state, table["free_deg"]) for state in (session.front_state, session.rear_state))
    )


def _sides(state: Condition | None, free_deg: float) -> tuple[float, float]:
    if state is None:
        return math.inf, math.inf
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
    """Return how far the tyres are scrubbed after a lap leaned as given, (2 sides, lap_steps) [deg]."""
    if np.isinf(scrubbed).all():
        return scrubbed
    table = place.tables.condition

    def opened(side: int, before: float) -> float:
        return scrubbed_on(
            before,
            leaned[side],
            way.step_m,
            table["open_deg_per_m"],
            table["rubbed_deg"],
            table["most_deg_per_lap"],
        )

    return Scrubbed(*((opened(0, sides[0]), opened(1, sides[1])) for sides in scrubbed))
