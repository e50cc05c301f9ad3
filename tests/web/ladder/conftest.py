"""A planned day on record, a desk to try at, a head instructor and coaches who look."""

from __future__ import annotations

import os
from collections.abc import Iterator
from importlib.resources import as_file, files

import django
import pytest

# Before any test module here is read: tables can be imported only once Django knows its settings.
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
django.setup()

from django.db import transaction  # noqa: E402  # only once Django is set up
from django.test import Client  # noqa: E402  # the same
from tests.web.with_a_day import _answers_are_kept  # noqa: E402, F401  # a fixture

from leanladder.records import days  # noqa: E402  # the same
from leanladder.records.models import Day, Person, Plan  # noqa: E402  # the same
from leanladder.web import plans  # noqa: E402  # the same


@pytest.fixture(scope="module")
def planned(database: None) -> Iterator[int]:
    """Give the key of a small day on record, planned; taken back when a file's tests are done."""
    with transaction.atomic():
        with as_file(files("leanladder") / "data" / "example-mini") as folder:
            day = days.import_day(folder / "day.toml", None)
        plans.worked(day.pk)
        plans.work_out_now(Plan.objects.get(day=day).pk, plans.inputs_of(day.pk))
        yield day.pk
        transaction.set_rollback(True)


@pytest.fixture
def day(planned: int, rolled_back: None) -> Day:
    """Give that day, and take back what a test does with it."""
    return Day.objects.get(pk=planned)


@pytest.fixture
def run(day: Day) -> str:
    """Give the name of its first run."""
    return plans.worked(day.pk).entries[0].session.name  # type: ignore[union-attr]  # it is planned


def signed_in(person: Person) -> Client:
    client = Client()
    client.force_login(person)
    return client


@pytest.fixture
def page(day: Day) -> Client:
    """Give a browser in which the head instructor is signed in."""
    return signed_in(Person.objects.create_user("Oda", role="head", coach_name="Oda Fenn"))


@pytest.fixture
def stranger(day: Day) -> Client:
    """Give a browser of a coach whom no group names."""
    return signed_in(Person.objects.create_user("Nils", role="coach", coach_name="Nobody's"))


@pytest.fixture
def coach(day: Day, run: str) -> Client:
    """Give a browser of a coach of the first run's group."""
    name = day.runs.get(name=run).group.coaches[0]
    return signed_in(Person.objects.create_user("Ilka", role="coach", coach_name=name))
