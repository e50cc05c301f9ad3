"""All that was given out, each as it was, beside what has changed since."""

from __future__ import annotations

from typing import NamedTuple

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET

from leanladder import wording
from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder
from leanladder.records import days
from leanladder.records import given as handed
from leanladder.records.backup import RESTORED
from leanladder.records.models import Day, Given
from leanladder.web import handing
from leanladder.web.access import coach_or_head
from leanladder.web.frame import language_of
from leanladder.web.ladder import figures, pictures
from leanladder.web.ladder.pictures import Reader
from leanladder.web.live.board import until
from leanladder.web.live.clock import local
from leanladder.web.live.reach import check_given, own_runs
from leanladder.web.mine import person_of

# Why something is void, by its wording; whatever else was said stands as it was said.
WHYS = frozenset({"rain", "damp", "lowered", "stopped", handed.REPLACED, RESTORED})


class Row(NamedTuple):
    """Something given out as the list shows it."""

    pk: int
    run: str
    word: str
    at: str
    until: str
    by: str
    reason: str
    void_at: str
    void_by: str
    void_why: str


class Lap(NamedTuple):
    """A lap's cells in the order of turns; empty where the lap does not ride one."""

    lap: int
    cells: tuple[str, ...]


class Part(NamedTuple):
    """A combination as given out: who on what, its laps, or why there was no number."""

    riders: str
    machine: str
    level: str
    turns: tuple[int, ...]
    laps: tuple[Lap, ...]
    refused: str


@coach_or_head
@require_GET
def givens(request: HttpRequest, pk: int) -> HttpResponse:
    """List all that was given out on a day, the latest first."""
    person, day, language = person_of(request), days.day(pk), language_of(request)
    own = {run.name for run in own_runs(pk, person)}
    some = [each for each in handed.given_of(pk) if person.is_head or each.run_name in own]
    rows = [row_of(each, day, language) for each in reversed(some)]
    return render(request, "live/givens.html", {"day": day, "rows": rows})


@coach_or_head
@require_GET
def one(request: HttpRequest, pk: int, given_pk: int) -> HttpResponse:
    """Show something as it was given out, and what has changed since."""
    person, given, language = person_of(request), handed.given(given_pk), language_of(request)
    check_given(given, pk, person)
    what, day = handing.handed(given.pk), days.day(pk)
    reader = Reader(language, figures.units_of(person.units))
    about = {
        "day": day,
        "row": row_of(given, day, language),
        "what": what,
        "parts": [part_of(entry, reader, at) for at, entry in enumerate(what.entries)],
        "differences": handing.differences(given),
    }
    return render(request, "live/given.html", about)


def row_of(given: Given, day: Day, language: str) -> Row:
    """Return something given out as the list shows it."""
    why = given.void_why
    known = wording.text(f"live.why_{why}", language) if why in WHYS else why
    again = wording.text("live.reason_restart", language) if given.reason == "restart" else given.reason
    return Row(
        pk=given.pk,
        run=given.run_name,
        word=given.word,
        at=local(given.at, day),
        until=local(until(given), day),
        by=given.by_name,
        reason=again,
        void_at=local(given.void_at, day) if given.void_at else "",
        void_by=given.void_by_name,
        void_why=known,
    )


def part_of(entry: DayLadder, reader: Reader, at: int) -> Part:
    """Return a combination as it was given out."""
    ladder = entry.ladder
    return Part(
        riders=", ".join(entry.riders),
        machine=entry.machine,
        level=entry.level,
        turns=() if ladder is None else tuple(each.number for each in ladder.session.circuit.corners),
        laps=() if ladder is None else tuple(_laps(ladder, reader, at)),
        refused="" if entry.refusal is None else entry.refusal.message,
    )


def _laps(ladder: Ladder, reader: Reader, at: int) -> list[Lap]:
    """Laps as cells; each part's drawings take names of their own, since one page holds several."""
    found = []
    for lap in ladder.laps:
        rungs = {rung.number: rung for rung in lap.rungs}
        cells = tuple(
            mark_safe(  # noqa: S308  # ours, escaped there
                pictures.cell(ladder, lap, rungs[each.number], reader, chosen=False, given=True).replace(
                    f"c{lap.lap}-{each.number}", f"g{at}-{lap.lap}-{each.number}"
                )
            )
            if each.number in rungs
            else ""
            for each in ladder.session.circuit.corners
        )
        found.append(Lap(lap.lap, cells))
    return found
