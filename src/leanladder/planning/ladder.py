"""Session in, Ladder out: the main job."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import cache
from typing import NamedTuple

import numpy as np

from leanladder import catalogue, wording
from leanladder.domain.chance import FallOdds
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.domain.ladder import Ladder, Lap, Notice
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.engine import ENGINE
from leanladder.engine.grip import Floats
from leanladder.planning.condition import check_fit
from leanladder.planning.laps import MOST_LAPS, Step, ride, started, straights_code, warm
from leanladder.planning.notices import notices
from leanladder.planning.odds import falls
from leanladder.planning.odds.counting import check_chance
from leanladder.planning.odds.crowd import Crowd, gather
from leanladder.planning.riding import Wheels, check_followed
from leanladder.planning.rungs import lap_told
from leanladder.planning.scrubbing import Scrubbed
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import Remark, Tables, shipped_tables

Progress = Callable[[int, int], None]


class Followed(NamedTuple):
    """A ladder, and both tyres as the last of its laps left them: their heat, how far they are scrubbed.

    most_deg (2,) [deg]: the most lean on the crown, left and right, of all its laps; steps: its laps as
    ridden, from tyres that began as `start`.
    """

    ladder: Ladder
    left: Wheels
    scrubbed: Scrubbed
    most_deg: Floats
    place: Setting
    start: Wheels
    steps: tuple[Step, ...]


def plan(session: Session, tables: Tables | None = None, progress: Progress | None = None) -> Ladder:
    """Return the ladder that answers a session.

    progress is told the laps done and those to do, lap by lap.
    Raises InputError for more than 40 laps or 3 h, OutsideModelError where there is no number:
    rubber below 0 degC, for which the caution card has none.
    """
    return follow(session, tables, progress=progress).ladder


def follow(
    session: Session,
    tables: Tables | None = None,
    *,
    begin: Callable[[Setting], Wheels] | None = None,
    minutes: float | None = None,
    progress: Progress | None = None,
) -> Followed:
    """Return the ladder that answers a session, and how it leaves the tyres.

    begin makes the tyres as they start, where the session's own start does not say it; minutes [min], where
    given, asks for the laps begun within them, up to the session's laps. The rest is as in plan.
    """
    tables = shipped_tables() if tables is None else tables
    _check(session)
    check_chance(session.chance)
    check_fit(session, tables.condition)
    place = setting(session, tables)
    start = (begin or started)(place)
    crowd = gather(place, start, carried_on=begin is not None)
    steps = _ridden(place, start, crowd, minutes, progress)
    for step in steps:
        check_followed(step.ridden.heated.end)
    if minutes is not None:
        session = replace(session, laps=sum(step.minute < minutes for step in steps))
        place = replace(place, session=session)
    session_laps = tuple(lap_told(place, number, step) for number, step in enumerate(steps, 1))
    laps, asked = session_laps[: session.laps], steps[: session.laps]
    _check_brittle(laps)
    said = [_warning(remark) for remark in notices(place, laps, session_laps)]
    ladder = Ladder(
        session=session,
        laps=laps,
        warnings=tuple(said),
        cautions=wording.cautions(
            warming=any(straights_code(place, step.orders) == "straights_early" for step in asked)
        ),
        engine=ENGINE,
        parameters=_digest(session),
        members=crowd.members.count,
        fall_odds=_fall_odds(crowd, asked),
    )
    most_deg = np.max([step.most_deg for step in asked], axis=0)
    last = asked[-1]
    return Followed(ladder, last.ridden.heated.end, last.scrubbed, most_deg, place, start, tuple(asked))


def _digest(session: Session) -> str:
    """A short name of every figure the plan counts on."""
    return catalogue.digest(
        session.front.tyre,
        session.rear.tyre,
        session.motorcycle,
        session.level,
        session.surface,
        catalogue.spreads(),
        _tables_digest(),
    )


@cache
def _tables_digest() -> str:
    return catalogue.digest(*(catalogue.parameters(name) for name in catalogue.table_names()))


def _check(session: Session) -> None:
    if not 1 <= session.laps <= MOST_LAPS:
        fault = Fault(field="laps", value=str(session.laps), allowed=f"1 to {MOST_LAPS}")
        raise InputError(f"{session.laps} laps are not planned at once.", fault)
    if session.weather.air_c < 0.0 and session.start.kind != "warmers":
        raise _brittle(f"{session.weather.air_c:g} degC")


def _brittle(value: str) -> OutsideModelError:
    code = "rubber_below_zero"
    remedy = wording.text(f"remedy.{code}")
    fault = Fault(field="air", value=value, allowed="rubber of 0 degC and above", remedy=remedy)
    return OutsideModelError(code, wording.text(code), fault)


def _check_brittle(laps: Iterable[Lap]) -> None:
    """Raise OutsideModelError where a shoulder leaned on is below 0 degC: the card has no number there."""
    for lap in laps:
        for rung in lap.rungs:
            shoulder_c = min(getattr(tyre, f"{rung.side}_c") for tyre in (rung.front, rung.rear))
            if shoulder_c < 0.0:
                raise _brittle(f"{shoulder_c:.1f} degC at turn {rung.number} of lap {lap.lap}")


def _ridden(
    place: Setting, start: Wheels, crowd: Crowd, minutes: float | None, progress: Progress | None
) -> list[Step]:
    """The laps asked for, and after few of them as many more as a session takes.

    What a tyre will never reach, and which side stays cold, shows only then.
    """
    steps: list[Step] = []
    for step in ride(place, start, MOST_LAPS, crowd, math.inf if minutes is None else minutes):
        steps.append(step)
        if progress is not None and step.told is not None:
            progress(len(steps), _laps_to_do(place, steps, minutes))
        over = minutes is not None and step.minute + step.ridden.heated.time_s / 60.0 >= minutes
        if (over or len(steps) >= place.session.laps) and warm(place, step):
            break
    return steps


def _laps_to_do(place: Setting, steps: list[Step], minutes: float | None) -> int:
    """How many laps a session will have: as many as asked for, or as begin within minutes at this pace."""
    if minutes is None:
        return place.session.laps
    lap_min = steps[-1].ridden.heated.time_s / 60.0
    left = math.ceil((minutes - steps[-1].minute - lap_min) / lap_min)
    return min(len(steps) + max(left, 0), place.session.laps)


def _fall_odds(crowd: Crowd, steps: Iterable[Step]) -> FallOdds:
    """The odds of a fall by grip over laps, of one rider and of a field on one day."""
    members = crowd.members
    told = [step.told for step in steps if step.told is not None]
    odds = falls.of_members(
        np.sum([each.kept_front for each in told], axis=0),
        np.sum([each.kept_rear for each in told], axis=0),
        (members.front.level_spread, members.rear.level_spread),
    )
    days = [spread.code for spread in catalogue.spreads() if spread.scope == "day"]
    field = falls.of_field(odds, np.stack([members.draws.common[code] for code in days]))
    return FallOdds(float(odds.mean()), field, falls.FIELD)


def _warning(remark: Remark) -> Notice:
    told = Sentence(remark.said or remark.code, remark.figures)
    return Notice(remark.code, wording.text(told.code, "en", **told.figures), told)
