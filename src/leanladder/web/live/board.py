"""How a day stands this minute: what rolls next, what of it counts. Cheap, since pages ask often."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Literal, NamedTuple

from leanladder.records import days, latest
from leanladder.records import given as handed
from leanladder.records import live as happening
from leanladder.records.models import Day, Given, Lowered, Person, Rained, Run, Standing
from leanladder.web.live.clock import local, local_now, rolls_at
from leanladder.web.live.reach import own_runs
from leanladder.web.live.working import Working, working

# none: nothing was given out; counts, ended: by the clock; void: taken back.
State = Literal["none", "counts", "ended", "void"]
# A run is still the next one so long after it was to roll: runs begin late.
LATE = timedelta(minutes=20)


class Voided(NamedTuple):
    """What was taken back last: when, why, by whom, the word on the board since; wet: rain was called in."""

    at: datetime
    by_name: str
    word: str
    wet: bool


@dataclass(frozen=True, slots=True)
class RunState:
    """A run as it stands: its cards' state, their word, until when they count; newer: more is known since."""

    pk: int
    name: str
    group: str
    at: str
    state: State
    given_pk: int | None = None
    word: str = ""
    until: str = ""
    since: str = ""
    by: str = ""
    newer: bool = False
    stop_pk: int | None = None


class Missing(NamedTuple):
    """A rider who has not confirmed that a card is void, and when their phone asked last."""

    rider: str
    machine: str
    given_pk: int
    opened: bool
    seen: str


@dataclass(frozen=True, slots=True)
class Now:
    """A day this minute, as far as someone may see it: its runs, which is next, what it rests on."""

    day: Day
    at: datetime
    runs: tuple[RunState, ...]
    next_run: RunState | None
    is_today: bool
    stops: tuple[Standing, ...]
    lowered: tuple[Lowered, ...]
    working: Working
    voided: Voided | None
    void_cards: int
    unconfirmed: tuple[Missing, ...]
    measured_at: datetime | None = None

    @property
    def clock(self) -> str:
        """The circuit's clock, HH:MM."""
        return f"{self.at:%H:%M}"

    @property
    def void_since(self) -> str:
        """When cards were made void last, by the circuit's clock; empty where none are."""
        return local(self.voided.at, self.day) if self.voided else ""

    @property
    def is_wet(self) -> bool:
        """Whether what was called in last is rain or a damp track."""
        return self.voided is not None and self.voided.wet

    def stamp(self) -> str:
        """Return a short name of all that the board shows: the same as long as nothing on it changed."""
        parts = [
            self.clock,
            *(repr(each) for each in self.runs),
            str(self.next_run and self.next_run.pk),
            *(f"{each.pk} {each.in_sun} {each.in_lane} {each.warmers_at}" for each in self.stops),
            *(str(each.pk) for each in self.lowered),
            repr(self.working),
            str(self.measured_at),
            repr(self.voided),
            *(repr(each) for each in self.unconfirmed),
        ]
        return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:16]


def board(day_pk: int, person: Person) -> Now:
    """Return how a day stands for someone; raises InputError where there is none."""
    day = days.day(day_pk)
    at = local_now(day)
    runs = own_runs(day_pk, person)
    given, stops = handed.given_of(day_pk), happening.stops(day_pk)
    changed = latest.last_changes(day_pk)
    states = tuple(_state(day, run, given, stops, changed, at) for run in runs)
    is_today = at.date() == day.date
    own = {each.name for each in runs}
    voided = _voided(given, handed.rained(day_pk), own)
    together = _together(given, voided, own) if voided else []
    return Now(
        day=day,
        at=at,
        runs=states,
        next_run=_next(day, states, at, is_today=is_today),
        is_today=is_today,
        stops=tuple(each for each in stops if each.run_name is None or each.run_name in own),
        lowered=tuple(happening.lowered(day_pk)),
        working=working(day_pk),
        voided=voided,
        void_cards=len({rider for each in together for rider, _ in each.riders}),
        measured_at=max(changed.values(), default=None),
        unconfirmed=tuple(_missing(each, day) for each in handed.unconfirmed(together)),
    )


def _missing(row: handed.Unconfirmed, day: Day) -> Missing:
    seen = local(row.last_at, day) if row.last_at else ""
    return Missing(row.rider, row.machine, row.given_pk, row.opened, seen)


def until(given: Given) -> datetime:
    """Return when something given out counts no longer by the clock."""
    return given.at + timedelta(minutes=given.valid_minutes)


def _state(  # all that a run's state rests on
    day: Day,
    run: Run,
    given: Sequence[Given],
    stops: Sequence[Standing],
    changed: dict[str, datetime],
    at: datetime,
) -> RunState:
    last = handed.last_of(given, run.name)
    stop = next((each for each in stops if each.run_name in (None, run.name)), None)
    stop_pk = None if stop is None else stop.pk
    plain = RunState(run.pk, run.name, run.group.name, run.at, "none", stop_pk=stop_pk)
    if last is None:
        return plain
    newer = max((when for name, when in changed.items() if name in ("", run.name)), default=last.at)
    return replace(
        plain,
        state="void" if last.void_at else "counts" if at < until(last) else "ended",
        given_pk=last.pk,
        word=last.word,
        until=local(until(last), day),
        since=local(last.void_at or last.at, day),
        by=last.void_by_name if last.void_at else last.by_name,
        newer=newer > last.at,
    )


def _next(day: Day, states: Sequence[RunState], at: datetime, *, is_today: bool) -> RunState | None:
    """The run that rolls next by the clock; before or after the day the first without cards."""
    if is_today:
        return next((each for each in states if rolls_at(day, each.at) + LATE >= at), None)
    return next((each for each in states if each.state == "none"), None)


def _voided(given: Sequence[Given], rained: Rained | None, own: set[str]) -> Voided | None:
    """What was taken back last, not to be replaced, while nothing given out since takes its place."""
    mine = [each for each in given if each.run_name in own]
    told = [_of(each, each.void_at) for each in mine if each.void_at and each.void_why != handed.REPLACED]
    if rained is not None:
        told.append(Voided(rained.at, rained.by_name, rained.word, wet=True))
    last = max(told, key=lambda each: (each.at, each.wet), default=None)
    return None if last is None or any(each.at > last.at for each in mine) else last


def _of(void: Given, at: datetime) -> Voided:
    return Voided(at, void.void_by_name, void.void_word, wet=False)


def _together(given: Sequence[Given], last: Voided, own: set[str]) -> list[Given]:
    """All that was taken back at the same moment."""
    return [each for each in given if each.void_at == last.at and each.run_name in own]
