"""Machines and riders on record, and the school's own files of tyres and machines."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any, Literal

from django.db import transaction
from pydantic import BaseModel

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange import machine as machine_file
from leanladder.interchange import tyre as tyre_file
from leanladder.interchange.day_file import MachineIn, RiderIn
from leanladder.records.checking import Written, by_one_only, check_text, checked, dumped, stem, unknown
from leanladder.records.day_content import changing
from leanladder.records.history import content_of, note, note_removal
from leanladder.records.links import revoke_of
from leanladder.records.models import Machine, OwnFile, Person, Place, Rider

Kind = Literal["tyre", "machine"]
# The keys of a machine's entry that may name a file.
FILE_KEYS = ("machine", "tyre", "front", "rear")
# Stands in for a rider's group, which differs from day to day, while the rest is checked.
_ANY_GROUP = "any"


def machines() -> list[Machine]:
    """Return the machines on record by name."""
    return list(Machine.objects.all())


def riders() -> list[Rider]:
    """Return the riders on record by name."""
    return list(Rider.objects.all())


def own_files(kind: Kind | None = None) -> list[OwnFile]:
    """Return the school's own files, of one kind or all, by name."""
    found = OwnFile.objects.all()
    return list(found if kind is None else found.filter(kind=kind))


def machine(name: str) -> Machine:
    """Return a machine by name; raises InputError naming the nearest."""
    found = Machine.objects.filter(name=name).first()
    if found is None:
        raise unknown("machine", name, list(Machine.objects.values_list("name", flat=True)))
    return found


def rider(name: str) -> Rider:
    """Return a rider by name; raises InputError naming the nearest."""
    found = Rider.objects.filter(name=name).first()
    if found is None:
        raise unknown("rider", name, list(Rider.objects.values_list("name", flat=True)))
    return found


def machine_entry(name: str, written: Mapping[str, Any]) -> MachineIn:
    """Return a machine's entry of a day's file, checked; raises InputError."""
    return checked(MachineIn, {**written, "name": name}, f"machine {name}".strip())


def rider_entry(name: str, written: Mapping[str, Any], group: str = _ANY_GROUP) -> RiderIn:
    """Return a rider's entry of a day's file, checked; raises InputError."""
    return checked(RiderIn, {**written, "name": name, "group": group}, f"rider {name}".strip())


@by_one_only()
@transaction.atomic
def save_machine(
    name: str,
    written: Mapping[str, Any],
    guest: bool,
    who: Person | None,
    *,
    reason: str = "",
) -> Machine:
    """Keep a machine by its name, new or in place of what was; raises InputError.

    written is its entry of a day's file without the name; own files are named by their paths there.
    """
    entry = machine_entry(name, written)
    _check_files(entry)
    kept = Machine.objects.select_for_update().filter(name=entry.name).first()
    was = None if kept is None else content_of(kept)
    kept = kept or Machine(name=entry.name)
    kept.guest, kept.written = guest, dumped(entry, "name")
    kept.save()
    note(kept, was=was, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def save_rider(name: str, written: Mapping[str, Any], who: Person | None, *, reason: str = "") -> Rider:
    """Keep a rider by name, new or in place of what was; raises InputError.

    written is their entry of a day's file without name and group; their machine must be on record.
    """
    entry = rider_entry(name, written)
    machine(entry.machine)
    kept = Rider.objects.select_for_update().filter(name=entry.name).first()
    was = None if kept is None else content_of(kept)
    kept = kept or Rider(name=entry.name)
    kept.written = dumped(entry, "name", "group")
    kept.save()
    note(kept, was=was, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def rename_machine(name: str, new_name: str, who: Person | None, *, reason: str = "") -> Machine:
    """Give a machine another name, in its riders' entries too; raises InputError."""
    kept = machine(name)
    was = content_of(kept)
    entry = machine_entry(new_name, kept.written)
    _check_free(Machine.objects.filter(name=entry.name).exclude(pk=kept.pk).exists(), "machine", entry.name)
    kept.name = entry.name
    kept.save(update_fields=["name"])
    note(kept, was=was, who=who, reason=reason)
    for each in _riders_on(name):
        before = content_of(each)
        each.written = {**each.written, "machine": entry.name}
        each.save(update_fields=["written"])
        note(each, was=before, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def rename_rider(name: str, new_name: str, who: Person | None, *, reason: str = "") -> Rider:
    """Give a rider another name; their links are taken back. Raises InputError.

    What was given out keeps the old name: it is given out anew under the new one.
    """
    kept = rider(name)
    was = content_of(kept)
    entry = rider_entry(new_name, kept.written)
    _check_free(Rider.objects.filter(name=entry.name).exclude(pk=kept.pk).exists(), "rider", entry.name)
    kept.name = entry.name
    kept.save(update_fields=["name"])
    note(kept, was=was, who=who, reason=reason)
    if entry.name != name:
        revoke_of(name, who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def remove_machine(name: str, who: Person | None, *, reason: str = "") -> None:
    """Remove a machine, from days too; raises InputError where a rider has it as theirs."""
    kept = machine(name)
    on = [each.name for each in _riders_on(name)]
    on += [str(place) for place in Place.objects.filter(machine=kept).select_related("rider", "group")]
    if on:
        fault = Fault(field="machine", value=name, remedy=f"Give another one first to {', '.join(on)}.")
        raise InputError("someone rides this machine.", fault)
    for day_pk in set(kept.brought.values_list("day", flat=True)):
        with changing(day_pk, who, reason):
            kept.brought.filter(day=day_pk).delete()
    note_removal(kept, who=who, reason=reason)
    kept.delete()


@by_one_only()
@transaction.atomic
def remove_rider(name: str, who: Person | None, *, reason: str = "") -> None:
    """Remove a rider, from days too, and their links; what was given out stays. Raises InputError."""
    kept = rider(name)
    for day_pk in set(kept.places.values_list("group__day", flat=True)):
        with changing(day_pk, who, reason):
            kept.places.filter(group__day=day_pk).delete()
    note_removal(kept, who=who, reason=reason)
    kept.delete()
    revoke_of(name, who, reason=reason)


@by_one_only()
@transaction.atomic
def save_own_file(
    kind: Kind, text: str, who: Person | None, *, reason: str = "", replace: bool = True
) -> OwnFile:
    """Keep a tyre/1 or machine/1 file under the name that it states; raises InputError.

    One of the same name on record is replaced, or refused if it differs and replace is False.
    """
    model, schema = _FILES[kind]
    check_text(text, model, schema, f"{kind} file")
    name = stem(str(tomllib.loads(text)["name"]))
    kept = OwnFile.objects.select_for_update().filter(kind=kind, name=name).first()
    if kept is not None and kept.text != text and not replace:
        remedy = "Give it another name, or import it in place of the one on record."
        raise InputError(
            f"another {kind} file of this name is on record.", Fault(field=kind, value=name, remedy=remedy)
        )
    was = None if kept is None else content_of(kept)
    kept = kept or OwnFile(kind=kind, name=name)
    kept.text = text
    kept.save()
    note(kept, was=was, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def remove_own_file(kind: Kind, name: str, who: Person | None, *, reason: str = "") -> None:
    """Remove an own file; raises InputError where a machine names it."""
    kept = OwnFile.objects.filter(kind=kind, name=name).first()
    if kept is None:
        raise unknown(f"{kind} file", name, [each.name for each in own_files(kind)])
    used = [each.name for each in machines() if kept.path in files_of(each.written)]
    if used:
        fault = Fault(field=kind, value=name, remedy=f"Change machine {', '.join(used)} first.")
        raise InputError("a machine uses this file.", fault)
    note_removal(kept, who=who, reason=reason)
    kept.delete()


def files_of(written: Written) -> list[str]:
    """Return the paths of own files that a machine's entry names."""
    named = (written.get(key) for key in FILE_KEYS)
    return [name for name in named if isinstance(name, str) and is_file(name)]


def is_file(name: str) -> bool:
    """Return whether a name means a file, not something that ships."""
    return name.endswith(".toml") or "/" in name or "\\" in name


_FILES: dict[Kind, tuple[type[BaseModel], str]] = {
    "tyre": (tyre_file.TyreFile, tyre_file.SCHEMA),
    "machine": (machine_file.MachineFile, machine_file.SCHEMA),
}


def _check_files(entry: MachineIn) -> None:
    known = {each.path for each in own_files()}
    for path in files_of(dumped(entry)):
        if path not in known:
            raise unknown("own file", path, sorted(known))


def _check_free(taken: bool, what: str, name: str) -> None:
    if taken:
        fault = Fault(field=what, value=name, remedy="Choose another name.")
        raise InputError(f"a {what} of this name is on record.", fault)


def _riders_on(name: str) -> list[Rider]:
    return [each for each in riders() if each.written.get("machine") == name]
