"""A day planned and put on paper: which sets, which files, and what is told of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from leanladder import catalogue, sheets
from leanladder.cli.common import emit, emit_json, language
from leanladder.cli.day_changes import Changes, cut, instead, weathers
from leanladder.cli.plan_day import day_circuit
from leanladder.cli.progress import progress
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.interchange.day import read_day
from leanladder.interchange.files import write_folder
from leanladder.interchange.sheets import SheetSet, sheets_object
from leanladder.planning.day import plan_day
from leanladder.planning.documents import PaperSet, day_documents, evening_sets, set_of_today
from leanladder.planning.sets import SETS
from leanladder.wording import text

_WORD = re.compile(r"[A-Za-z]{3,12}")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was asked of a day's paper: changes by flags, one band alone, large print, a word of one's own."""

    changed: Changes
    one_band: bool
    large_print: bool
    word: str | None
    as_json: bool


def write_day(path: Path, out: Path, wanted: Wanted) -> None:
    """Write a day's paper into a folder, all of it or none, and print what was written.

    Raises InputError for what cannot be used or written, and OutsideModelError where not one session has a
    number; the pages that say so are written all the same.
    """
    day = _printed_large(cut(read_day(path), wanted.changed), wanted)
    circuit = day_circuit(day, closed_course=wanted.changed.closed_course)
    sets = _sets(day, circuit, wanted)
    told = instead(day, wanted.changed).get(wanted.changed.session or "", day)
    files = _files(told, circuit, sets, wanted)
    paths = write_folder(out, files)
    entries = [entry for each in sets for entry in each.entries]
    _check_any(entries, out)
    if wanted.as_json:
        emit_json(_object(day, circuit, sets, tuple(files)))
    else:
        emit(_text(sets, paths))


def _files(day: Day, circuit: Circuit, sets: Sequence[PaperSet], wanted: Wanted) -> dict[str, bytes]:
    """The lists first, left out where one session alone was asked for, then each set's folder."""
    with_lists = wanted.changed.session is None
    documents = day_documents(day, circuit, sets, language(), with_lists=with_lists)
    return {each.path: sheets.document_pdf(each) for each in documents}


def _printed_large(day: Day, wanted: Wanted) -> Day:
    if not wanted.large_print:
        return day
    return replace(day, riders=tuple(replace(rider, large_print=True) for rider in day.riders))


def _sets(day: Day, circuit: Circuit, wanted: Wanted) -> tuple[PaperSet, ...]:
    """The evening's three sets, or one from what was measured or for one end of the forecast."""
    own = _own_word(wanted.word)
    measured = any(hour.track_c is not None for hour in day.weather) or bool(wanted.changed.weather)
    if wanted.one_band or measured:
        entries = _planned(day, circuit, wanted, wanted.changed.band)
        named = next(name for name, band in SETS.items() if band == wanted.changed.band)
        name = named if wanted.one_band else None
        return (set_of_today(day, circuit, entries, name=name, word=own or ""),)
    if own is not None:
        remedy = "Name one set with --band, or leave it out."
        raise InputError("three sets need three words.", Fault(field="--word", remedy=remedy))
    planned = {band: _planned(day, circuit, wanted, band) for band in SETS.values()}
    return evening_sets(day, circuit, planned)


def _planned(day: Day, circuit: Circuit, wanted: Wanted, band: BandEnd) -> tuple[DayLadder, ...]:
    changed = wanted.changed
    weather = weathers(day, circuit, changed)
    with progress(wanted=True) as told:
        entries = plan_day(day, circuit, weather, band=band, instead=instead(day, changed), progress=told)
    return tuple(entry for entry in entries if changed.session in {None, entry.session.name})


def _own_word(word: str | None) -> str | None:
    if word is None or _WORD.fullmatch(word):
        return word if word is None else word.lower()
    fault = Fault(field="--word", value=word, allowed="3 to 12 letters, one word")
    raise InputError("this is no day word.", fault)


def _check_any(entries: Sequence[DayLadder], out: Path) -> None:
    """Raise the first refusal where no entry has a number."""
    refusal = next((entry.refusal for entry in entries if entry.refusal is not None), None)
    if refusal is None or any(entry.ladder is not None for entry in entries):
        return
    raise OutsideModelError(
        refusal.code, text("sheets_cli.no_number", refusal=refusal.message, folder=str(out)), refusal.fault
    )


def _text(sets: Sequence[PaperSet], paths: Sequence[Path]) -> str:
    words = [_set_line(each) for each in sets]
    return "\n".join((*words, text("sheets_cli.written", language()), *(f"  {path}" for path in paths)))


def _set_line(each: PaperSet) -> str:
    code = "today" if each.name is None else f"set_{each.name}"
    return text(f"sheets_cli.{code}", language(), word=each.word.upper())


def _object(day: Day, circuit: Circuit, sets: Sequence[PaperSet], files: Sequence[str]) -> dict[str, object]:
    told = [SheetSet(each.folder, each.name, each.word.upper(), each.entries) for each in sets]
    ladders = [entry.ladder for each in sets for entry in each.entries if entry.ladder is not None]
    parameters = catalogue.digest(*(ladder.parameters for ladder in ladders))
    return sheets_object(day, circuit, told, files, parameters=parameters)
