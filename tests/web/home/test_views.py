"""The first page: today's day leads to the live page; the same links lead everywhere from every page."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client
from django.utils import timezone

from leanladder.records.models import Day, Person

Asks = Callable[[Person | None], Client]


@pytest.fixture(params=["head", "coach"])
def either(request: pytest.FixtureRequest) -> Person:
    """Give a head instructor, then a coach."""
    person: Person = request.getfixturevalue(request.param)
    return person


def test_on_its_day_a_day_leads_to_the_live_page_at_once(asks: Asks, either: Person, demo: Day) -> None:
    live = f'href="/days/{demo.pk}/live/"'
    assert live not in asks(either).get("/").content.decode()
    Day.objects.filter(pk=demo.pk).update(date=timezone.localdate())
    assert live in asks(either).get("/").content.decode()


@pytest.mark.parametrize("path", ["/", "/own/", "/people/", "/days/new/", "/circuits/new/", "/nothing-here/"])
def test_every_page_leads_to_days_circuits_machines_and_riders(asks: Asks, head: Person, path: str) -> None:
    top = asks(head).get(path).content.decode().partition("</header>")[0]
    for where in ("/", "/circuits/", "/machines/", "/riders/", "/files/", "/people/", "/own/"):
        assert f'<a href="{where}"' in top


def test_a_coach_is_led_to_no_page_that_is_not_for_them(asks: Asks, coach: Person) -> None:
    browser = asks(coach)
    top = browser.get("/").content.decode().partition("</header>")[0]
    assert "/machines/" not in top
    for where in ("/", "/circuits/", "/own/"):
        assert f'<a href="{where}"' in top
        assert browser.get(where).status_code == 200
