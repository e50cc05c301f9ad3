"""A day as a folder: its day/1 file with the circuit, notes and own files beside."""

from __future__ import annotations

import hashlib
import io
import tempfile
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

import tomlkit
from tomlkit.items import InlineTable

from leanladder.interchange.day import read_day
from leanladder.interchange.files import write_folder
from leanladder.interchange.notes import read_notes
from leanladder.records.checking import Written, unknown, within
from leanladder.records.day_content import NOTES_NAME, content_of_day, day_of
from leanladder.records.models import Circuit, Day, OwnFile
from leanladder.records.stable import files_of

DAY_NAME = "day.toml"
# The first time that a zip knows: the same day is the same bytes.
_NO_TIME = (1980, 1, 1, 0, 0, 0)


class DayFolder(NamedTuple):
    """A day's file as text, the files beside it by their paths, and a digest of it all (SHA-256, hex)."""

    day_toml: str
    files: dict[str, bytes]
    digest: str


def day_file(day_pk: int) -> DayFolder:
    """Return a day as a folder, checked as a day's file is; raises InputError for a day not whole yet.

    The digest is the same as long as nothing of the day, its circuit and own files changes.
    """
    day = day_of(day_pk)
    written = content_of_day(day)
    text, files = toml_text(written), _files(day, written)
    with tempfile.TemporaryDirectory() as folder:
        _write(Path(folder), text, files)
        check_folder(Path(folder))
    return DayFolder(text, files, _digest(text, files))


def write_day(day_pk: int, folder: Path) -> Path:
    """Write a day's folder, made where missing, and return the path of its day's file; raises InputError.

    Files that are there already are never replaced.
    """
    found = day_file(day_pk)
    write_folder(folder, {DAY_NAME: found.day_toml.encode(), **found.files})
    return folder / DAY_NAME


def export_day(day_pk: int) -> bytes:
    """Return a day's folder as a zip, which `import_day` takes; the same day gives the same bytes."""
    found = day_file(day_pk)
    kept = io.BytesIO()
    with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in {DAY_NAME: found.day_toml.encode(), **found.files}.items():
            packed.writestr(zipfile.ZipInfo(name, _NO_TIME), content, zipfile.ZIP_DEFLATED)
    return kept.getvalue()


def check_folder(folder: Path) -> None:
    """Check a day's file and its notes by reading them; raises InputError naming files within the folder."""
    with within(folder):
        day = read_day(folder / DAY_NAME)
        if day.notes is not None:
            read_notes(day.notes)


def toml_text(written: Mapping[str, Any]) -> str:
    """Return a day's tables as TOML: lists of tables one by one, tables within them on a line."""
    text = tomlkit.document()
    for key, value in written.items():
        if isinstance(value, list):
            if value:
                text.append(key, _tables(value))
        else:
            text.append(key, tomlkit.item(value))
    return tomlkit.dumps(text)


def _tables(entries: list[Written]) -> tomlkit.items.AoT:
    tables = tomlkit.aot()
    for entry in entries:
        table = tomlkit.table()
        for key, value in entry.items():
            table.append(key, _inline(value) if isinstance(value, dict) else tomlkit.item(value))
        tables.append(table)
    return tables


def _inline(value: Written) -> InlineTable:
    table = tomlkit.inline_table()
    table.update(value)
    return table


def _files(day: Day, written: Written) -> dict[str, bytes]:
    circuit = Circuit.objects.get(pk=day.circuit_id)
    files = {circuit.line_name: bytes(circuit.line)}
    if circuit.notes:
        files[NOTES_NAME] = circuit.notes.encode()
    known = {each.path: each.text for each in OwnFile.objects.all()}
    for path in sorted({path for machine in written["machines"] for path in files_of(machine)}):
        if path not in known:
            raise unknown("own file", path, sorted(known))
        files[path] = known[path].encode()
    return files


def _write(folder: Path, text: str, files: Mapping[str, bytes]) -> None:
    """Write the files where they are read once and thrown away: nothing of it need last."""
    for name, content in {DAY_NAME: text.encode(), **files}.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content)


def _digest(text: str, files: Mapping[str, bytes]) -> str:
    whole = hashlib.sha256()
    for name, content in [(DAY_NAME, text.encode()), *sorted(files.items())]:
        whole.update(f"{name}\0{len(content)}\0".encode() + content)
    return whole.hexdigest()
