"""The page of all of a day's ladders: each run, each combination, its least margin or why there is none."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import NamedTuple

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from leanladder.domain.day import DayLadder, DaySession
from leanladder.domain.field import FieldPlan
from leanladder.domain.ladder import Lap, Rung
from leanladder.planning.field import field_plan
from leanladder.web import plans
from leanladder.web.access import coach_or_head
from leanladder.web.days.looked import look_at
from leanladder.web.days.page import address, day_page
from leanladder.web.days.steps import fault_of
from leanladder.web.frame import language_of
from leanladder.web.ladder import said
from leanladder.web.mine import person_of, runs_for


class Least(NamedTuple):
    """Where a ladder has least margin: lap, turn, side, limit and how far under usual [deg, whole]."""

    lap: int
    number: int
    side: str
    cap_deg: int
    below_deg: int


class Row(NamedTuple):
    """A combination of a run, where its ladder is, its least margin; or why there is no number."""

    entry: DayLadder
    where: str
    least: Least | None
    refused: str
    remedy: str


class Part(NamedTuple):
    """A run with its combinations, and how its field goes out."""

    run: DaySession
    rows: list[Row]
    field: FieldPlan | None


@coach_or_head
@require_GET
def ladders(request: HttpRequest, pk: int) -> HttpResponse:
    """Show every ladder of a day in a row, or how far they are."""
    looked = look_at(pk)
    if looked.day is None:
        missing = {"fault": fault_of(pk, looked), "not_whole": True}
        return day_page(request, pk, "days/ladders.html", missing)
    found = plans.worked(pk)
    if found is None:
        return day_page(request, pk, "days/ladders.html", {"progress": plans.progress(pk)})
    mine = {run.name for run in runs_for(person_of(request), found.day)}
    entries = [entry for entry in found.entries if entry.session.name in mine]
    more = {"parts": parts_of(pk, entries, language_of(request)), "word": found.word}
    return day_page(request, pk, "days/ladders.html", more)


def parts_of(pk: int, entries: Sequence[DayLadder], language: str) -> list[Part]:
    """Return runs with their combinations, in the day's order."""
    found = []
    for _, some in groupby(entries, key=lambda entry: entry.session.name):
        together = tuple(some)
        field = field_plan(together)
        rows = [_row(pk, at, entry, language) for at, entry in enumerate(together, 1)]
        found.append(Part(together[0].session, rows, field if field.mixed else None))
    return found


def _row(pk: int, at: int, entry: DayLadder, language: str) -> Row:
    refusal = entry.refusal
    why, remedy = ("", "") if refusal is None else said.refusal(refusal, language)
    where = address("ladder", pk, entry.session.name, at)
    return Row(entry, where, least_of(entry), why, remedy)


def least_of(entry: DayLadder) -> Least | None:
    """Return where an entry's ladder has least margin of all its laps, None without a ladder."""
    if entry.ladder is None:
        return None
    lap, rung = min(map(_least_of_lap, entry.ladder.laps), key=lambda found: found[1].margin_deg)
    # Rounded to the careful side, both: the limit down, what is missing to the usual lean up.
    return Least(lap.lap, rung.number, rung.side, int(rung.cap_bike_deg), -int(rung.margin_deg // 1))


def _least_of_lap(lap: Lap) -> tuple[Lap, Rung]:
    return lap, next(rung for rung in lap.rungs if rung.number == lap.least_margin)


class Without(NamedTuple):
    """How many combinations of how many have no number; each reason there is, once, with what to do."""

    refused: int
    of: int
    reasons: tuple[tuple[str, str], ...]


def without_number(entries: Sequence[DayLadder], language: str) -> Without | None:
    """Return what is to be known where some have no number, None where all have one."""
    refused = [entry.refusal for entry in entries if entry.refusal is not None]
    if not refused:
        return None
    reasons = dict.fromkeys(said.refusal(each, language) for each in refused)
    return Without(len(refused), len(entries), tuple(reasons))
