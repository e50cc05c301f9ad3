"""Every text: complete, filled, and within the wording rules of the project's design."""

from __future__ import annotations

import re
from typing import get_args

import pytest

from leanladder.domain.ladder import Limit, PlanLimit
from leanladder.wording import (
    CAUTIONS,
    GUIDE_CAUTIONS,
    WARMING_CAUTION,
    WordingError,
    cautions,
    codes,
    languages,
    text,
)

ALL = [(language, code) for language in languages() for code in codes(language)]


def filled(code: str, language: str = "en") -> str:
    """A code's text with a 7 for every figure."""
    return text(code, language, **dict.fromkeys(codes(language)[code], "7"))


@pytest.mark.parametrize(("language", "code"), ALL)
def test_every_code_fills_and_leaves_no_brace(language: str, code: str) -> None:
    words = filled(code, language)
    assert words.strip()
    assert "{" not in words


@pytest.mark.parametrize(("language", "code"), ALL)
def test_a_missing_figure_is_an_error(language: str, code: str) -> None:
    for missing in codes(language)[code]:
        figures = {name: "7" for name in codes(language)[code] if name != missing}
        with pytest.raises(WordingError, match=missing):
            text(code, language, **figures)


@pytest.mark.parametrize(("language", "code"), ALL)
def test_sentences_have_twelve_words_at_most(language: str, code: str) -> None:
    for sentence in re.split(r"(?<=[.?!]) ", filled(code, language)):
        words = [word for word in sentence.split() if re.search(r"\w", word)]
        assert len(words) <= 12, sentence


@pytest.mark.parametrize("code", codes("en"))
def test_words_that_mislead_are_not_used(code: str) -> None:
    words = filled(code).lower()
    assert not re.search(r"\b(can|cannot|could|will|safe|safely|should)\b", words)
    if "target" in words:
        assert "never a target" in words


@pytest.mark.parametrize("code", codes("en"))
def test_units_stand_after_a_space(code: str) -> None:
    assert not re.search(r"7(°C|m\b|km|bar|min|s\b)", filled(code))


@pytest.mark.parametrize("limit", get_args(PlanLimit))
def test_every_reason_has_a_text_a_label_and_a_mark_of_one_character(limit: str) -> None:
    assert filled(f"reason.{limit}")
    assert text(f"label.{limit}")
    assert len(text(f"mark.{limit}")) == 1


def test_marks_differ() -> None:
    marks = [text(f"mark.{limit}") for limit in get_args(PlanLimit)]
    assert len(set(marks)) == len(marks)
    assert set(get_args(Limit)) < set(get_args(PlanLimit))


@pytest.mark.parametrize(
    "code",
    [
        "wet_or_damp",
        "drying",
        "road_too_cold",
        "near_dew_point",
        "humidity_unknown",
        "track_unknown",
        "not_closed_course",
        "rubber_below_zero",
    ],
)
def test_every_refusal_says_what_to_do(code: str) -> None:
    assert text(code)
    assert text(f"remedy.{code}")


@pytest.mark.parametrize("code", [*CAUTIONS, *GUIDE_CAUTIONS, WARMING_CAUTION])
def test_every_caution_needs_no_figure(code: str) -> None:
    assert text(code) == text(f"caution.{code}")


def test_an_unknown_code_or_language_is_an_error() -> None:
    with pytest.raises(WordingError, match="nonsense"):
        text("nonsense")
    with pytest.raises(WordingError, match="xx"):
        text("dry_only", "xx")


def test_a_code_alone_and_with_its_group_are_the_same() -> None:
    assert text("wet_or_damp") == text("refusal.wet_or_damp")


def test_a_ladder_that_lets_riders_drive_harder_says_how() -> None:
    assert "no_harder" in cautions()
    assert WARMING_CAUTION not in cautions()
    assert WARMING_CAUTION in cautions(warming=True)
    assert "no_harder" not in cautions(warming=True)
