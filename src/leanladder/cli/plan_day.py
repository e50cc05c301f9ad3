"""`leanladder plan DAY`: a ladder for each distinct combination of a day."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from itertools import groupby
from pathlib import Path

from leanladder import catalogue
from leanladder.cli.common import emit, emit_json, language
from leanladder.cli.day_changes import Changes, changes, cut, instead, weathers
from leanladder.cli.field import field_text, fields_object
from leanladder.cli.notices import all_warnings, cause_worded, notices, worded
from leanladder.cli.odds import odds_text
from leanladder.cli.progress import progress
from leanladder.cli.session import closed
from leanladder.cli.table import WIDTH, ladder_text
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.ladder import Notice
from leanladder.importers import read_outline
from leanladder.interchange.day import read_day
from leanladder.interchange.day_plan import PlanEntry, day_plan_object
from leanladder.interchange.notes import read_notes
from leanladder.planning import circuits
from leanladder.planning.day import plan_day
from leanladder.planning.paper.quarters import usual_deg
from leanladder.wording import text

__all__ = ["Changes", "changes", "cut", "day_circuit", "day_text", "print_day", "weathers"]


def print_day(path: Path, changed: Changes, *, as_json: bool) -> None:
    """Print the ladders of a day; raises OutsideModelError where not one has a number."""
    day = cut(read_day(path), changed)
    circuit = day_circuit(day, closed_course=changed.closed_course)
    weather = weathers(day, circuit, changed)
    with progress(wanted=True) as told:
        entries = plan_day(
            day,
            circuit,
            weather,
            band=changed.band,
            instead=instead(day, changed),
            chance=changed.chance,
            progress=told,
        )
    shown = [entry for entry in entries if changed.session in {None, entry.session.name}]
    refusals = [entry.refusal for entry in shown if entry.refusal is not None]
    if refusals and len(refusals) == len(shown):
        raise refusals[0]
    if as_json:
        emit_json(_object(day, circuit, shown, changed))
    else:
        emit(day_text(shown, changed, language()))


def day_circuit(day: Day, *, closed_course: bool = False) -> Circuit:
    """Return the day's circuit; raises OutsideModelError where nothing says that it is closed."""
    notes = None if day.notes is None else read_notes(day.notes)
    found = circuits.build(read_outline(day.circuit), notes, closed_course=closed_course)
    return closed(found, day.circuit)


def day_text(entries: Iterable[DayLadder], changed: Changes, language: str) -> str:
    """Return a heading a session, the table of each of its ladders, and how a field that mixes goes out."""
    parts = [] if changed.band == "likely" else [text(f"day.band_{changed.band}", language)]
    for together in _by_session(entries):
        session = together[0].session
        figures = {"session": session.name, "at": f"{session.at:%H:%M}", "group": session.group}
        heading = text("day.session", language, **figures)
        parts.append(f"{heading}\n{'=' * min(len(heading), WIDTH)}")
        for alike in _by_refusal(together):
            parts.append(_whose(alike, language))
            remarks = worded(alike[0].remarks, language)
            parts += [textwrap.fill(remark.text, WIDTH) for remark in remarks]
            parts.append(_table(alike[0], changed, language))
        parts.append(field_text(together, language))
    return "\n\n".join(part for part in parts if part)


def _by_refusal(entries: Sequence[DayLadder]) -> list[list[DayLadder]]:
    """Each entry alone, but those together that are refused by one and the same refusal."""
    found: list[list[DayLadder]] = []
    for entry in entries:
        if found and entry.refusal is not None and found[-1][0].refusal is entry.refusal:
            found[-1].append(entry)
        else:
            found.append([entry])
    return found


def _whose(entries: Sequence[DayLadder], language: str) -> str:
    """Return whose ladder follows: riders and their machines."""
    riders, machines = (
        ", ".join(name for entry in entries for name in getattr(entry, kind))
        for kind in ("riders", "machines")
    )
    return textwrap.fill(text("day.riders", language, riders=riders, machines=machines), WIDTH)


def _by_session(entries: Iterable[DayLadder]) -> list[tuple[DayLadder, ...]]:
    """The entries of each session, in the day's order."""
    return [tuple(together) for _, together in groupby(entries, key=lambda entry: entry.session.name)]


def _table(entry: DayLadder, changed: Changes, language: str) -> str:
    if entry.ladder is None:
        refusal = entry.refusal
        remedy = "" if refusal is None else f" {refusal.fault.remedy or ''}"
        why = "" if refusal is None else text(refusal.code, language)
        said = (text("day.refused", language, refusal=why) + remedy).rstrip()
        return textwrap.fill(said, WIDTH, break_on_hyphens=False)
    cautions, warnings = day_notices(entry, changed, language)
    printed = ladder_text(entry.ladder, cautions=cautions, warnings=warnings, language=language)
    return f"{printed}\n\n{odds_text(entry.ladder, language)}" if changed.odds else printed


def day_notices(
    entry: DayLadder, changed: Changes, language: str
) -> tuple[Sequence[Notice], Sequence[Notice]]:
    """Return the cautions and warnings of an entry's ladder."""
    if entry.ladder is None:
        return (), ()
    warnings = all_warnings(entry.ladder, entry.road_codes, language)
    if entry.after is not None:
        warnings += (Notice("tyres_stood", text("day.stood", language, session=entry.after)),)
    if changed.options and changed.session == entry.session.name:
        options = ", ".join(changed.options)
        warnings = (Notice("changed_by_flags", text("day.changed", language, options=options)), *warnings)
    return notices(entry.ladder.cautions, language), warnings


def _said(day: Day, entry: DayLadder, changed: Changes) -> PlanEntry:
    """An entry with its notices in words, its coaches and its riders' usual lean."""
    coaches = next(group.coaches for group in day.groups if group.name == entry.session.group)
    riders = {rider.name: usual_deg(rider) for rider in day.riders}
    usual = [riders[name] for name in entry.riders]
    return PlanEntry(
        entry, *day_notices(entry, changed, language()), worded(entry.remarks, language()), coaches, usual
    )


def _object(day: Day, circuit: Circuit, shown: Sequence[DayLadder], changed: Changes) -> dict[str, object]:
    days = instead(day, changed)
    ladders = [entry.ladder for entry in shown if entry.ladder is not None]
    codes = [code for ladder in ladders for code in ladder.cautions]
    return day_plan_object(
        day,
        circuit,
        [_said(days.get(entry.session.name, day), entry, changed) for entry in shown],
        parameters=catalogue.digest(*(ladder.parameters for ladder in ladders)),
        cautions=notices(codes, language()),
        said=cause_worded,
        chance=changed.chance,
        band=changed.band,
        fields=fields_object(_by_session(shown), language()),
    )
