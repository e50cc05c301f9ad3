"""Sentences, dates and times as a sheet says them."""

from __future__ import annotations

from datetime import date, time

import pytest

from leanladder import wording
from leanladder.domain.sentence import Sentence
from leanladder.sheets.said import all_said, clock, dated, said, spoken, translation_mark


def test_a_side_is_said_in_the_sheets_language() -> None:
    for language in wording.languages():
        side = wording.unmarked("side.left", language)
        words = said(Sentence("card.respect", {"number": 5, "side": "left"}), language)
        assert words == wording.unmarked("card.respect", language, number=5, side=side)


def test_an_end_is_looked_up_and_a_plain_word_is_left_alone() -> None:
    figures = dict.fromkeys(("end", "family", "from_lap", "high_c"), "rear")
    known = said(Sentence("warning.hot_end", figures), "en")
    assert "rear" in known
    odd = said(Sentence("card.respect", {"number": 5, "side": "elsewhere"}), "en")
    assert "elsewhere" in odd


def test_a_language_without_texts_is_said_in_english() -> None:
    assert spoken("xx") == "en"
    assert said(Sentence("page.guide_only"), "xx") == wording.unmarked("page.guide_only", "en")


def test_an_unknown_code_is_our_fault() -> None:
    with pytest.raises(wording.WordingError):
        said(Sentence("card.nonsense"), "en")


def test_dates_and_times() -> None:
    assert dated(date(2026, 4, 12), "en") == "Sunday 12 April"
    assert dated(date(2026, 12, 1), "en") == "Tuesday 1 December"
    assert dated(date(2026, 12, 1), "fr") == "mardi 1er décembre"
    assert dated(date(2026, 12, 2), "fr") == "mercredi 2 décembre"
    assert clock(time(9, 5)) == "09:05"


def test_order_is_kept() -> None:
    assert all_said([Sentence("card.turn"), Sentence("card.dry_only")], "en") == ["Turn", "DRY ONLY"]


def test_only_a_translation_nobody_reviewed_is_marked() -> None:
    for language in wording.languages():
        mark = translation_mark(language)
        assert (mark is None) is wording.reviewed(language)
        assert mark is None or mark.startswith("*")
