"""`leanladder plan DAY`: a ladder for each distinct combination of a day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import Path
from typing import Any, get_args

from leanladder import catalogue
from leanladder.cli import asked as ask
from leanladder.cli.common import emit, emit_json, language
from leanladder.cli.field import field_text, fields_object
from leanladder.cli.notices import all_warnings, notices
from leanladder.cli.session import closed
from leanladder.cli.table import WIDTH, ladder_text
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.ladder import Notice
from leanladder.domain.weather import Weather
from leanladder.importers import read_outline
from leanladder.interchange.day import read_day
from leanladder.interchange.day_plan import day_plan_object
from leanladder.interchange.nearest import nearest
from leanladder.interchange.notes import read_notes
from leanladder.planning import circuits
from leanladder.planning.day import plan_day
from leanladder.planning.day_weather import weather_at
from leanladder.planning.weather_checks import check_weather
from leanladder.wording import text

# Options that a day takes; the first ones measure something, which holds for one session alone.
WEATHER = ("air", "track", "humidity", "wind", "cloud", "seen_dry")
TAKEN = (*WEATHER, "session", "band", "laps", "closed_course", "as_json")
_FIELDS = {
    "air": "air_c",
    "track": "track_c",
    "humidity": "humidity_pct",
    "wind": "wind_mps",
    "cloud": "cloud",
    "seen_dry": "seen_dry",
}


@dataclass(frozen=True, slots=True)
class Changes:
    """What flags say in place of the day's file: weather by option, for one session; laps; closed; band."""

    session: str | None
    weather: dict[str, float | bool]
    laps: int | None
    closed_course: bool
    band: BandEnd = "likely"


def changes(given: dict[str, object]) -> Changes:
    """Return the changes that the options given beside a DAY ask for, by their parameters' names.

    Raises InputError for an option that a day does not take, and for weather without its session.
    """
    for name in given:
        if name not in TAKEN:
            remedy = "Put it into the day's file, or leave DAY out."
            raise InputError("this does not go with a DAY.", Fault(field=_option(name), remedy=remedy))
    weather = {name: value for name, value in given.items() if name in WEATHER}
    session = given.get("session")
    if weather and session is None:
        remedy = "Name it with --session; for the whole day, change the day's file."
        raise InputError(
            "weather is for one session.", Fault(field=_option(next(iter(weather))), remedy=remedy)
        )
    figures = {name: value for name, value in weather.items() if isinstance(value, float | bool)}
    laps = given.get("laps")
    return Changes(
        session if isinstance(session, str) else None,
        figures,
        int(ask.within("--laps", laps, ask.LAPS)) if isinstance(laps, int) else None,
        bool(given.get("closed_course")),
        next((end for end in get_args(BandEnd) if end == given.get("band")), "likely"),
    )


def print_day(path: Path, changed: Changes, *, as_json: bool) -> None:
    """Print the ladders of a day; raises OutsideModelError where not one has a number."""
    day = cut(read_day(path), changed)
    circuit = day_circuit(day, closed_course=changed.closed_course)
    entries = plan_day(day, circuit, weathers(day, circuit, changed), band=changed.band)
    shown = [entry for entry in entries if changed.session in {None, entry.session.name}]
    refusals = [entry.refusal for entry in shown if entry.refusal is not None]
    if refusals and len(refusals) == len(shown):
        raise refusals[0]
    if as_json:
        emit_json(_object(day, circuit, shown, changed.band))
    else:
        emit(day_text(shown, language()))


def day_circuit(day: Day, *, closed_course: bool = False) -> Circuit:
    """Return the day's circuit; raises OutsideModelError where nothing says that it is closed."""
    notes = None if day.notes is None else read_notes(day.notes)
    found = circuits.build(read_outline(day.circuit), notes, closed_course=closed_course)
    return closed(found, day.circuit)


def day_text(entries: Iterable[DayLadder], language: str) -> str:
    """Return a heading a session, the table of each of its ladders, and how a field that mixes goes out."""
    parts: list[str] = []
    for together in _by_session(entries):
        session = together[0].session
        figures = {"session": session.name, "at": f"{session.at:%H:%M}", "group": session.group}
        heading = text("day.session", language, **figures)
        parts.append(f"{heading}\n{'=' * min(len(heading), WIDTH)}")
        for entry in together:
            riders, machines = ", ".join(entry.riders), ", ".join(entry.machines)
            parts.append(text("day.riders", language, riders=riders, machines=machines))
            parts.append(_table(entry, language))
        parts.append(field_text(together, language))
    return "\n\n".join(part for part in parts if part)


def _by_session(entries: Iterable[DayLadder]) -> list[tuple[DayLadder, ...]]:
    """The entries of each session, in the day's order."""
    return [tuple(together) for _, together in groupby(entries, key=lambda entry: entry.session.name)]


def _table(entry: DayLadder, language: str) -> str:
    if entry.ladder is None:
        refusal = entry.refusal
        remedy = "" if refusal is None else f" {refusal.fault.remedy or ''}"
        why = "" if refusal is None else text(refusal.code, language)
        return (text("day.refused", language, refusal=why) + remedy).rstrip()
    cautions, warnings = _notices(entry, language)
    return ladder_text(entry.ladder, cautions=cautions, warnings=warnings, language=language)


def _notices(entry: DayLadder, language: str) -> tuple[Sequence[Notice], Sequence[Notice]]:
    """The cautions and warnings of an entry's ladder."""
    if entry.ladder is None:
        return (), ()
    warnings = all_warnings(entry.ladder, entry.road_codes, language)
    if entry.after is not None:
        warnings += (Notice("tyres_stood", text("day.stood", language, session=entry.after)),)
    return notices(entry.ladder.cautions, language), warnings


def _object(day: Day, circuit: Circuit, shown: Sequence[DayLadder], band: BandEnd) -> dict[str, object]:
    ladders = [entry.ladder for entry in shown if entry.ladder is not None]
    codes = [code for ladder in ladders for code in ladder.cautions]
    return day_plan_object(
        day,
        circuit,
        [(entry, *_notices(entry, language())) for entry in shown],
        parameters=catalogue.digest(*(ladder.parameters for ladder in ladders)),
        cautions=notices(codes, language()),
        band=band,
        fields=fields_object(_by_session(shown), language()),
    )


def cut(day: Day, changed: Changes) -> Day:
    """Leave out sessions after the one asked for, and give those asked for their laps.

    Raises InputError for a session that the day does not have.
    """
    names = [run.name for run in day.sessions]
    if changed.session is not None and changed.session not in names:
        close = nearest(changed.session, names)
        remedy = f"Did you mean {close}?" if close else None
        fault = Fault(None, None, "--session", changed.session, ", ".join(names), remedy)
        raise InputError("the day has no session of this name.", fault)
    last = len(names) if changed.session is None else names.index(changed.session) + 1
    runs = day.sessions[:last]
    if changed.laps is not None:
        runs = tuple(
            replace(run, laps=changed.laps, minutes=None) if changed.session in {None, run.name} else run
            for run in runs
        )
    return replace(day, sessions=runs)


def weathers(day: Day, circuit: Circuit, changed: Changes) -> dict[str, Weather]:
    """Return the weather of the session that flags speak of, by its name; none without such flags."""
    if not changed.weather or changed.session is None:
        return {}
    run = next(run for run in day.sessions if run.name == changed.session)
    fields: dict[str, Any] = {_FIELDS[name]: value for name, value in changed.weather.items()}
    weather = replace(weather_at(day, circuit, run.at, band=changed.band), **fields)
    with ask.in_options():
        check_weather(weather)
    return {run.name: weather}


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"
