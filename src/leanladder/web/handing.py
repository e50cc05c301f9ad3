"""Handing out: what phones show, when it ends or is void, and how a stopped run rolls again."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from django.db import transaction

from leanladder import __version__, wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.paper import NoCard, RiderCard
from leanladder.domain.sentence import Sentence
from leanladder.engine import ENGINE
from leanladder.interchange.ladder import ladder_object
from leanladder.planning.day import Again
from leanladder.planning.paper import day_word, free_words, rider_cards
from leanladder.records import given as kept
from leanladder.records import latest, live, stored
from leanladder.records.day_content import day_of
from leanladder.records.models import Given, Lowered, Person, Standing
from leanladder.web import compared
from leanladder.web.paper.kept import words_on_paper
from leanladder.web.plans import Worked, inputs_of, run_entries, worked
from leanladder.web.today import Inputs, rolls_at

LONGEST_MIN = 20.0  # a card counts no longer than this from when it was last confirmed
LATEST_MIN = 90.0  # nor, handed out early, later than this
STEP_MIN, SPARE_MIN = 5, 3  # a restart is planned for the next five minutes, some minutes ahead
OFF_AGAIN_MIN = 5.0  # from taking warmers off again to rolling
AT_HAND = 64


class Ready(NamedTuple):
    """What would be handed out now: a run's entries and its riders' cards, the word for them, until when."""

    found: Worked
    entries: tuple[DayLadder, ...]
    cards: tuple[RiderCard | NoCard, ...]
    word: str
    until: datetime
    inputs: Inputs


def now() -> datetime:
    """Return the laptop's time, aware."""
    return datetime.now(tz=ZoneInfo("UTC"))


def ready(day_pk: int, run_name: str) -> Ready | None:
    """Return what would be handed out for a run as records stand now; None while it is worked out."""
    inputs = inputs_of(day_pk)
    return _ready(day_pk, run_name, inputs, None)


def restart_ready(day_pk: int, run_name: str) -> Ready | None:
    """Return what would be handed out to a stopped run that rolls within minutes; None until worked out.

    Its tyres are as the last lap that had ended left them, and stood until the end of the five minutes that
    it is planned for: later it is worked out anew. Raises InputError where the run has not stopped.
    """
    stop = stop_of(day_pk, run_name)
    inputs = inputs_of(day_pk)
    stood_min = STEP_MIN * math.ceil(((now() - stop.since).total_seconds() / 60.0 + SPARE_MIN) / STEP_MIN)
    usual = worked(day_pk, inputs)
    if usual is None:
        return None
    again = Again(run_name, _rolled_min(usual, stop), *_stood(stop, float(stood_min)))
    until = stop.since + timedelta(minutes=stood_min)
    return _ready(day_pk, run_name, replace(inputs, again=again), until)


def stop_of(day_pk: int, run_name: str) -> Standing:
    """Return the stop of a run that lasts; raises InputError where there is none."""
    found = next((each for each in live.stops(day_pk) if each.run_name in {None, run_name}), None)
    if found is None:
        raise InputError("this run has not stopped.", Fault(field="run", value=run_name))
    return found


def _stood(stop: Standing, stood_min: float) -> tuple[float, bool, float | None]:
    """How long tyres stand by then, whether in the sun, and how long warmers were on meanwhile."""
    if stop.warmers_at is None:
        return stood_min, stop.in_sun, None
    on_min = stood_min - (stop.warmers_at - stop.since).total_seconds() / 60.0 - OFF_AGAIN_MIN
    return (OFF_AGAIN_MIN, False, on_min) if on_min > 0.0 else (stood_min, stop.in_sun, None)


def _rolled_min(found: Worked, stop: Standing) -> float:
    """How long a run had rolled when it stopped; from when its cards were handed out, if that was later."""
    run = next((each for each in found.day.sessions if each.name == stop.run_name), None)
    if run is None:
        return 0.0
    began = rolls_at(found.day, found.circuit, run)
    # its cards are void by now: stopping made them so
    given = kept.last_of(kept.given_of(found.pk), run.name)
    began = began if given is None else max(began, given.at)
    return max((stop.since - began).total_seconds() / 60.0, 0.0)


def _ready(day_pk: int, run_name: str, inputs: Inputs, until: datetime | None) -> Ready | None:
    found = worked(day_pk, inputs)
    if found is None:
        return None
    entries = run_entries(found, run_name)
    if not entries:
        remedy = "Put riders into its group first, or name another run."
        fault = Fault(field="run", value=run_name, remedy=remedy)
        raise InputError("nobody rides in a run of this name.", fault)
    at = now()
    word = day_word(found.day, found.circuit, entries, _taken(day_pk))
    local = at.astimezone(_zone(found.circuit)).replace(tzinfo=None)
    cards = rider_cards(found.day, found.circuit, entries, word=word, given_out=local)
    if until is None:
        ends = datetime.combine(found.day.date, cards[0].heading.valid_until, tzinfo=_zone(found.circuit))
        until = (
            min(ends, at + timedelta(minutes=LATEST_MIN))
            if ends > at
            else at + timedelta(minutes=LONGEST_MIN)
        )
    ends_at = until.astimezone(_zone(found.circuit)).time().replace(second=0, microsecond=0)
    # What a card says must be what its phone counts, not the run as it was planned.
    cards = tuple(replace(card, heading=replace(card.heading, valid_until=ends_at)) for card in cards)
    return Ready(found, entries, cards, word, until, inputs)


def _zone(circuit: Circuit) -> ZoneInfo:
    return ZoneInfo(circuit.zone or "UTC")


def give_out(
    day_pk: int, run_name: str, by: Person | None, reason: str = "", *, mark: str | None = None
) -> Given:
    """Hand a run's cards out: phones show them, with a word of their own; what counted of it is void.

    mark: what `latest.mark_of_calls` said when it was found that they may be given out, now unless named.
    Raises InputError while they are worked out, where the run has stopped, and where something has been
    called in since the mark: cards worked out before that must not count after it.
    """
    mark = latest.mark_of_calls(day_pk, run_name) if mark is None else mark
    if any(each.run_name in {None, run_name} for each in live.stops(day_pk)):
        remedy = "Give restart cards out, or say that the run is over."
        raise InputError("this run has stopped.", Fault(field="run", value=run_name, remedy=remedy))
    what = ready(day_pk, run_name)
    with _nothing_since(mark, day_pk, run_name):
        return _give(day_pk, run_name, what, by, reason)


def give_restart(
    day_pk: int, run_name: str, by: Person | None, reason: str = "", *, mark: str | None = None
) -> Given:
    """Hand restart cards out to a stopped run, with a word of their own; raises InputError too early.

    mark: as with `give_out`.
    """
    mark = latest.mark_of_calls(day_pk, run_name) if mark is None else mark
    stop = stop_of(day_pk, run_name)
    what = restart_ready(day_pk, run_name)
    with _nothing_since(mark, day_pk, run_name):
        given = _give(day_pk, run_name, what, by, reason or "restart")
        live.end_stop(stop.pk, by)
        return given


@contextmanager
def _nothing_since(mark: str, day_pk: int, run_name: str) -> Iterator[None]:
    """Do something in one go while nothing else happens to a day; raises InputError where something has."""
    with transaction.atomic():
        day_of(day_pk, lock=True)
        if latest.mark_of_calls(day_pk, run_name) != mark:
            fault = Fault(field="run", value=run_name, remedy="Look at what holds now, then do it again.")
            raise InputError("something was called in at this moment.", fault)
        yield


def _give(day_pk: int, run_name: str, what: Ready | None, by: Person | None, reason: str) -> Given:
    if what is None:
        raise InputError(
            "the ladders are still being worked out.",
            Fault(field="run", value=run_name, remedy="Wait a moment, then try again."),
        )
    minutes = (what.until - now()).total_seconds() / 60.0
    content = {
        "version": __version__,
        "engine": ENGINE,
        "inputs": what.inputs.written(),
        "day": what.found.day,
        "circuit": what.found.circuit,
        "entries": what.entries,
        "cards": what.cards,
        "ladders": tuple(_public(entry) for entry in what.entries),
    }
    return kept.give_out(
        day_pk,
        run_name,
        stored.to_json(content),
        word=what.word,
        valid_minutes=max(minutes, 0.1),
        by=by,
        riders=tuple((card.rider, card.machine) for card in what.cards),
        digest=what.found.digest,
        reason=reason,
    )


def _public(entry: DayLadder) -> str:
    """An entry's ladder as leanladder.ladder/1, as it was handed out; empty without one."""
    if entry.ladder is None:
        return ""
    said = ladder_object(
        entry.ladder,
        cautions=(),
        warnings=entry.ladder.warnings,
        said=lambda code: wording.text(f"cause.{code}"),
    )
    return json.dumps(said, default=str)


def void_all(day_pk: int, by: Person | None, why: str = "rain") -> str:
    """Make every card of a day void at once, stopped ones anew, and return the day word from now on.

    Whoever gives out at this moment may take the word first: then the next one serves.
    """
    while True:
        word = next_word(day_pk)
        try:
            kept.void(day_pk, why, by, word=word)
        except InputError:
            if word not in kept.words_used(day_pk):
                raise
        else:
            return word


def next_word(day_pk: int) -> str:
    """Return a day word that a day has not used; a day that no plan stands for yet takes the next there is.

    A day that was changed so that it cannot be read keeps nobody from making its cards void.
    """
    used = _taken(day_pk)
    try:
        found = worked(day_pk)
    except InputError:
        found = None
    return free_words(used)[0] if found is None else day_word(found.day, found.circuit, (), used)


def _taken(day_pk: int) -> tuple[str, ...]:
    """The words that a day may not use any more: those of phones, of the board, and on paper."""
    return (*kept.words_used(day_pk), *words_on_paper(day_pk))


@transaction.atomic
def stop(
    day_pk: int, run_name: str, by: Person | None, *, in_sun: bool = False, in_lane: bool = True
) -> Standing:
    """Keep that a run has just stopped, and make its cards void: after it other limits hold."""
    standing = live.begin_stop(day_pk, by, run_name=run_name, in_sun=in_sun, in_lane=in_lane)
    if kept.current(day_pk, run_name) is not None:
        kept.void(day_pk, "stopped", by, run_name=run_name)
    return standing


@transaction.atomic
def lower(
    day_pk: int,
    by: Person | None,
    reason: str,
    *,
    colder_k: float | None = None,
    level: str = "",
    chance_of_100: float | None = None,
) -> Lowered:
    """Lower all limits from now on; cards handed out before are void, since they would allow more."""
    lowered = live.lower(day_pk, by, reason, level=level, chance_of_100=chance_of_100, colder_k=colder_k)
    kept.void(day_pk, "lowered", by)
    return lowered


def raise_again(pk: int, by: Person | None, why: str) -> Lowered:
    """Let limits be as they were before they were lowered; whoever calls sees that the head does it."""
    return live.take_back(pk, by, why)


class Handed(NamedTuple):
    """What was handed out, as it was: day, circuit, entries and cards, version and engine, what went in."""

    day: Day
    circuit: Circuit
    entries: tuple[DayLadder, ...]
    cards: tuple[RiderCard | NoCard, ...]
    version: str
    engine: str
    inputs: Inputs
    ladders: tuple[str, ...]


@lru_cache(maxsize=AT_HAND)
def handed(given_pk: int) -> Handed:
    """Return what was handed out by its key, as it was; it never changes."""
    content: Any = stored.from_json(kept.given(given_pk).content)
    return Handed(
        content["day"],
        content["circuit"],
        content["entries"],
        content["cards"],
        content["version"],
        content["engine"],
        Inputs.read(content["inputs"]),
        content["ladders"],
    )


def differences(given: Given) -> tuple[Sentence, ...]:
    """Return what has changed since something was handed out, as sentences; none where nothing has."""
    was, inputs = handed(given.pk), inputs_of(given.day_id)
    return tuple(_differences(given, was, inputs))


def rises(given: Given) -> bool:
    """Return whether a run given out as records stand now would allow somebody more than was given out."""
    found = worked(given.day_id)
    present = () if found is None else run_entries(found, given.run_name)
    return compared.rises(handed(given.pk).entries, present)


def restart_rises(given: Given) -> bool:
    """Return whether a restart now would allow somebody more at a turn than any lap of what was given out."""
    what = restart_ready(given.day_id, given.run_name)
    return what is not None and compared.rises(handed(given.pk).entries, what.entries, restart=True)


def _differences(given: Given, was: Handed, inputs: Inputs) -> Iterator[Sentence]:
    if was.engine != ENGINE:
        yield Sentence("handing.engine", {"was": was.engine, "now": ENGINE})
    if was.inputs.file_digest != inputs.file_digest:
        yield Sentence("handing.file", {})
    if was.inputs.readings != inputs.readings:
        yield Sentence("handing.readings", {})
    if was.inputs.careful != inputs.careful:
        yield Sentence("handing.careful", {})
    found = worked(given.day_id, inputs)
    if found is None:
        yield Sentence("handing.waiting", {})
        return
    present = run_entries(found, given.run_name)
    if any(compared.refused(entry, present) for entry in was.entries):
        yield Sentence("handing.refused", {})
    lower, higher = compared.moved(was.entries, present)
    if lower:
        yield Sentence("handing.lower", {"count": lower})
    if higher:
        yield Sentence("handing.higher", {"count": higher})
