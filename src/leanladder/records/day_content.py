"""A day as its file would have it, table by table, made of what is on record."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

from django.db import transaction

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.day_file import SCHEMA, CoachIn, HourIn, MachineIn, RiderIn
from leanladder.records.checking import Written, ordered
from leanladder.records.history import note
from leanladder.records.models import Circuit, Day, Machine, Person, Place, Run

# The days that are being changed here just now, by key.
_OPEN: ContextVar[frozenset[int]] = ContextVar("open", default=frozenset())
NOTES_NAME = "circuit-notes.toml"
# A day's own keys that may be left out, in the order of the file.
_STATED = ("latitude_deg", "longitude_deg", "altitude_m", "head", "surface")


def day_of(day_pk: int, *, lock: bool = False) -> Day:
    """Return a day with its circuit's name; lock keeps others from changing it until the transaction ends.

    Raises InputError where there is none.
    """
    found = Day.objects.filter(pk=day_pk)
    day = (found.select_for_update() if lock else found).first()
    if day is None:
        raise InputError("there is no such day.", Fault(field="day", remedy="Choose another."))
    return day


@contextmanager
def changing(day_pk: int, who: Person | None, reason: str = "") -> Iterator[Day]:
    """Let a day be changed in one transaction, and keep in its history how it was and is.

    Within another one of the same day, the outer one keeps the history: one change for all of it.
    """
    with transaction.atomic():
        day = day_of(day_pk, lock=True)
        if day_pk in _OPEN.get():
            yield day
            return
        was = content_of_day(day)
        token = _OPEN.set(_OPEN.get() | {day_pk})
        try:
            yield day
        finally:
            _OPEN.reset(token)
        day = day_of(day_pk)  # what was read of it before is not what is there now
        note(day, was=was, now=content_of_day(day), who=who, reason=reason)


def content_of_day(day: Day) -> dict[str, Any]:
    """Return a day as its file would have it, only with what is stated; tables may be empty yet."""
    places = list(
        Place.objects.filter(group__day=day)
        .select_related("group", "rider", "machine")
        .order_by("position", "pk")
    )
    runs = day.runs.select_related("group")
    return {
        "schema": SCHEMA,
        "date": day.date.isoformat(),
        "school": day.school,
        **_circuit(day.circuit_id),
        **{key: getattr(day, key) for key in _STATED if getattr(day, key) not in {None, ""}},
        "weather": [ordered(HourIn, each) for each in day.weather],
        "coaches": [ordered(CoachIn, each) for each in day.coaches],
        "groups": [_group(each.name, each.coaches) for each in day.groups.all()],
        "machines": [
            ordered(MachineIn, {**each.written, "name": each.name}) for each in machines_of_day(day, places)
        ],
        "riders": [rider_of(place) for place in places],
        "sessions": [_run(each) for each in runs],
    }


def machines_of_day(day: Day, places: list[Place]) -> list[Machine]:
    """Return the machines that were brought, then those that riders have without anyone having said so."""
    found = {each.machine.name: each.machine for each in day.brought.select_related("machine")}
    missing = [name for place in places if (name := rider_of(place)["machine"]) not in found]
    more = {each.name: each for each in Machine.objects.filter(name__in=missing)}
    return [*found.values(), *(more[name] for name in dict.fromkeys(missing) if name in more)]


def rider_of(place: Place) -> Written:
    """Return a rider's entry for the day: their own, with group, and machine and level of that day."""
    entry = {"name": place.rider.name, "group": place.group.name, **place.rider.written}
    if place.machine is not None:
        entry["machine"] = place.machine.name
    if place.level:
        entry["level"] = place.level
    return ordered(RiderIn, entry)


def _circuit(pk: int) -> Written:
    line_name, notes = Circuit.objects.values_list("line_name", "notes").get(pk=pk)
    return {"circuit": line_name, **({"notes": NOTES_NAME} if notes else {})}


def _group(name: str, coaches: list[str]) -> Written:
    return {"name": name, **({"coaches": list(coaches)} if coaches else {})}


def _run(run: Run) -> Written:
    written = {"name": run.name, "group": run.group.name, "at": run.at}
    return written | {
        key: value for key in ("minutes", "laps", "start") if (value := getattr(run, key)) is not None
    }
