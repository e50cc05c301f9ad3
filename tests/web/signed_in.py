"""Fixtures: someone signed in, in a database of its own."""

from __future__ import annotations

import os

import django
import pytest

# Before any test module here is read: tables can be imported only once Django knows its settings.
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
django.setup()

from django.test import Client  # noqa: E402  # only once Django is set up

from leanladder.records import people  # noqa: E402  # the same


@pytest.fixture
def head(rolled_back: None) -> Client:
    """Give a head instructor's browser."""
    return _signed_in("Oda", "head")


@pytest.fixture
def coach(rolled_back: None) -> Client:
    """Give a coach's browser."""
    return _signed_in("Maren", "coach")


def _signed_in(name: str, role: str) -> Client:
    person = people.add_person(name, "a long enough word", role, name, by=None)
    client = Client(HTTP_ACCEPT_LANGUAGE="en", headers={"host": "localhost"})
    client.force_login(person)
    return client
