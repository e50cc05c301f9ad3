"""The records on PostgreSQL: tables from nothing, a day in and out, giving out, two writers at once."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
Run = Callable[..., str]


@pytest.fixture
def tables(run: Run) -> None:
    """Bring the tables up to date, from nothing the first time."""
    run("-m", "django", "migrate", "--no-input", "--verbosity", "0")


@pytest.mark.usefixtures("tables")
def test_tables_from_nothing_are_those_of_the_models(run: Run) -> None:
    run("-m", "django", "migrate", "--check")
    run("-m", "django", "makemigrations", "--check", "--dry-run")


def test_the_records_hold_on_this_database_too(run: Run) -> None:
    """A day in and out, giving out and voiding: the records' own tests, in a database made for them."""
    tests = [f"tests/records/{name}" for name in ("days/test_round_trip.py", "test_given.py", "test_live.py")]
    said = run(
        "-m",
        "pytest",
        "-q",
        "-p",
        "no:cacheprovider",
        "--rootdir",
        str(ROOT),
        *(str(ROOT / each) for each in tests),
    )
    assert " passed" in said
    assert "failed" not in said


@pytest.mark.usefixtures("tables")
def test_two_writers_at_once(run: Run) -> None:
    found = json.loads(run(str(Path(__file__).with_name("writers.py"))).splitlines()[-1])
    assert found["vendor"] == "postgresql"
    # Each gave something out or heard why not; one at most counts, and no word came twice.
    assert found["given"]["other"] == []
    assert found["given"]["counting"] == 1
    assert found["given"]["done"] >= 1
    assert found["same_word"] == {"done": 1, "refused": found["writers"] - 1, "other": []}
    # One plan and one job for all that ask, one link for all that look.
    assert found["plans"] == {"plans": 1, "jobs": 1, "other": []}
    assert found["links"] == {"links": 1, "other": []}
    assert found["riders"] == {"riders": 1, "other": []}
