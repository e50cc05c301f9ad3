"""Fixtures: a laptop with a head instructor, a coach and the example day; every test is taken back."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator

import django
import pytest

# Before any test module here is read: tables can be imported only once Django knows its settings.
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
django.setup()

from django.db import transaction  # noqa: E402  # only once Django is set up
from django.test import Client  # noqa: E402  # only once Django is set up
from django.test.utils import setup_test_environment  # noqa: E402  # the same

from leanladder.records import days  # noqa: E402  # the same
from leanladder.records.models import Day, Person  # noqa: E402  # the same


@pytest.fixture(scope="session", autouse=True)
def _answers_are_kept() -> None:
    """Let tests see what a page was made of, and a host of their own."""
    with contextlib.suppress(RuntimeError):  # another folder's tests asked for it before
        setup_test_environment()


@pytest.fixture(scope="module")
def there(request: pytest.FixtureRequest, database: None) -> Iterator[None]:
    """Put the example day on record, once for the tests of a file that ask for it; then take it back."""
    with transaction.atomic():
        if getattr(request.module, "DEMO", True):
            days.demo_day(None)
        yield
        transaction.set_rollback(True)


@pytest.fixture(autouse=True)
def _records(there: None, rolled_back: None) -> None:
    """Let every test here use the records, and take back what it does."""


@pytest.fixture
def head(_records: None) -> Person:
    """Give a head instructor."""
    return Person.objects.create_user("Oda", role="head", coach_name="Oda Fenn")


@pytest.fixture
def page(head: Person) -> Client:
    """Give a browser in which the head instructor is signed in."""
    client = Client()
    client.force_login(head)
    return client


@pytest.fixture
def coach_page(_records: None) -> Client:
    """Give a browser in which the coach of the plovers is signed in."""
    client = Client()
    client.force_login(Person.objects.create_user("Isolde", role="coach", coach_name="Isolde"))
    return client


@pytest.fixture
def demo(_records: None) -> Day:
    """Give the example day that ships, on record."""
    return Day.objects.get()
