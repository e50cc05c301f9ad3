"""The app with a day on record: people who ask, and a plan at hand without the worker."""

from __future__ import annotations

import os
from collections.abc import Callable

import django
import pytest

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
django.setup()

from django.core.cache import cache  # noqa: E402  # only once Django is set up
from django.test import Client  # noqa: E402  # the same

from leanladder.records import days, people  # noqa: E402  # the same
from leanladder.records.models import Day, Person  # noqa: E402  # the same
from leanladder.web import handing, plans  # noqa: E402  # the same

PASSWORD = "a long enough word"  # noqa: S105  # of people who do not exist


@pytest.fixture(autouse=True)
def _asked(rolled_back: None) -> None:
    """Let every test here use the records, and begin without what others guessed or read.

    Keys come anew with each test that is taken back: on a laptop no plan and no card has the key of another.
    """
    cache.clear()
    plans.forget_read()
    handing.handed.cache_clear()


@pytest.fixture
def head(_asked: None) -> Person:
    """Give a head instructor."""
    return people.add_person("Oda", PASSWORD, "head", "Oda Fenn", by=None)


@pytest.fixture
def coach(_asked: None) -> Person:
    """Give a coach of the demo's group larks."""
    return people.add_person("maren", PASSWORD, "coach", "Maren", by=None)


@pytest.fixture
def demo(_asked: None) -> Day:
    """Give the example day that ships, on record."""
    return days.demo_day(None)


@pytest.fixture
def asks() -> Callable[[Person | None], Client]:
    """Give a browser of someone who is signed in, or of nobody."""

    def client(person: Person | None) -> Client:
        browser = Client(HTTP_HOST="localhost")
        if person is not None:
            browser.force_login(person)
        return browser

    return client
