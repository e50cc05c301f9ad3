"""The records in one file, and back."""

from __future__ import annotations

import contextlib
import json
import shutil
import sqlite3
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from django.db import connection

from leanladder import ENGINE, __version__
from leanladder.domain.errors import InputError
from leanladder.records import backup
from leanladder.records.models import Day

Opened = contextlib.closing[sqlite3.Connection]


def opened(path: Path) -> Opened:
    return contextlib.closing(sqlite3.connect(path))


def riders(path: Path) -> list[str]:
    with opened(path) as found:
        return sorted(row[0] for row in found.execute("SELECT name FROM records_rider"))


@pytest.fixture
def kept(demo: Day, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The records as a file of SQLite's, in use as the app has it."""
    if connection.vendor != "sqlite":
        pytest.skip("for SQLite alone")
    path = tmp_path / "data" / "leanladder.sqlite3"
    path.parent.mkdir()
    with opened(path) as copy:
        # Not by SQLite's own copying, which waits for the transaction that this test runs in.
        copy.executescript("\n".join(connection.connection.iterdump()))
        copy.execute("PRAGMA journal_mode=WAL")
    monkeypatch.setattr(backup, "_database", lambda: path)
    return path


@pytest.fixture
def made(kept: Path, tmp_path: Path) -> Path:
    path = tmp_path / "kept.zip"
    key = kept.parent / "secret.key"
    key.write_text("a key")
    backup.backup(path, {"secret.key": key})
    return path


def write(path: Path, statement: str) -> None:
    with opened(path) as found:
        found.execute(statement)
        found.commit()


def test_a_backup_says_what_it_holds(made: Path) -> None:
    found = backup.check_backup(made)
    assert (found.version, found.engine) == (__version__, ENGINE)
    assert set(found.files) == {"leanladder.sqlite3", "secret.key"}
    assert found.heads["records"].startswith("00")
    assert made.stat().st_mode & 0o777 == 0o600
    assert [each.name for each in made.parent.iterdir() if each.name.startswith(".")] == []


def test_what_is_only_in_the_journal_yet_is_in_the_backup(kept: Path, tmp_path: Path) -> None:
    with opened(kept) as writing:
        writing.execute("UPDATE records_rider SET name = 'Jenny' WHERE name = 'Wren'")
        writing.commit()
        writing.execute("UPDATE records_rider SET name = 'Nobody' WHERE name = 'Sedge'")  # not acknowledged
        backup.backup(tmp_path / "kept.zip")
        writing.rollback()
    write(kept, "DELETE FROM records_place")
    backup.restore(tmp_path / "kept.zip")
    assert "Jenny" in riders(kept)
    assert "Sedge" in riders(kept)


def test_a_restored_backup_stands_and_the_old_data_lie_beside(kept: Path, made: Path) -> None:
    before = riders(kept)
    write(kept, "UPDATE records_rider SET name = 'Later' WHERE name = 'Wren'")
    (kept.parent / "secret.key").write_text("another key")
    old = backup.restore(made, {"secret.key": kept.parent / "secret.key"})
    assert riders(kept) == before
    assert old is not None
    assert "before-restore" in old.name
    assert "Later" in riders(old)
    assert (kept.parent / "secret.key").read_text() == "a key"
    (key,) = kept.parent.glob("secret.key.before-restore-*")
    assert key.read_text() == "another key"
    assert kept.stat().st_mode & 0o777 == 0o600
    assert not kept.with_name(kept.name + "-wal").exists()


GIVE = """INSERT INTO records_given (id, day_id, run_name, at, by_name, word, valid_minutes, content, riders,
    digest, reason, void_why, void_by_name, void_word)
    VALUES (?, ?, ?, '2026-04-12 07:31:00', '', ?, 20, '{}', '[]', '', '', '', '', '')"""


def test_a_restored_card_no_longer_counts_and_its_numbers_are_not_given_again(
    kept: Path, demo: Day, tmp_path: Path
) -> None:
    """It may have been called in since the backup was made, and a phone may hold one given out since."""
    with opened(kept) as found, found:
        found.execute(GIVE, (1, demo.pk, "larks 1", "heron"))
    backup.backup(tmp_path / "kept.zip")
    with opened(kept) as found, found:
        found.execute(GIVE, (7, demo.pk, "plovers 1", "otter"))
    backup.restore(tmp_path / "kept.zip")
    with opened(kept) as found, found:
        assert found.execute("SELECT id, void_why FROM records_given").fetchall() == [(1, backup.RESTORED)]
        assert found.execute("SELECT void_at FROM records_given").fetchone()[0] is not None
        found.execute(GIVE, (None, demo.pk, "plovers 1", "otter"))
        assert found.execute("SELECT max(id) FROM records_given").fetchone() == (8,)


def test_a_restore_where_there_is_nothing(kept: Path, made: Path) -> None:
    before = riders(kept)
    for path in kept.parent.iterdir():
        path.unlink()
    assert backup.restore(made, {"secret.key": kept.parent / "secret.key"}) is None
    assert riders(kept) == before


def test_a_restore_over_a_damaged_database_keeps_that_too(kept: Path, made: Path) -> None:
    kept.write_bytes(b"no database at all, " * 200)
    old = backup.restore(made)
    assert old is not None
    assert old.read_bytes().startswith(b"no database")
    assert "Wren" in riders(kept)


def test_nothing_is_restored_while_the_database_is_in_use(kept: Path, made: Path) -> None:
    with opened(kept) as serving:
        serving.execute("SELECT count(*) FROM records_rider").fetchone()
        with pytest.raises(InputError, match="in use"):
            backup.restore(made)
        serving.execute("UPDATE records_rider SET name = 'Later' WHERE name = 'Wren'")
        serving.commit()
    assert "Later" in riders(kept)


def repacked(path: Path, change: Callable[[dict[str, bytes]], object]) -> None:
    with zipfile.ZipFile(path) as packed:
        members = {name: packed.read(name) for name in packed.namelist()}
    change(members)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in members.items():
            packed.writestr(name, content)


def told(members: dict[str, bytes], **changes: object) -> None:
    members["manifest.json"] = json.dumps({**json.loads(members["manifest.json"]), **changes}).encode()


def grown(members: dict[str, bytes]) -> None:
    members["leanladder.sqlite3"] += b"\0" * 100_000_000


def huge(members: dict[str, bytes]) -> None:
    files = json.loads(members["manifest.json"])["files"]
    files["leanladder.sqlite3"]["bytes"] = 10**15
    told(members, files=files)


def elsewhere(members: dict[str, bytes]) -> None:
    files = json.loads(members["manifest.json"])["files"]
    files["../evil"] = files.pop("secret.key")
    members["../evil"] = members.pop("secret.key")
    told(members, files=files)


DAMAGED: list[tuple[Callable[[dict[str, bytes]], object], str]] = [
    (lambda members: members.pop("leanladder.sqlite3"), "not hold what its manifest says"),
    (lambda members: members.pop("manifest.json"), "manifest cannot be read"),
    (lambda members: members.update({"manifest.json": b"{"}), "manifest cannot be read"),
    (lambda members: members.update({"manifest.json": b"[" * 100_000}), "manifest cannot be read"),
    (lambda members: members.update({"more": b""}), "not hold what its manifest says"),
    (lambda members: members.update({"secret.key": b"b key"}), "not what it was"),
    (lambda members: told(members, schema="leanladder.backup/2"), "manifest cannot be read"),
    (lambda members: told(members, files=None), "manifest cannot be read"),
    (grown, "not what it was"),
    (huge, "more room"),
    (elsewhere, "not hold what its manifest says"),
]


@pytest.mark.parametrize(("change", "why"), DAMAGED)
def test_a_damaged_or_malicious_backup_changes_nothing(
    change: Callable[[dict[str, bytes]], object], why: str, kept: Path, made: Path
) -> None:
    repacked(made, change)
    before = kept.read_bytes()
    for call in (backup.check_backup, backup.restore):
        with pytest.raises(InputError, match=why):
            call(made)
    assert kept.read_bytes() == before
    assert sorted(each.name for each in kept.parent.iterdir() if "before" in each.name) == []


def test_any_flipped_or_missing_byte_is_noticed(kept: Path, made: Path, tmp_path: Path) -> None:
    whole = made.read_bytes()
    bad = tmp_path / "bad.zip"
    # Bytes that only repeat what the directory of the zip says, such as a time, are nobody's loss.
    for place in range(200, len(whole) - 400, len(whole) // 60):
        bad.write_bytes(whole[:place] + bytes([whole[place] ^ 0xFF]) + whole[place + 1 :])
        with pytest.raises(InputError):
            backup.check_backup(bad)
    for length in (0, 10, len(whole) // 2, len(whole) - 1):
        bad.write_bytes(whole[:length])
        with pytest.raises(InputError):
            backup.check_backup(bad)


def remade(made: Path, kept: Path, statement: str) -> None:
    """A backup of a database that somebody changed."""
    write(kept, statement)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(backup, "check_database", lambda *_: None)
        backup.backup(made)


@pytest.mark.parametrize(
    ("statement", "why"),
    [
        (
            "INSERT INTO django_migrations (app, name, applied) VALUES ('records', '9999_later', '')",
            "newer version",
        ),
        (
            "INSERT INTO django_migrations (app, name, applied) VALUES ('strange', '0001_x', '')",
            "newer version",
        ),
        ("DELETE FROM django_migrations WHERE app = 'records'", "not hold records"),
        ("DROP TABLE django_migrations", "not hold records"),
        ("CREATE VIEW strange AS SELECT 1", "damaged"),
        ("INSERT INTO records_brought (day_id, machine_id, position) VALUES (999, 999, 0)", "damaged"),
    ],
)
def test_a_database_that_will_not_do_is_refused(statement: str, why: str, kept: Path, made: Path) -> None:
    remade(made, kept, statement)
    with pytest.raises(InputError, match=why):
        backup.restore(made)


def test_a_damaged_database_is_not_backed_up(kept: Path, tmp_path: Path) -> None:
    whole = kept.read_bytes()
    kept.write_bytes(whole[:8192] + b"\xff" * 20_000 + whole[28_192:])
    with pytest.raises(InputError):
        backup.backup(tmp_path / "kept.zip")
    assert not (tmp_path / "kept.zip").exists()


def test_a_backup_that_fails_leaves_the_one_before(made: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = made.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(shutil, "disk_usage", full)
    with pytest.raises(InputError, match="cannot be written"):
        backup.backup(made)
    assert made.read_bytes() == before
    with pytest.raises(InputError, match="no such folder"):
        backup.backup(made.parent / "nowhere" / "kept.zip")


def test_no_file_no_backup(kept: Path, tmp_path: Path) -> None:
    for path, why in ((tmp_path / "none.zip", "no such file"), (tmp_path, "this is a folder")):
        with pytest.raises(InputError, match=why):
            backup.check_backup(path)


@pytest.fixture
def elsewhere_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(type(connection._connections["default"]), "vendor", "postgresql")  # type: ignore[attr-defined]


def test_another_database_has_tools_of_its_own(elsewhere_kept: None, tmp_path: Path) -> None:
    for call in (backup.backup, backup.restore):
        with pytest.raises(InputError, match="not kept in a file") as refused:
            call(tmp_path / "kept.zip")
        assert "pg_dump" in str(refused.value.fault.remedy)
