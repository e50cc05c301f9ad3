"""`leanladder password`, as someone types it on the laptop."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

ADD = """
import django
django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
from leanladder.records import people
people.add_head("Oda", "quite a long word")
"""


def run(*words: str, given: str = "") -> subprocess.CompletedProcess[str]:
    """Run Python on the data folder of this test, with no terminal."""
    ours = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    environment = {**ours, "DJANGO_SETTINGS_MODULE": "leanladder.web.settings"}
    return subprocess.run(
        [sys.executable, *words], input=given, env=environment, capture_output=True, text=True, check=False
    )


def leanladder(name: str, given: str) -> subprocess.CompletedProcess[str]:
    return run("-m", "leanladder.cli", "password", name, given=given)


def kept() -> str:
    """What is on record of the one password there is."""
    path = Path(os.environ["LEANLADDER_HOME"]) / "leanladder.sqlite3"
    with closing(sqlite3.connect(path)) as found:
        return str(found.execute("SELECT password FROM records_person").fetchone()[0])


@pytest.fixture
def before() -> str:
    """Put a head instructor on record and give what is kept of their password."""
    added = run("-c", ADD)
    assert added.returncode == 0, added.stderr
    return kept()


def test_a_lost_password_is_set_anew_on_the_laptop(before: str) -> None:
    done = leanladder("oda", "another long word\n")
    assert (done.returncode, done.stderr) == (0, "")
    assert "Oda signs in with the new password" in done.stdout
    assert "another" not in done.stdout
    assert kept() != before
    assert kept().startswith("argon2$")


@pytest.mark.parametrize(
    ("name", "given", "said"), [("Otto", "another long word\n", "Oda"), ("Oda", "short\n", "10 ")]
)
def test_a_wrong_name_or_a_weak_password_changes_nothing(
    before: str, name: str, given: str, said: str
) -> None:
    done = leanladder(name, given)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr
    assert kept() == before
