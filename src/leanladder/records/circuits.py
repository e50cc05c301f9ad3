"""Circuits on record."""

from __future__ import annotations

from pathlib import Path

from django.db import transaction

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange import notes as notes_file
from leanladder.records.checking import by_one_only, check_text, file_name, unknown
from leanladder.records.history import content_of, note, note_removal
from leanladder.records.models import Circuit, Person
from leanladder.records.models.people import LONGEST_NAME

# A line surveyed at every centimetre is smaller than this.
LARGEST_LINE_BYTES = 20_000_000


def circuits() -> list[Circuit]:
    """Return the circuits on record by name, without their lines (each is fetched when looked at)."""
    return list(Circuit.objects.defer("line"))


def circuit(pk: int) -> Circuit:
    """Return a circuit; raises InputError where there is none."""
    found = Circuit.objects.filter(pk=pk).first()
    if found is None:
        raise InputError("there is no such circuit.", Fault(field="circuit", remedy="Choose another."))
    return found


@by_one_only()
@transaction.atomic
def add_circuit(  # what a circuit is, who adds it and why
    name: str, line_name: str, line: bytes, notes_text: str, who: Person | None, *, reason: str = ""
) -> Circuit:
    """Keep a new circuit; the notes are circuit-notes/1 text or empty. Raises InputError.

    The line's file is kept byte by byte, under a name made safe; whoever calls has read it as a line.
    """
    name = _name(name)
    if Circuit.objects.filter(name=name).exists():
        remedy = "Give it another name, or change the one on record."
        raise InputError(
            "a circuit of this name is on record.", Fault(field="name", value=name, remedy=remedy)
        )
    kept = Circuit(name=name, **_line(line_name, line), notes=_notes(notes_text))
    kept.save()
    note(kept, was=None, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def change_notes(pk: int, notes_text: str, who: Person | None, *, reason: str = "") -> Circuit:
    """Put other notes to a circuit; raises InputError."""
    kept = circuit(pk)
    was = content_of(kept)
    kept.notes = _notes(notes_text)
    kept.save(update_fields=["notes"])
    note(kept, was=was, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def change_line(pk: int, line_name: str, line: bytes, who: Person | None, *, reason: str = "") -> Circuit:
    """Put another line to a circuit; raises InputError."""
    kept = circuit(pk)
    was = content_of(kept)
    for field, value in _line(line_name, line).items():
        setattr(kept, field, value)
    kept.save(update_fields=["line_name", "line"])
    note(kept, was=was, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def rename_circuit(pk: int, name: str, who: Person | None, *, reason: str = "") -> Circuit:
    """Give a circuit another name on record; its notes keep theirs. Raises InputError."""
    kept = circuit(pk)
    name = _name(name)
    if Circuit.objects.exclude(pk=pk).filter(name=name).exists():
        raise InputError("a circuit of this name is on record.", Fault(field="name", value=name))
    was = content_of(kept)
    kept.name = name
    kept.save(update_fields=["name"])
    note(kept, was=was, who=who, reason=reason)
    return kept


@by_one_only()
@transaction.atomic
def remove_circuit(pk: int, who: Person | None, *, reason: str = "") -> None:
    """Remove a circuit; raises InputError where a day takes place on it."""
    kept = circuit(pk)
    day = kept.days.first()
    if day is not None:
        raise InputError(
            "a day takes place on this circuit.",
            Fault(field="circuit", value=str(day), remedy="Remove that day first, or keep the circuit."),
        )
    note_removal(kept, who=who, reason=reason)
    kept.delete()


def circuit_called(name: str) -> Circuit:
    """Return a circuit by its name; raises InputError naming the nearest."""
    found = Circuit.objects.filter(name=name).first()
    if found is None:
        raise unknown("circuit", name, list(Circuit.objects.values_list("name", flat=True)))
    return found


def _name(name: str) -> str:
    name = name.strip()
    if not name or len(name) > LONGEST_NAME or "\0" in name:
        allowed = f"1 to {LONGEST_NAME} characters"
        raise InputError("this is no name.", Fault(field="name", value=name[:LONGEST_NAME], allowed=allowed))
    return name


def _line(line_name: str, line: bytes) -> dict[str, str | bytes]:
    fault = Fault(field="line", value=Path(line_name).name)
    if not line:
        raise InputError("the file is empty.", fault)
    if len(line) > LARGEST_LINE_BYTES:
        fault = Fault(field="line", allowed=f"{LARGEST_LINE_BYTES // 1_000_000} MB at most")
        raise InputError("the file is too large.", fault)
    name = file_name(line_name)
    if name.endswith(".toml"):  # the names of the day's own files
        remedy = "Choose the file with the circuit's points."
        raise InputError("this is no circuit's line.", Fault(field="line", value=name, remedy=remedy))
    return {"line_name": name, "line": line}


def _notes(text: str) -> str:
    if text.strip():
        check_text(text, notes_file.NotesFile, notes_file.SCHEMA, "notes")
        return text
    return ""
