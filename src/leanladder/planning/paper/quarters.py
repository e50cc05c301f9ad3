"""Quarters of a rider's usual lean, and the word beside them."""

from __future__ import annotations

import math

from leanladder import catalogue
from leanladder.domain.day import Rider
from leanladder.domain.paper import Fan, RiderWord
from leanladder.planning.paper.spans import Column

WHOLE = 4
_WORDS: tuple[RiderWord, ...] = ("upright", "not_yet", "easy", "easy", "usual")


def usual_deg(rider: Rider) -> float:
    """Return a rider's usual bike lean [deg]: their own, counted at most the level's."""
    own, level = rider.usual_lean_deg, catalogue.level(rider.level).usual_lean_deg.value
    return level if own is None else min(own, level)


def quarters(cap_bike_deg: float, usual_lean_deg: float, most: int = WHOLE) -> int:
    """Return how many quarters of the usual lean a cap carries, rounded down, from 0 to most.

    cap_bike_deg, usual_lean_deg [deg, bike lean]; usual_lean_deg above 0. Never more than the cap: where
    the division rounds up to a quarter that the cap does not reach, that quarter is taken off.
    """
    found = min(most, math.floor(WHOLE * cap_bike_deg / usual_lean_deg))
    while found > 0 and found * usual_lean_deg > WHOLE * cap_bike_deg:
        found -= 1
    return max(found, 0)


def word(found: int) -> RiderWord:
    """Return the word beside so many quarters."""
    return _WORDS[found]


def most_quarters(column: Column, coach_laps: int, *, coach_pace: bool) -> int:
    """Return the most that a column may show: never the usual lean at the coach's pace."""
    at_coach = coach_pace or any(lap.lap <= coach_laps for lap in column.laps)
    return WHOLE - 1 if at_coach else WHOLE


def fan(cap_bike_deg: float, usual_lean_deg: float, most: int = WHOLE) -> Fan:
    """Return what a rider reads for a cap."""
    found = quarters(cap_bike_deg, usual_lean_deg, most)
    return Fan(found, word(found))
