"""A day on record to work with; every test is taken back."""

from __future__ import annotations

import os
from importlib.resources import as_file, files
from pathlib import Path

import django
import pytest

# Before any test module here is read: tables can be imported only once Django knows its settings.
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
django.setup()

from leanladder.records import days, people  # noqa: E402  # only once Django is set up
from leanladder.records.models import Day, Person  # noqa: E402  # the same


@pytest.fixture(autouse=True)
def _records(rolled_back: None) -> None:
    """Let every test here use the records."""


@pytest.fixture
def head(_records: None) -> Person:
    """Give a head instructor."""
    return people.add_person("Oda", "a long enough word", "head", "Oda Fenn", by=None)


@pytest.fixture
def demo(_records: None) -> Day:
    """Give the example day that ships, on record."""
    return days.demo_day(None)


@pytest.fixture(scope="session")
def examples() -> Path:
    """Give the folder that holds the example days."""
    with as_file(files("leanladder") / "data") as folder:
        return folder
