"""The briefing of a group: one page, to be read from two metres, no names of riders."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import Briefing
from leanladder.domain.sentence import Sentence
from leanladder.sheets import briefing_pdf
from leanladder.wording import languages

A4 = (210, 297)
Make = Callable[..., Briefing]
Reads = Callable[[bytes], Any]


def test_a_briefing_says_word_time_order_and_rules(briefing: Make, read: Reads) -> None:
    page = read(briefing_pdf([briefing()]))
    assert page.sizes == [A4]
    for words in (
        "CLOVER",
        "Group larks, session 2",
        "Set A",
        "Coaches: Maren, Tobit",
        "Valid 09:38 to 09:58",
        "DRY ONLY",
        "Lap 1",
        "Respect turn 2, left.",
        "Who goes out when",
        "First out: 1, 2.",
        "Read the card before you ride, never while riding.",
        "Closed course only.",
    ):
        assert words in page.texts[0]
    assert not re.search(r"\d\s*°|km/h|\d\s*bar", page.texts[0])


@pytest.mark.parametrize("turns", [1, 3, 7, 8, 11, 14, 18])
def test_any_circuit_fits_one_page(briefing: Make, read: Reads, turns: int) -> None:
    page = read(briefing_pdf([briefing(turns)]))
    assert page.sizes == [A4]
    assert "Guide only." in page.texts[0]


def test_a_long_order_of_going_out_fits_too(briefing: Make, read: Reads) -> None:
    order = tuple(
        Sentence("field.then", {"after_s": 30 * part, "machines": "11, 12, 13, 14"}) for part in range(8)
    )
    page = read(briefing_pdf([briefing(14, order=order)]))
    assert page.sizes == [A4]
    assert "210 s after the first" in page.texts[0]


def test_more_words_than_a_page_holds_are_an_error(briefing: Make) -> None:
    order = (Sentence("field.then", {"after_s": 30, "machines": "11"}),) * 60
    with pytest.raises(LeanladderError, match="does not fit"):
        briefing_pdf([briefing(order=order)])
    with pytest.raises(LeanladderError, match="no briefing"):
        briefing_pdf([])


def test_without_an_order_its_head_goes_too(briefing: Make, read: Reads) -> None:
    assert "Who goes out" not in read(briefing_pdf([briefing(order=())])).texts[0]


def test_a_page_a_language_and_the_same_bytes_again(briefing: Make, read: Reads) -> None:
    pages = [briefing(language=language) for language in languages()]
    made = briefing_pdf(pages)
    assert len(read(made).sizes) == len(pages)
    assert made == briefing_pdf(pages)
