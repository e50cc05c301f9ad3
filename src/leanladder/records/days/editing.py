"""Setting up a day: its head, groups, who goes out on what, runs."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from django.db import transaction
from django.db.models import Max

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.day import read_day
from leanladder.interchange.day_file import SCHEMA, DayFile, GroupIn, SessionIn
from leanladder.records import stable
from leanladder.records.checking import bare, checked, dumped, unknown
from leanladder.records.circuits import circuit
from leanladder.records.day_content import changing, content_of_day, day_of, rider_of
from leanladder.records.days.folder import toml_text
from leanladder.records.history import note, note_removal
from leanladder.records.models import Brought, Day, Group, Person, Place, Run

HEAD_KEYS = (
    "date", "school", "latitude_deg", "longitude_deg", "altitude_m", "head", "surface", "weather", "coaches",
)  # fmt: skip
# Stands in for what a day has not got yet, so that the file's own checks serve for what it has.
_REST = {
    "weather": [{"at": "09:00", "air_c": 10.0}],
    "groups": [{"name": "any"}],
    "machines": [{"name": "any", "machine": "any", "tyre": "any"}],
    "riders": [{"name": "any", "group": "any", "level": "any", "machine": "any"}],
    "sessions": [{"name": "any", "group": "any", "at": "09:00", "laps": 1}],
}


def save_day(
    written: Mapping[str, Any],
    circuit_pk: int,
    who: Person | None,
    *,
    day_pk: int | None = None,
    reason: str = "",
) -> Day:
    """Keep a day's head, new or in place of what was: date, school, place, head, surface, weather, coaches.

    written holds these keys of a day's file and no others. Raises InputError, also where a group is led by
    a coach who is not among the day's any more.
    """
    entry, place_of = _head(written), circuit(circuit_pk)
    fields = {key: entry.get(key) for key in HEAD_KEYS}
    fields |= {key: entry.get(key) or "" for key in ("head", "surface")}
    fields |= {key: entry.get(key) or [] for key in ("weather", "coaches")}
    fields["date"] = date.fromisoformat(entry["date"])
    if day_pk is None:
        with transaction.atomic():
            day = Day.objects.create(circuit=place_of, **fields)
            note(day, was=None, now=content_of_day(day), who=who, reason=reason)
            return day
    with changing(day_pk, who, reason) as day:
        for key, value in {"circuit": place_of, **fields}.items():
            setattr(day, key, value)
        day.save()
        for group in day.groups.all():
            _check_coaches(day, group.coaches)
    return day


@transaction.atomic
def remove_day(day_pk: int, who: Person | None, *, reason: str = "") -> None:
    """Remove a day with its groups, runs and plans; raises InputError where something was given out of it."""
    day = day_of(day_pk, lock=True)
    if day.given.exists():
        raise InputError(
            "a ladder of this day was given out.", Fault(field="day", value=str(day), remedy="Keep the day.")
        )
    note_removal(day, was=content_of_day(day), who=who, reason=reason)
    day.delete()


def save_group(  # what a group is, who and why
    day_pk: int,
    name: str,
    coaches: Sequence[str],
    who: Person | None,
    *,
    was: str | None = None,
    reason: str = "",
) -> Group:
    """Keep a group of a day, new, or the one called was; raises InputError."""
    entry = checked(GroupIn, {"name": name, "coaches": list(coaches)}, "group")
    with changing(day_pk, who, reason) as day:
        _check_coaches(day, entry.coaches)
        kept = Group(day=day, position=_next(day.groups.all())) if was is None else _group(day, was)
        if day.groups.filter(name=entry.name).exclude(pk=kept.pk).exists():
            raise InputError("a group of this name is there.", Fault(field="group", value=entry.name))
        kept.name, kept.coaches = entry.name, list(entry.coaches)
        kept.save()
    return kept


def order_groups(day_pk: int, names: Sequence[str], who: Person | None, *, reason: str = "") -> None:
    """Put a day's groups in this order; those not named follow. Raises InputError."""
    with changing(day_pk, who, reason) as day:
        named = [_group(day, name) for name in names]
        rest = [each for each in day.groups.all() if each.name not in names]
        for position, group in enumerate((*named, *rest)):
            Group.objects.filter(pk=group.pk).update(position=position)


def remove_group(day_pk: int, name: str, who: Person | None, *, reason: str = "") -> None:
    """Remove a group with its riders' places and its runs; raises InputError."""
    with changing(day_pk, who, reason) as day:
        _group(day, name).delete()


def place(  # noqa: PLR0913  # who, where, on what
    day_pk: int, group: str, rider: str, who: Person | None, *,
    machine: str | None = None, level: str | None = None, reason: str = "",
) -> Place:  # fmt: skip
    """Put a rider into a group, out of another of that day; machine and level where they differ that day.

    Their machine is brought along. Raises InputError, also where it carries another rider of the group.
    """
    with changing(day_pk, who, reason) as day:
        into, whom = _group(day, group), stable.rider(rider)
        kept = Place.objects.filter(group__day=day, rider=whom).first()
        kept = kept or Place(rider=whom, position=_next(Place.objects.filter(group__day=day)))
        kept.group, kept.machine = into, None if machine is None else stable.machine(machine)
        kept.level = level or ""
        stable.rider_entry(rider, rider_of(kept), group)
        _check_alone(kept)
        kept.save()
        _bring(day, rider_of(kept)["machine"])
    return kept


def unplace(day_pk: int, rider: str, who: Person | None, *, reason: str = "") -> None:
    """Take a rider out of a day; their machine stays. Raises InputError."""
    with changing(day_pk, who, reason) as day:
        found = Place.objects.filter(group__day=day, rider__name=rider)
        if not found.delete()[0]:
            raise InputError("this rider is in no group.", Fault(field="rider", value=rider))


def bring(day_pk: int, machine: str, who: Person | None, *, reason: str = "") -> None:
    """Bring a machine along, to spare; raises InputError."""
    with changing(day_pk, who, reason) as day:
        _bring(day, machine)


def take_away(day_pk: int, machine: str, who: Person | None, *, reason: str = "") -> None:
    """Take a machine off a day; raises InputError where a rider has it that day."""
    with changing(day_pk, who, reason) as day:
        for each in Place.objects.filter(group__day=day).select_related("rider", "group", "machine"):
            if rider_of(each)["machine"] == machine:
                fault = Fault(field="machine", value=machine, remedy=f"Give {each.rider} another one first.")
                raise InputError("a rider has this machine.", fault)
        day.brought.filter(machine__name=machine).delete()


def save_run(
    day_pk: int, written: Mapping[str, Any], who: Person | None, *, was: str | None = None, reason: str = ""
) -> Run:
    """Keep a run, as a day's file writes it, new, or the one called was; raises InputError."""
    entry = checked(SessionIn, written, "session")
    with changing(day_pk, who, reason) as day:
        kept = Run(day=day, position=_next(day.runs.all())) if was is None else _run(day, was)
        if day.runs.filter(name=entry.name).exclude(pk=kept.pk).exists():
            raise InputError("a session of this name is there.", Fault(field="session", value=entry.name))
        kept.group = _group(day, entry.group)
        kept.name, kept.at, kept.minutes, kept.laps = entry.name, entry.at, entry.minutes, entry.laps
        kept.start = None if entry.start is None else dumped(entry.start)
        kept.save()
    return kept


def remove_run(day_pk: int, name: str, who: Person | None, *, reason: str = "") -> None:
    """Remove a run; what was given out of it stays. Raises InputError."""
    with changing(day_pk, who, reason) as day:
        _run(day, name).delete()


def _head(written: Mapping[str, Any]) -> dict[str, Any]:
    """Check a day's head as part of a whole day, and return it as the file would write it."""
    stated = {key: value for key, value in bare(written).items() if value not in ("", [])}
    strange = next((key for key in stated if key not in HEAD_KEYS), None)
    if strange is not None:
        raise InputError(
            f"the key {strange!r} is unknown.", Fault(field=strange, allowed=", ".join(HEAD_KEYS))
        )
    whole = {"circuit": "any", **_REST, **stated}
    entry = dumped(checked(DayFile, whole, "day"))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "day.toml"
        path.write_text(toml_text({"schema": SCHEMA, **entry}), encoding="utf-8")
        try:
            read_day(path)
        except InputError as error:
            raise InputError(error.message, replace(error.fault, file=None, line=None)) from None
    return {key: entry[key] for key in HEAD_KEYS if key in stated}


def _check_coaches(day: Day, coaches: Sequence[str]) -> None:
    known = [each["name"] for each in day.coaches]
    for coach in coaches:
        if coach not in known:
            raise unknown("coach", coach, known)


def _check_alone(kept: Place) -> None:
    """A machine carries one rider of a group."""
    name = rider_of(kept)["machine"]
    others = kept.group.places.exclude(pk=kept.pk).select_related("group", "rider", "machine")
    other = next((each for each in others if rider_of(each)["machine"] == name), None)
    if other is not None:
        remedy = "Give one of them another machine, or another group."
        message = f"machine {name!r} carries {other.rider.name!r} of the same group already."
        raise InputError(message, Fault(field="machine", value=name, remedy=remedy))


def _bring(day: Day, name: str) -> None:
    machine = stable.machine(name)
    if not day.brought.filter(machine=machine).exists():
        Brought.objects.create(day=day, machine=machine, position=_next(day.brought.all()))


def _next(some: Any) -> int:  # noqa: ANN401  # any table's rows with a position
    last: int | None = some.aggregate(last=Max("position"))["last"]
    return 0 if last is None else last + 1


def _group(day: Day, name: str) -> Group:
    found = day.groups.filter(name=name).first()
    if found is None:
        raise unknown("group", name, [each.name for each in day.groups.all()])
    return found


def _run(day: Day, name: str) -> Run:
    found = day.runs.filter(name=name).first()
    if found is None:
        raise unknown("session", name, [each.name for each in day.runs.all()])
    return found
