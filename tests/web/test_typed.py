"""Whole numbers that came with a request."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from leanladder.records.models import Day, Person
from leanladder.web.typed import whole_number

HUGE = "9" * 5000


@pytest.mark.parametrize("text", [None, "", "-1", "1.0", "²", "\u0661", "0x1", " 1", HUGE])
def test_other_texts_are_no_number(text: str | None) -> None:
    assert whole_number(text) is None


def test_figures_are_a_number() -> None:
    assert whole_number("007") == 7


@pytest.mark.parametrize("path", ["/ladder/{}/larks%201/1/", "/days/{}/", "/days/{}/live/", "/riders/{}/"])
def test_a_key_that_no_database_knows_is_not_found(
    path: str, head: Person, asks: Callable[[Person | None], Client]
) -> None:
    assert asks(head).get(path.format("9" * 20)).status_code == 404


def test_what_is_no_number_is_the_askers_fault(
    demo: Day, head: Person, asks: Callable[[Person | None], Client]
) -> None:
    browser = asks(head)
    for text in ("²", HUGE):
        assert browser.post("/days/new/", {"circuit": text}).status_code == 400
        assert browser.post("/machines/looked/", {"machine": text}).status_code < 500
    assert demo.pk
