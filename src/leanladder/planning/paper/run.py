"""One session's entries made ready for paper: its heading, its columns, who leads in which language."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time
from typing import Required, TypedDict, Unpack

from leanladder import wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder, DaySession, Rider, SetName
from leanladder.domain.field import FieldPlan
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import Heading
from leanladder.planning.day_weather import minute_of
from leanladder.planning.field import field_plan, free_from
from leanladder.planning.paper.figures import count_of
from leanladder.planning.paper.quarters import most_quarters
from leanladder.planning.paper.spans import Column, SpanKind, columns, span_kind

LAST_MINUTE = 24 * 60 - 1


class Head(TypedDict, total=False):
    """What a heading says beyond its session: the day word, the set, and when it was given out."""

    word: Required[str]
    set_name: SetName | None
    given_out: datetime | None


@dataclass(frozen=True, slots=True)
class Run:
    """A session with its entries, those together that go out at once.

    kind: what its columns count; free_from: the first lap on which passing is left to the coaches; field:
    who goes out when.
    """

    day: Day
    circuit: Circuit
    entries: tuple[DayLadder, ...]
    heading: Heading
    kind: SpanKind
    free_from: int
    field: FieldPlan

    @property
    def session(self) -> DaySession:
        """The session itself."""
        return self.entries[0].session

    def columns(self, entry: DayLadder) -> tuple[Column, ...]:
        """Return the columns of an entry's ladder, none without a ladder."""
        return () if entry.ladder is None else columns(entry.ladder, self.kind)

    def most(self, entry: DayLadder) -> tuple[int, ...]:
        """Return the most quarters that each column of an entry may show."""
        if entry.ladder is None:
            return ()
        coach_laps = entry.ladder.session.level.coach_laps
        return tuple(
            most_quarters(column, coach_laps, coach_pace=entry.coach_pace) for column in self.columns(entry)
        )

    def rider(self, name: str) -> Rider:
        """Return a rider of the session's group by name."""
        group = self.session.group
        return next(rider for rider in self.day.riders if (rider.name, rider.group) == (name, group))

    def leaders(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Return each language of the group's coaches with their names; English without a coach."""
        group = next(group for group in self.day.groups if group.name == self.session.group)
        led: dict[str, list[str]] = {}
        for coach in self.day.coaches:
            if coach.name in group.coaches:
                led.setdefault(spoken(coach.language), []).append(coach.name)
        return tuple((language, tuple(names)) for language, names in led.items()) or (("en", ()),)

    @property
    def free_min(self) -> int:
        """The minute from which passing is left to the coaches, where the columns count minutes."""
        return (count_of("columns") - 1) * count_of("column_min")


def run_of(day: Day, circuit: Circuit, entries: Sequence[DayLadder], **head: Unpack[Head]) -> Run:
    """Return one session's entries made ready; entries must be of one session and at least one."""
    ladders = [entry.ladder for entry in entries if entry.ladder is not None]
    session = entries[0].session
    heading = Heading(
        school=day.school,
        circuit=circuit.name,
        date=day.date,
        session=session.name,
        group=session.group,
        at=session.at,
        valid_from=session.at,
        valid_until=valid_until(session, ladders),
        day_word=head["word"],
        set_name=head.get("set_name"),
        head=day.head,
        given_out=head.get("given_out"),
    )
    return Run(
        day,
        circuit,
        tuple(entries),
        heading,
        span_kind(ladders),
        free_from(entry.level for entry in entries),
        field_plan(entries),
    )


def valid_until(session: DaySession, ladders: Sequence[Ladder]) -> time:
    """Return until when a session's sheets hold: its minutes or the end of its last lap, rounded down.

    Whichever comes first, and of several ladders the one that ends first; without one, a session of laps
    holds for no time.
    """
    ends = [ladder.laps[-1].minute + ladder.laps[-1].time_s / 60.0 for ladder in ladders]
    lasts_min = min([*ends, session.minutes] if session.minutes is not None else ends, default=0.0)
    minute = min(math.floor(minute_of(session.at) + lasts_min), LAST_MINUTE)
    return time(minute // 60, minute % 60)


def spoken(language: str) -> str:
    """Return a language, or English where there are no texts in it."""
    return language if language in wording.languages() else "en"
