"""How a stopped run's rubber cools from the flag on, followed minute by minute and kept."""

from __future__ import annotations

from datetime import datetime

from django.core.cache import cache

from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder
from leanladder.engine.tyre_thermal import third_c
from leanladder.planning import starts
from leanladder.planning.laps import ride, started
from leanladder.planning.riding import Wheels
from leanladder.planning.rubber import RIBS
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables
from leanladder.records import days
from leanladder.records import given as handed
from leanladder.records.models import Given, Standing
from leanladder.web import handing, plans
from leanladder.web.live.clock import rolls_at

# The strip's length [min], as on the design's board.
STRIP_MIN = 16
KEEP_S = 3600
LEFT, RIGHT = 0, 2


def last_given(day_pk: int, run_name: str, before: datetime) -> Given | None:
    """Return what a run had been given last when it stopped; None for nothing."""
    some = handed.given_of(day_pk)
    return next((each for each in reversed(some) if each.run_name == run_name and each.at <= before), None)


def entries_of(day_pk: int, run_name: str, given: Given | None) -> tuple[DayLadder, ...]:
    """Return a run's combinations as given out, else as they stand; none while they are worked out."""
    if given is not None:
        return handing.handed(given.pk).entries
    worked = plans.worked(day_pk)
    return () if worked is None else plans.run_entries(worked, run_name)


def rolled_min(day_pk: int, run_name: str, stop: Standing, given: Given | None) -> float:
    """Return how long a run had rolled when it stopped [min]; from its cards on, if they came later."""
    run = next((each for each in days.runs(day_pk) if each.name == run_name), None)
    if run is None:
        return 0.0
    began = rolls_at(days.day(day_pk), run.at)
    began = began if given is None else max(began, given.at)
    return max((stop.since - began).total_seconds() / 60.0, 0.0)


def after_flag(day_pk: int, run_name: str, stop: Standing) -> tuple[float, ...] | None:
    """Return the outer 2 mm of a stopped run's coldest shoulder [degC], a figure a minute from the flag on.

    Of the most careful combination, whose laps hold a fixed share of the grip back here: it shows heat and is
    never handed out. None where there is no ladder.
    """
    key = f"live:cooling:{stop.pk}:{stop.in_sun}"
    found: tuple[float, ...] | None = cache.get(key)
    if found is not None:
        return found
    given = last_given(day_pk, run_name, stop.since)
    ladders = [each.ladder for each in entries_of(day_pk, run_name, given) if each.ladder is not None]
    if not ladders:
        return None
    found = _followed(ladders[0], rolled_min(day_pk, run_name, stop, given), in_sun=stop.in_sun)
    cache.set(key, found, KEEP_S)
    return found


def _followed(ladder: Ladder, rolled: float, *, in_sun: bool) -> tuple[float, ...]:
    place = setting(ladder.session, shipped_tables())
    state = started(place)
    for step in ride(place, state, len(ladder.laps)):
        if step.minute + step.ridden.heated.time_s / 60.0 > rolled:
            break
        state = step.ridden.heated.end
    found = []
    for _ in range(STRIP_MIN):
        found.append(_coldest_c(place, state))
        tyres = zip(state, (place.front, place.rear), strict=True)
        state = Wheels(*(starts.stood(each, tyre, place, 1.0, in_sun) for each, tyre in tyres))
    return tuple(found)


def _coldest_c(place: Setting, state: Wheels) -> float:
    share = place.front.crown.outer_share
    return min(third_c(each, RIBS, side, share) for each in state for side in (LEFT, RIGHT))
