"""Days that come in as files: a day.toml with what it names beside it, or a zip of that."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

from django.db import transaction

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.day import read_day
from leanladder.interchange.day_file import SCHEMA, UPGRADERS, DayFile, MachineIn, RiderIn
from leanladder.interchange.notes import read_notes
from leanladder.interchange.reading import read_text, read_toml
from leanladder.records import circuits, stable
from leanladder.records.checking import Written, dumped, within
from leanladder.records.day_content import changing
from leanladder.records.days import editing
from leanladder.records.days.folder import DAY_NAME, day_file
from leanladder.records.days.unpacking import unpack
from leanladder.records.models import Circuit, Day, Machine, Person, Rider


def import_day(path: Path, who: Person | None, *, replace: bool = False) -> Day:
    """Return the day of a day/1 file with what it names beside it, or of a zip of such a folder.

    What is on record under the same name and alike is used; what differs is refused, or put in place of
    what is on record if replace. A day that is on record just so is returned. Nothing is kept if anything
    is refused. Raises InputError; files outside the folder are never read.
    """
    if path.suffix.lower() != ".zip":
        return _imported(path, who, replace=replace)
    with tempfile.TemporaryDirectory() as folder:
        unpack(path, Path(folder))
        return _imported(Path(folder) / DAY_NAME, who, replace=replace)


def demo_day(who: Person | None) -> Day:
    """Return the example day that ships, put on record where it is not yet; raises InputError."""
    with as_file(files("leanladder") / "data" / "example") as folder:
        return _imported(folder / DAY_NAME, who, replace=False)


@transaction.atomic
def _imported(path: Path, who: Person | None, *, replace: bool) -> Day:
    folder = path.parent.resolve()
    with within(folder):
        path = folder / path.name
        read_day(path)  # all that tables say of each other
        written = read_toml(path, DayFile, SCHEMA, UPGRADERS)
        place = _circuit(folder, written, who, replace=replace)
        own = _OwnFiles(folder, who, replace=replace)
        for machine in written.machines:
            _machine(own.named(machine), who, replace=replace)
        for rider in written.riders:
            _rider(rider, who, replace=replace)
    try:
        return _day(written, place, who)
    except _KnownError as known:
        return known.day


class _KnownError(Exception):
    """The day is on record just so."""

    def __init__(self, day: Day) -> None:
        super().__init__()
        self.day = day


@transaction.atomic
def _day(written: DayFile, place: Circuit, who: Person | None) -> Day:
    """Put the day itself on record; raises _KnownError, and takes it back, where it was there before."""
    head = {key: value for key, value in dumped(written).items() if key in editing.HEAD_KEYS}
    before = list(Day.objects.filter(date=written.date, circuit=place))
    day = editing.save_day(head, place.pk, who)
    with changing(day.pk, who):
        _tables(day, written, who)
    digest = day_file(day.pk).digest
    for other in before:
        if _digest(other) == digest:
            raise _KnownError(other)
    return day


def _digest(day: Day) -> str | None:
    try:
        return day_file(day.pk).digest
    except InputError:  # one that is not whole yet is not this one
        return None


def _tables(day: Day, written: DayFile, who: Person | None) -> None:
    for machine in written.machines:
        editing.bring(day.pk, machine.name, who)
    for group in written.groups:
        editing.save_group(day.pk, group.name, group.coaches, who)
    for rider in written.riders:
        editing.place(day.pk, rider.group, rider.name, who)
    for run in written.sessions:
        editing.save_run(day.pk, dumped(run), who)


def _circuit(folder: Path, written: DayFile, who: Person | None, *, replace: bool) -> Circuit:
    line_path = _inside(folder, written.circuit)
    line = _bytes(line_path)
    notes, name = "", line_path.stem
    if written.notes is not None:
        notes_path = _inside(folder, written.notes)
        notes, name = read_text(notes_path), read_notes(notes_path).name or name
    found = Circuit.objects.filter(name=name).first()
    if found is None:
        return circuits.add_circuit(name, line_path.name, line, notes, who)
    alike = {"line": bytes(found.line) == line, "notes": found.notes == notes}
    if not all(alike.values()):
        if not replace:
            raise _differs("circuit", name, [key for key, same in alike.items() if not same])
        circuits.change_line(found.pk, line_path.name, line, who)
        circuits.change_notes(found.pk, notes, who)
    return found


class _OwnFiles:
    """The day's own files: each is put on record once, and entries then name it by its path there."""

    def __init__(self, folder: Path, who: Person | None, *, replace: bool) -> None:
        self._folder, self._who, self._replace = folder, who, replace
        self._paths: dict[tuple[str, str], str] = {}

    def named(self, entry: MachineIn) -> MachineIn:
        """Return a machine's entry that names files by their paths on record."""
        found = {key: getattr(entry, key) for key in stable.FILE_KEYS}
        paths = {key: self._kept(key, name) for key, name in found.items() if name and stable.is_file(name)}
        return entry.model_copy(update=paths)

    def _kept(self, key: str, name: str) -> str:
        kind: stable.Kind = "machine" if key == "machine" else "tyre"
        if (kind, name) not in self._paths:
            text = read_text(_inside(self._folder, name))
            kept = stable.save_own_file(kind, text, self._who, replace=self._replace)
            self._paths[kind, name] = kept.path
        return self._paths[kind, name]


def _machine(entry: MachineIn, who: Person | None, *, replace: bool) -> None:
    found = Machine.objects.filter(name=entry.name).first()
    if found is not None and not replace:
        before = stable.machine_entry(entry.name, found.written)
        _check_alike("machine", entry.name, before.model_dump(), entry.model_dump())
        return
    stable.save_machine(entry.name, dumped(entry, "name"), bool(found and found.guest), who)


def _rider(entry: RiderIn, who: Person | None, *, replace: bool) -> None:
    found = Rider.objects.filter(name=entry.name).first()
    if found is not None and not replace:
        before = stable.rider_entry(entry.name, found.written, entry.group)
        _check_alike("rider", entry.name, before.model_dump(), entry.model_dump())
        return
    stable.save_rider(entry.name, dumped(entry, "name", "group"), who)


def _check_alike(what: str, name: str, before: Mapping[str, Any], now: Written) -> None:
    unlike = [key for key, value in now.items() if before.get(key) != value]
    if unlike:
        raise _differs(what, name, unlike)


def _differs(what: str, name: str, unlike: list[str]) -> InputError:
    remedy = "Change the name in the file, or import it in place of what is on record."
    message = f"{what} {name!r} is on record otherwise ({', '.join(unlike)})."
    return InputError(message, Fault(field=f"{what} {name}", value=", ".join(unlike), remedy=remedy))


def _inside(folder: Path, name: str) -> Path:
    """Return the path of a file that the day names; one outside its folder is nobody's to read here."""
    path = (folder / name).resolve()
    if not path.is_relative_to(folder):
        remedy = "Put it beside the day's file, and name it there."
        raise InputError(
            "this file lies outside the day's folder.", Fault(field="day", value=name, remedy=remedy)
        )
    return path


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(circuits.LARGEST_LINE_BYTES + 1)
    except OSError as error:
        fault = Fault(file=str(path), remedy="Put it beside the day's file.")
        raise InputError(f"it cannot be read ({error.strerror}).", fault) from None
