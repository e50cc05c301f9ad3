"""What a database holds beside what was acknowledged: every write is looked up by itself."""

from __future__ import annotations

import contextlib
import json
import shutil
import sqlite3
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from scripts.serving.editing import Write
from scripts.serving.served import DATABASE

# Where a figure of a machine or a rider lies within their entry.
FIGURES = {"machine": "gauge_offset_bar", "rider": "usual_lean_deg"}
JOURNALS = ("", "-wal", "-shm")


@contextlib.contextmanager
def copied(home: Path) -> Iterator[sqlite3.Connection]:
    """Give a copy of the database and its journals as a kill left them: the app finds its own untouched."""
    with tempfile.TemporaryDirectory() as folder:
        for ending in JOURNALS:
            source = home / (DATABASE + ending)
            if source.exists():
                shutil.copyfile(source, Path(folder) / source.name)
        with contextlib.closing(sqlite3.connect(Path(folder) / DATABASE)) as found:
            yield found


def faults(found: sqlite3.Connection, writes: Sequence[Write], day_pk: int) -> list[str]:
    """Return all that is wrong: with the database itself, and with what was acknowledged.

    writes: in order, tries and acknowledgements; day_pk: the day that was edited.
    """
    whole = [row[0] for row in found.execute("PRAGMA integrity_check")]
    told = [] if whole == ["ok"] else [f"integrity: {row}" for row in whole]
    told += [f"foreign key: {row}" for row in found.execute("PRAGMA foreign_key_check")]
    for kind in FIGURES:
        told += _stable_faults(found, kind, [each for each in writes if each.kind.startswith(kind)])
    told += _reading_faults(found, writes, day_pk)
    told += _school_faults(found, writes, day_pk)
    return [*told, *_given_faults(found, writes)]


def keys(found: sqlite3.Connection) -> dict[str, str]:
    """Return the keys of machines and riders that were written, by name."""
    rows = [
        row
        for kind in FIGURES
        for row in found.execute(f"SELECT name, id FROM records_{kind}")  # noqa: S608
    ]
    return {name: str(pk) for name, pk in rows if name.split(" ")[0] in FIGURES}


def expected(writes: Iterable[Write]) -> list[Write]:
    """Return what may stand of one thing: the last that was acknowledged, and what was tried after it.

    The first of them was acknowledged, where anything was.
    """
    kept: list[Write] = []
    for each in writes:
        kept = [each] if each.done else [*kept, each]
    return kept


def _stable_faults(found: sqlite3.Connection, kind: str, writes: Sequence[Write]) -> Iterator[str]:
    rows = {
        name: (pk, json.loads(written))
        for pk, name, written in found.execute(f"SELECT id, name, written FROM records_{kind}")  # noqa: S608
    }
    noted = {key for (key,) in found.execute("SELECT key FROM records_change WHERE what = ?", (kind,))}
    for name in dict.fromkeys(each.named for each in writes):
        may_be = expected(each for each in writes if each.named == name)
        if name not in rows:
            if any(each.done for each in may_be):
                yield f"{name} is lost"
            continue
        pk, written = rows[name]
        if written.get(FIGURES[kind]) not in {each.figure for each in may_be}:
            yield f"{name} is not as acknowledged: {written}"
        if str(pk) not in noted:
            yield f"{name} stands without the note of who made it"


def _reading_faults(found: sqlite3.Connection, writes: Iterable[Write], day_pk: int) -> Iterator[str]:
    query = "SELECT track_c FROM records_measured WHERE day_id = ?"
    there = {round(row[0], 3) for row in found.execute(query, (day_pk,)) if row[0] is not None}
    for each in writes:
        if each.kind == "reading" and each.done and each.figure not in there:
            yield f"{each.named} is lost"


def _school_faults(found: sqlite3.Connection, writes: Iterable[Write], day_pk: int) -> Iterator[str]:
    may_be = expected(each for each in writes if each.kind == "day")
    ((school,),) = found.execute("SELECT school FROM records_day WHERE id = ?", (day_pk,))
    if any(each.done for each in may_be) and school not in {each.named for each in may_be}:
        yield f"{may_be[0].named} is lost: {school}"


def _given_faults(found: sqlite3.Connection, writes: Iterable[Write]) -> Iterator[str]:
    for each in writes:
        if each.kind == "given" and each.done:
            rows = list(found.execute("SELECT content FROM records_given WHERE reason = ?", (each.named,)))
            if len(rows) != 1:
                yield f"{each.named} is there {len(rows)} times"
            elif not json.loads(rows[0][0]):
                yield f"{each.named} is empty"
