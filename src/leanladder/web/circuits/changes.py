"""Changes of a circuit: each is checked by building the circuit before anything is kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from django.db import transaction

from leanladder.domain.circuit import Circuit
from leanladder.domain.errors import Fault, InputError
from leanladder.records import circuits
from leanladder.records.models import Circuit as Record
from leanladder.records.models import Person
from leanladder.web.circuits import notes
from leanladder.web.circuits.lines import circuit_of, read

if TYPE_CHECKING:
    from django.core.files.uploadedfile import UploadedFile


def add(data: dict[str, Any], who: Person) -> Record:
    """Keep a new circuit from a form's clean data; raises InputError or OutsideModelError."""
    line: UploadedFile[Any] = data["line"]
    line_name, content = str(line.name), line.read()
    text = _text(data["notes"]) if data["notes"] else ""
    keys: dict[str, Any] = {
        **({"name": data["name"]} if data["name"] else {}),
        **({"zone": data["zone"]} if data["zone"] and "zone" not in notes.plain(text) else {}),
        **({"reverse": True} if data["reverse"] else {}),
        **({"closed_course": True} if data["closed_course"] else {}),
    }
    text = notes.with_keys(text, keys)
    built = read(line_name, content, text)
    name = data["name"] or _free(built.name or Path(line_name).stem)
    if "name" not in notes.plain(text):
        text = notes.with_keys(text, {"name": name})
    return circuits.add_circuit(name, line_name, content, text, who)


def _text(file: UploadedFile[Any]) -> str:
    try:
        return str(file.read().decode("utf-8-sig"))
    except UnicodeDecodeError:
        fault = Fault(field="notes", remedy="Save the file as UTF-8 text.")
        raise InputError("this is no text.", fault) from None


def _free(name: str) -> str:
    """Return a name that no circuit has, with a number behind it where need be."""
    taken = {each.name for each in circuits.circuits()}
    name = name.strip()[:50] or "circuit"
    tries = (name if number == 1 else f"{name} {number}" for number in range(1, len(taken) + 2))
    return next(each for each in tries if each not in taken)


def keep(record: Record, text: str, who: Person) -> Circuit:
    """Put other notes to a circuit that can be built with them; raises InputError or OutsideModelError."""
    built = read(record.line_name, bytes(record.line), text)
    circuits.change_notes(record.pk, text, who)
    return built


def keep_facts(record: Record, data: dict[str, Any], who: Person) -> None:
    """Keep what a form knows of a circuit; a start line moved takes nothing else along with it."""
    text, length_m = record.notes, circuit_of(record).length_m
    was = notes.plain(text)
    # What was typed beside a new start line is meant from the start line as it was.
    keys = {
        **{key: data[key] for key in ("name", "pit_exit_m", "pit_entry_m")},
        **{key: data[key] or None for key in ("zone", "source")},
        "hard_upright_allowed": data["hard_upright_allowed"] or None,
    }
    text = notes.with_keys(text, keys)
    start_m = data["start_at_m"] or 0.0
    if start_m != float(was.get("start_at_m", 0.0)):
        read(record.line_name, bytes(record.line), notes.with_keys(text, {"start_at_m": start_m or None}))
        text = notes.start_moved(text, start_m, length_m)
    with transaction.atomic():
        keep(record, text, who)
        if data["name"] != record.name:
            circuits.rename_circuit(record.pk, data["name"], who)


def join(record: Record, number: int, who: Person) -> None:
    """Make one turn of a turn and the next; raises InputError where that changes nothing."""
    built = circuit_of(record)
    _keep_turns(record, notes.joined(record.notes, built, number), len(built.corners) - 1, who)


def split(record: Record, at_m: float, who: Person) -> None:
    """Make two turns of the one at a distance [m]; raises InputError where none can be parted there."""
    built = circuit_of(record)
    _keep_turns(record, notes.split(record.notes, at_m), len(built.corners) + 1, who)


def _keep_turns(record: Record, text: str, turns: int, who: Person) -> None:
    built = read(record.line_name, bytes(record.line), text)
    if len(built.corners) != turns:
        remedy = "Take a distance well within one turn."
        raise InputError("the turns stay as they were.", Fault(field="turns", remedy=remedy))
    # A name that no turn takes any more would be spoken of on every sheet.
    text = notes.named(text, built, {corner.number: corner.name for corner in built.corners})
    keep(record, text, who)


def keep_stretches(record: Record, key: str, rows: list[dict[str, Any]], who: Person) -> None:
    """Keep the banks, the shaded stretches or the patches of a circuit; raises InputError."""
    keep(record, notes.with_keys(record.notes, {key: rows}), who)


def turn_round(record: Record, who: Person) -> None:
    """Ride the circuit the other way round; everything noted keeps its place on the road."""
    keep(record, notes.turned_round(record.notes, circuit_of(record).length_m), who)
