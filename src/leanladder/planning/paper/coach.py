"""Coaches' sheets of one session: one an entry and language, or a page that says why there is none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Unpack

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import CoachSheet, NoSheet, PressureRow
from leanladder.domain.sentence import Sentence
from leanladder.planning.lists import pressure_rows
from leanladder.planning.paper.cells import coach_rows
from leanladder.planning.paper.checks import checks, least_why
from leanladder.planning.paper.heads import head_figures
from leanladder.planning.paper.refused import back, steps, why
from leanladder.planning.paper.respect import corner_of, respected
from leanladder.planning.paper.run import Head, Run, run_of
from leanladder.planning.paper.stops import stop_sentences
from leanladder.planning.paper.straights import straights

_WARNED = ("limits_fall", "tyre_unfit_cold", "hot_end", "hot_track", "sun_unknown")


def coach_sheets(
    day: Day, circuit: Circuit, entries: Sequence[DayLadder], **head: Unpack[Head]
) -> tuple[CoachSheet | NoSheet, ...]:
    """Return the pages of one session's coaches: for every language a page an entry, in the entries' order.

    Those without a number for one reason share a page. entries are all of one session, at least one; caps
    are whole degrees and speeds rounded down.
    """
    run = run_of(day, circuit, entries, **head)
    pages = tuple(_pages(run))
    return tuple(
        replace(page, coaches=coaches, language=language)
        for language, coaches in run.leaders()
        for page in pages
    )


def _pages(run: Run) -> Iterator[CoachSheet | NoSheet]:
    """A sheet an entry; those without a number for the same reason share a page, where the first stands."""
    told: set[str] = set()
    for entry in run.entries:
        if entry.ladder is not None:
            yield _sheet(run, entry, entry.ladder)
        elif entry.refusal is not None and entry.refusal.code not in told:
            told.add(entry.refusal.code)
            yield _no_sheet(run, entry.refusal.code)


def _no_sheet(run: Run, code: str) -> NoSheet:
    some = [entry for entry in run.entries if entry.refusal is not None and entry.refusal.code == code]
    return NoSheet(
        heading=run.heading,
        coaches=(),
        language="en",
        riders=tuple(name for entry in some for name in entry.riders),
        machines=tuple(name for entry in some for name in entry.machines),
        why=why(some[0]),
        steps=steps(some[0]),
        back=back(some[0]),
    )


def _sheet(run: Run, entry: DayLadder, ladder: Ladder) -> CoachSheet:
    columns = run.columns(entry)
    number = respected(columns)
    return CoachSheet(
        heading=run.heading,
        coaches=(),
        language="en",
        level=entry.level,
        riders=entry.riders,
        machines=entry.machines,
        circuit=run.circuit,
        ladder=ladder,
        figures=head_figures(run, entry, ladder),
        spans=tuple(column.span for column in columns),
        rows=coach_rows(ladder, columns),
        least=None if number is None else (number, corner_of(run.circuit, number).side),
        least_why=() if number is None else least_why(run, entry, number),
        straights=straights(run.circuit),
        pressures=_pressures(run, entry),
        checks=checks(run, entry),
        stops=stop_sentences(ladder, run.kind),
        warnings=tuple(_warnings(entry, ladder)),
        field_notes=_field_notes(run),
    )


def _pressures(run: Run, entry: DayLadder) -> tuple[PressureRow, ...]:
    """Cold pressures for machines on their first run; later the tyres are warm, and nobody sets them cold."""
    return pressure_rows(run.day, (entry,)) if entry.after is None else ()


def _field_notes(run: Run) -> tuple[Sentence, ...]:
    """Who goes out when and what a mixed field brings; nothing where all ride as one.

    How long nobody passes stands among the checks, for every session.
    """
    told = (*run.field.order, *run.field.warnings)
    return tuple(sentence for sentence in told if sentence.code != "field.no_passing")


def _warnings(entry: DayLadder, ladder: Ladder) -> Iterator[Sentence]:
    """The warnings that the rest of the sheet does not say: each once, by a code of its own."""
    for code in entry.road_codes:
        yield Sentence(code)
    for code in dict.fromkeys(warning.code for warning in ladder.warnings):
        if code in _WARNED:
            yield Sentence(f"sheet_warning.{code}")
