"""`leanladder backup` and `leanladder restore`, as someone types them: what comes back, what is refused."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

DATABASE = "leanladder.sqlite3"


def leanladder(*words: str) -> subprocess.CompletedProcess[str]:
    """Run the command on the data folder of this test; records are loaded in a process of their own."""
    environment = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    command = [sys.executable, "-m", "leanladder.cli", *words]
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=False)


@pytest.fixture
def home() -> Path:
    """Give the data folder of this test."""
    return Path(os.environ["LEANLADDER_HOME"])


def rename(home: Path, name: str) -> None:
    """Put the one circuit there is on record under a name."""
    with closing(sqlite3.connect(home / DATABASE)) as found:
        found.execute("DELETE FROM records_circuit")
        found.execute(
            "INSERT INTO records_circuit (name, line_name, line, notes) VALUES (?, 'a.csv', x'00', '')",
            (name,),
        )
        found.commit()


def names(path: Path) -> list[str]:
    """The circuits in a database, by name."""
    with closing(sqlite3.connect(path)) as found:
        return [row[0] for row in found.execute("SELECT name FROM records_circuit")]


@pytest.fixture
def backup(home: Path, tmp_path: Path) -> Path:
    """Give a backup in which the circuit has its first name; on record it has another since."""
    path = tmp_path / "kept.zip"
    assert leanladder("backup", str(tmp_path / "first.zip")).returncode == 0  # makes the tables
    rename(home, "Quillmoor")
    done = leanladder("backup", str(path))
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"{path}: ")
    assert path.stat().st_mode & 0o777 == 0o600
    rename(home, "Later")
    return path


def test_a_backup_comes_back_and_what_was_there_lies_beside(home: Path, backup: Path) -> None:
    (home / "secret.key").unlink()
    done = leanladder("restore", str(backup))
    assert (done.returncode, done.stderr) == (0, "")
    assert names(home / DATABASE) == ["Quillmoor"]
    (old,) = home.glob(f"{DATABASE}.before-restore-*")
    assert names(old) == ["Later"]
    assert str(old) in done.stdout
    assert leanladder("backup", str(backup.with_name("again.zip"))).returncode == 0


def test_a_backup_that_will_not_do_changes_nothing(home: Path, backup: Path) -> None:
    whole, key = backup.read_bytes(), (home / "secret.key").read_bytes()
    middle = len(whole) // 2
    damaged = {
        "flipped": whole[:middle] + bytes([whole[middle] ^ 0xFF]) + whole[middle + 1 :],
        "cut": whole[:-100],
        "other": b"no backup at all",
    }
    for name, content in damaged.items():
        backup.write_bytes(content)
        done = leanladder("restore", str(backup))
        assert (done.returncode, done.stdout) == (2, ""), name
        assert "no backup that will do" in done.stderr
        assert str(backup) in done.stderr
        assert names(home / DATABASE) == ["Later"]
        assert (home / "secret.key").read_bytes() == key
        assert not list(home.glob("*before-restore*"))


def test_no_file_and_a_database_in_use_are_refused(home: Path, backup: Path) -> None:
    done = leanladder("restore", str(backup.with_name("none.zip")))
    assert (done.returncode, done.stdout) == (2, "")
    assert "no such file" in done.stderr
    with closing(sqlite3.connect(home / DATABASE)) as serving:
        serving.execute("SELECT count(*) FROM records_circuit").fetchone()
        done = leanladder("restore", str(backup))
    assert (done.returncode, done.stdout) == (2, "")
    assert "in use" in done.stderr
    assert names(home / DATABASE) == ["Later"]
