"""A day looked at before it is planned: is it whole, what would be assumed, which tyres stay in."""

from __future__ import annotations

import tempfile
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from leanladder import wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day
from leanladder.domain.errors import LeanladderError
from leanladder.interchange.day import read_day
from leanladder.planning.condition import unfit
from leanladder.planning.day_check import Assumption, assumptions, said
from leanladder.planning.day_machines import checked
from leanladder.planning.day_weather import weather_at
from leanladder.planning.tables import shipped_tables
from leanladder.records import days
from leanladder.web.today import circuit_of

MOST_KEPT = 8
# What the day's file says by its keys and flags, worded anew for a page.
_OTHERWISE = ("likely_air", "zone_unknown", "place_unknown", "condition_unknown")


class Looked(NamedTuple):
    """A day as its records stand: day and circuit where it is whole, else what is wrong with it."""

    day: Day | None = None
    circuit: Circuit | None = None
    fault: LeanladderError | None = None


class Assumed(NamedTuple):
    """What is assumed of one thing: about what, its name or None for the day, sentences with their place."""

    about: str
    name: str | None
    lines: tuple[tuple[str, str], ...]


class Unfit(NamedTuple):
    """A machine that nobody goes out on, and why."""

    machine: str
    why: str


_KEPT: OrderedDict[str, Looked] = OrderedDict()


def look_at(day_pk: int) -> Looked:
    """Return a day read as its plan would read it; what keeps it from being planned is told, not raised."""
    try:
        digest = days.day_file(day_pk).digest
        if digest not in _KEPT:
            _KEPT[digest] = _read(day_pk)
    except LeanladderError as fault:
        return Looked(fault=fault)
    found = _KEPT[digest]
    while len(_KEPT) > MOST_KEPT:
        _KEPT.popitem(last=False)
    return found


def _read(day_pk: int) -> Looked:
    with opened(day_pk) as day:
        circuit = circuit_of(day)
        # What a plan of it would refuse, without the sun's course: that takes seconds to load.
        checked(day)
        for run in day.sessions:
            weather_at(day, circuit, run.at)
        return Looked(day, circuit)


@contextmanager
def opened(day_pk: int) -> Iterator[Day]:
    """Give a day as read from a folder that lasts as long: its own files are there to be read again."""
    with tempfile.TemporaryDirectory() as folder:
        yield read_day(days.write_day(day_pk, Path(folder)))


def assumed(day_pk: int, circuit: Circuit, language: str) -> tuple[Assumed, ...]:
    """Return what a plan of the day would assume, in words, by what it is about."""
    with opened(day_pk) as day:
        found = assumptions(day, circuit)
    return tuple(
        Assumed(about, name, tuple((_said(each, language), _place(each)) for each in some))
        for (about, name), some in groupby(found, key=lambda each: (each.about, each.name))
    )


def unfit_machines(day: Day, language: str) -> tuple[Unfit, ...]:
    """Return the machines of a day that nobody goes out on, by a plug or their tyres' age."""
    table = shipped_tables().condition
    found = []
    for machine in day.machines:
        refusal = unfit(machine.front_state, machine.rear_state, day.date, table)
        if refusal is not None:
            found.append(Unfit(machine.name, wording.text(refusal.code, language)))
    return tuple(found)


def _said(assumption: Assumption, language: str) -> str:
    if assumption.code in _OTHERWISE:
        end = assumption.figures.get("end")
        figures = {} if end is None else {"end": wording.text(f"end.{end}", language)}
        return wording.text(f"days.assume_{assumption.code}", language, **figures)
    return said(assumption, language)


# Where it is stated, by its code: the page that says otherwise.
_PLACES = {
    "riders": ("english", "ordinary_print"),
    "groups": ("no_coach", "nobody"),
    "circuit": ("notes_unknown", "zone_unknown"),
    "head": ("altitude_unknown", "surface_unknown", "head_unknown", "coach_language", "place_unknown"),
    "weather": (
        "likely_air", "no_cold_end", "no_mild_end", "band_rest", "between_hours", "weather_held",
        "road_unknown", "humidity_unknown", "cloud_unknown", "wind_unknown", "refused_cold",
        "refused_mild", "track_computed", "track_assumed", "track_measured",
    ),
}  # fmt: skip


def _place(assumption: Assumption) -> str:
    """Where it is stated: the page that says otherwise; empty for what nobody states."""
    if assumption.about in {"machine", "rider"}:
        return assumption.about
    found = next((place for place, codes in _PLACES.items() if assumption.code in codes), "")
    if found or assumption.about == "day":
        return found
    return "weather" if assumption.refusal is not None else "sessions"
