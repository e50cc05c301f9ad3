"""A day looked at as its records stand: where what is assumed is stated."""

from __future__ import annotations

from leanladder.planning.day_check import Assumption
from leanladder.web.days import looked


def test_the_place_is_stated_on_the_page_that_has_fields_for_it() -> None:
    assert looked._place(Assumption("day", None, "place_unknown")) == "head"
    assert looked._place(Assumption("day", None, "zone_unknown")) == "circuit"
