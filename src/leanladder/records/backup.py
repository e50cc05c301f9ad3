"""The records in one file, and back: a zip of the database, what else is told, and a manifest.

For SQLite in the data folder. PostgreSQL has tools of its own.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import secrets
import shutil
import sqlite3
import tempfile
import zipfile
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic
from typing import IO, Any, NamedTuple

from django.db import connection, connections

from leanladder import ENGINE, __version__
from leanladder.domain.errors import Fault, InputError
from leanladder.records.database_checks import check_database, migrations_of

SCHEMA = "leanladder.backup/1"
MANIFEST = "manifest.json"
DATABASE = "leanladder.sqlite3"
RESTORED = "restored"  # why cards are void that counted when a backup was made
# More than years of days come to; what claims more is no backup of ours.
MOST_BYTES = 8_000_000_000
_MOST_MANIFEST_BYTES = 1_000_000
_LONGEST_WAIT_S = 60
_CHUNK_BYTES = 1 << 20
_NONE: Mapping[str, Path] = {}


class Manifest(NamedTuple):
    """What a backup holds: when and by which version it was made, the tables' last step an app, its files.

    files: bytes and SHA-256 (hex) by name.
    """

    made_at: datetime
    version: str
    engine: str
    heads: dict[str, str]
    files: dict[str, tuple[int, str]]


def backup(path: Path, also: Mapping[str, Path] = _NONE) -> Manifest:
    """Write everything on record into a zip at path, while others go on working; raises InputError.

    also: files to be put beside, by their names in the zip, such as the key that signs links. The file is
    for its owner alone, written beside and renamed; one that is there is replaced only by a whole one.
    """
    source = _database()
    if not path.parent.is_dir():
        raise InputError("there is no such folder.", Fault(file=str(path.parent), remedy="Name another one."))
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=".leanladder-") as folder:
            copy = Path(folder) / DATABASE
            _copy(source, copy)
            check_database(copy, str(source))
            manifest = _pack(beside, {DATABASE: copy, **also}, migrations_of(copy))
        check_backup(beside)
        beside.replace(path)
        _settle(path.parent)
    except (OSError, sqlite3.Error) as error:
        fault = Fault(file=str(path), remedy="Is there room, and may you write there?")
        raise InputError(f"the backup cannot be written ({error}).", fault) from None
    finally:
        beside.unlink(missing_ok=True)
    return manifest


def check_backup(path: Path) -> Manifest:
    """Return what a backup holds after reading all of it; raises InputError for one that will not do.

    That is one damaged, changed, made by a newer version, or not ours. Nothing that it says is trusted.
    """
    with tempfile.TemporaryDirectory(prefix="leanladder-") as folder:
        return _unpacked(path, Path(folder))


def restore(path: Path, also: Mapping[str, Path] = _NONE) -> Path | None:
    """Put a backup in place of what is on record, and return where the old database lies from now on.

    Where anything is wrong with it, everything stays as it was. also: where files beside go, by their
    names in the zip; what is there is kept too. The program must not be serving. The tables may be of an
    earlier version: bring them up to today's as at any start. Raises InputError.
    """
    target = _database()
    stamp = datetime.now(UTC).strftime("%Y%m%dT%H%M%SZ")
    try:
        with tempfile.TemporaryDirectory(dir=target.parent, prefix=".leanladder-") as folder:
            manifest = _unpacked(path, Path(folder))
            connections.close_all()
            kept = _keep_old(target, stamp)
            _call_in(Path(folder) / DATABASE, target)
            for name, place in {**also, DATABASE: target}.items():
                if name in manifest.files:
                    _put(Path(folder) / name, place, stamp)
    except OSError as error:
        fault = Fault(file=str(target), remedy="Is there room, and may you write there?")
        raise InputError(f"the backup cannot be put in place ({error.strerror}).", fault) from None
    return kept


def _database() -> Path:
    """Return the path of the database in use; raises InputError where it is none of SQLite's."""
    if connection.vendor != "sqlite":
        remedy = "Use pg_dump and pg_restore."
        raise InputError(
            "this database is not kept in a file.", Fault(value=connection.vendor, remedy=remedy)
        )
    return Path(connection.settings_dict["NAME"])


def _copy(source: Path, copy: Path) -> None:
    """Copy a database as it stands at one moment, whoever writes meanwhile, into one plain file."""
    ends = monotonic() + _LONGEST_WAIT_S

    def waited(status: int, *_: int) -> None:
        # Where another holds all of the database, the library itself would try for ever.
        if status in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED} and monotonic() > ends:
            raise TimeoutError(_LONGEST_WAIT_S, "somebody else holds the database")

    with contextlib.closing(sqlite3.connect(source)) as old, contextlib.closing(sqlite3.connect(copy)) as new:
        old.backup(new, progress=waited)
        new.execute("PRAGMA journal_mode=DELETE")


def _pack(path: Path, members: Mapping[str, Path], applied: Mapping[str, list[str]]) -> Manifest:
    files = {name: (place.stat().st_size, _sha256(place)) for name, place in members.items()}
    heads = {app: names[-1] for app, names in applied.items()}
    manifest = Manifest(datetime.now(UTC), __version__, ENGINE, heads, files)
    written = {
        "schema": SCHEMA,
        "made_at": manifest.made_at.isoformat(),
        "version": manifest.version,
        "engine": manifest.engine,
        "heads": heads,
        "files": {name: {"bytes": size, "sha256": digest} for name, (size, digest) in files.items()},
    }
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.writestr(MANIFEST, json.dumps(written, indent=1))
            for name, place in members.items():
                packed.write(place, name)
        file.flush()
        os.fsync(file.fileno())
    return manifest


def _unpacked(path: Path, folder: Path) -> Manifest:
    """Unpack a backup into a folder, checked from end to end, and return its manifest."""
    with _whole(path), zipfile.ZipFile(path) as packed:
        manifest = _manifest(packed, path)
        if sum(size for size, _ in manifest.files.values()) > min(MOST_BYTES, shutil.disk_usage(folder).free):
            raise _damaged(path, "it would take more room than there is.")
        for name, (size, digest) in manifest.files.items():
            with packed.open(name) as source:
                _extract(source, folder / name, size, digest, path)
    check_database(folder / DATABASE, str(path))
    return manifest


def _call_in(restored: Path, target: Path) -> None:
    """Make void what counted when the backup was made: nobody knows what was called in since.

    Numbers of what is given out go on behind those of the database in use, where it can be read: a phone that
    holds one of them must not take it for another card.
    """
    at = datetime.now(UTC).replace(tzinfo=None).isoformat(" ")
    with contextlib.closing(sqlite3.connect(restored)) as new, new:
        new.execute(
            "UPDATE records_given SET void_at = ?, void_why = ? WHERE void_at IS NULL", (at, RESTORED)
        )
        highest = max(_highest(new), _highest_in(target))
        new.execute("DELETE FROM sqlite_sequence WHERE name = 'records_given'")
        new.execute("INSERT INTO sqlite_sequence (name, seq) VALUES ('records_given', ?)", (highest,))


def _highest_in(database: Path) -> int:
    if not database.exists():
        return 0
    try:
        with contextlib.closing(sqlite3.connect(database, timeout=1.0)) as found:
            return _highest(found)
    except sqlite3.DatabaseError:  # damaged
        return 0


def _highest(found: sqlite3.Connection) -> int:
    """The highest number that something given out has had."""
    row = found.execute("SELECT max(seq) FROM sqlite_sequence WHERE name = 'records_given'").fetchone()
    return int(row[0] or 0)


@contextlib.contextmanager
def _whole(path: Path) -> Iterator[None]:
    """Let whatever a damaged zip does end in an InputError."""
    try:
        yield
    except FileNotFoundError:
        raise InputError("there is no such file.", Fault(file=str(path), remedy="Check the name.")) from None
    except IsADirectoryError:
        raise InputError("this is a folder.", Fault(file=str(path), remedy="Name a backup's file.")) from None
    except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, RuntimeError, EOFError) as error:
        raise _damaged(path, f"it cannot be unpacked ({error}).") from None
    except Exception as error:
        if type(error).__module__ == "zlib":  # its own error, for damage within
            raise _damaged(path, "it cannot be unpacked.") from None
        raise


def _manifest(packed: zipfile.ZipFile, path: Path) -> Manifest:
    """Read the manifest; its names must be plain ones, the zip's and no others."""
    try:
        with packed.open(MANIFEST) as file:
            found = _read_manifest(json.loads(file.read(_MOST_MANIFEST_BYTES)))
    except (KeyError, TypeError, ValueError, AttributeError, RecursionError):
        raise _damaged(path, "its manifest cannot be read.") from None
    listed = sorted(each.filename for each in packed.infolist())
    plain = all(Path(name).name == name and name not in {"", ".", ".."} for name in found.files)
    if not plain or DATABASE not in found.files or listed != sorted([MANIFEST, *found.files]):
        raise _damaged(path, "it does not hold what its manifest says.")
    return found


def _read_manifest(written: Any) -> Manifest:  # noqa: ANN401  # whatever was in the file
    if written["schema"] != SCHEMA:
        raise ValueError("another schema")
    files = {str(name): (int(each["bytes"]), str(each["sha256"])) for name, each in written["files"].items()}
    if any(size < 0 for size, _ in files.values()):
        raise ValueError("less than nothing")
    heads = {str(app): str(name) for app, name in written["heads"].items()}
    made_at = datetime.fromisoformat(written["made_at"])
    return Manifest(made_at, str(written["version"]), str(written["engine"]), heads, files)


def _extract(source: IO[bytes], to: Path, size: int, digest: str, path: Path) -> None:
    """Unpack one file of just so many bytes with that digest; the zip's own checksum is checked as well."""
    whole, left = hashlib.sha256(), size
    with to.open("xb") as file:
        while chunk := source.read(_CHUNK_BYTES):
            left -= len(chunk)
            if left < 0:
                break
            whole.update(chunk)
            file.write(chunk)
        file.flush()
        os.fsync(file.fileno())
    if left != 0 or whole.hexdigest() != digest:
        raise _damaged(path, f"{to.name} is not what it was when the backup was made.")


def _keep_old(target: Path, stamp: str) -> Path | None:
    """Keep the database in use under another name beside, and leave no journal that a new one would read."""
    if not target.exists():
        return None
    kept = _beside(target, stamp)
    try:
        with contextlib.closing(sqlite3.connect(target, timeout=1.0)) as old:
            # Only who is alone with a database may do this: it finds a program that still serves.
            (mode,) = old.execute("PRAGMA journal_mode=DELETE").fetchone()
        if mode != "delete":
            raise _in_use(target)
    except sqlite3.OperationalError:
        raise _in_use(target) from None
    except sqlite3.DatabaseError:  # damaged: kept as it is, with what belongs to it
        for ending in ("-wal", "-shm"):
            part = target.with_name(target.name + ending)
            if part.exists():
                part.rename(kept.with_name(kept.name + ending))
    _double(target, kept)
    return kept


def _in_use(target: Path) -> InputError:
    fault = Fault(file=str(target), remedy="Stop the program that serves, then do it again.")
    return InputError("the database is in use.", fault)


def _put(source: Path, place: Path, stamp: str) -> None:
    """Put a file in place of another at once; what was there is kept beside."""
    if place.exists() and not _beside(place, stamp).exists():
        _double(place, _beside(place, stamp))
    source.chmod(0o600)
    shutil.move(source, place)  # a renaming where both lie on one disk, as the database does
    _settle(place.parent)


def _beside(place: Path, stamp: str) -> Path:
    return place.with_name(f"{place.name}.before-restore-{stamp}")


def _double(place: Path, kept: Path) -> None:
    """Give a file a second name, so that at no moment there is none; a copy where there are no links."""
    try:
        os.link(place, kept)
    except OSError:
        shutil.copy2(place, kept)


def _settle(folder: Path) -> None:
    """See to it that a renaming outlives a power cut."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _damaged(path: Path, what: str) -> InputError:
    fault = Fault(file=str(path), remedy="Use another backup; nothing was changed.")
    return InputError(f"this is no backup that will do: {what}", fault)
