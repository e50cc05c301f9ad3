"""Every text: complete, filled, and within the wording rules of the project's design."""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files
from typing import get_args

import pytest

from leanladder.domain.ladder import Limit, PlanLimit
from leanladder.wording import (
    CAUTIONS,
    GUIDE_CAUTIONS,
    UNREVIEWED,
    WARMING_CAUTION,
    WordingError,
    cautions,
    codes,
    languages,
    reviewed,
    text,
    unmarked,
)

TEXTS = files("leanladder").joinpath("wording")
# A case a group of codes: as many cases as codes would take longer than all they hold.
GROUPS = [
    (language, group)
    for language in languages()
    for group in sorted({code.partition(".")[0] for code in codes(language)})
]
TRANSLATIONS = [language for language in languages() if language != "en"]
UNREVIEWED_LANGUAGES = [language for language in languages() if not reviewed(language)]
# Words that permit where a limit allows, or promise, or make an aim of a limit; by language.
MISLEADING = {
    "en": r"\b(can|cannot|could|will|safe|safely|should)\b",
    "de": r"\b(kann|kannst|können|könnte|sicher|sollte|solltest)\b",
    "fr": r"\b(peut(?!-être)|peux|peuvent|pourrait|sûr|sûre|sûrement|devrait|devrais)\b",
}
# Words that make a promise of a count of chances; by language, with the one way in which one is named.
PROMISES = {
    "en": (r"safe|guarant|certain|\bsure|reliab|promise", "no promise"),
    "de": (r"sicher|garant|gewiss|verläss|versprech", "kein versprechen"),
    "fr": (r"\bsûr|garanti|certain|fiable|promesse", "pas une promesse"),
}
# An aim, named only to say that a limit is none.
AIM = {
    "en": ("target", "never a target"),
    "de": ("ziel", "nie ein ziel"),
    "fr": ("objectif", r"jamais (un )?objectif"),
}


def of_group(language: str, group: str) -> list[str]:
    """The codes of a group, as `group.code`."""
    return [code for code in codes(language) if code.partition(".")[0] == group]


def filled(code: str, language: str = "en") -> str:
    """A code's text with a 7 for every figure."""
    return text(code, language, **dict.fromkeys(codes(language)[code], "7"))


@pytest.mark.parametrize(("language", "group"), GROUPS)
def test_every_code_fills_and_leaves_no_brace(language: str, group: str) -> None:
    for code in of_group(language, group):
        words = filled(code, language)
        assert words.strip()
        assert "{" not in words


@pytest.mark.parametrize(("language", "group"), GROUPS)
def test_a_missing_figure_is_an_error(language: str, group: str) -> None:
    for code in of_group(language, group):
        for missing in codes(language)[code]:
            figures = {name: "7" for name in codes(language)[code] if name != missing}
            with pytest.raises(WordingError, match=missing):
                text(code, language, **figures)


@pytest.mark.parametrize(("language", "group"), GROUPS)
def test_sentences_have_twelve_words_at_most(language: str, group: str) -> None:
    for code in of_group(language, group):
        for sentence in re.split(r"(?<=[.?!]) ", filled(code, language)):
            words = [word for word in sentence.split() if re.search(r"\w", word)]
            assert len(words) <= 12, sentence


@pytest.mark.parametrize(("language", "group"), GROUPS)
def test_words_that_mislead_are_not_used(language: str, group: str) -> None:
    for code in of_group(language, group):
        words = filled(code, language).lower()
        assert not re.search(MISLEADING[language], words)
        aim, denied = AIM[language]
        if aim in words:
            assert re.search(denied, words), words


@pytest.mark.parametrize("language", languages())
def test_chance_and_odds_read_as_no_promise(language: str) -> None:
    promise, denied = PROMISES[language]
    for code in (*of_group(language, "odds"), *of_group(language, "cause")):
        assert not re.search(promise, filled(code, language).lower().replace(denied, "")), code
    assert denied in unmarked("odds.chance", language, of_100="95").lower()


@pytest.mark.parametrize("language", languages())
def test_every_uncertain_input_has_a_name_that_stands_within_a_list(language: str) -> None:
    data = files("leanladder").joinpath("data", "odds.toml").read_text(encoding="utf-8")
    inputs = {code for code, table in tomllib.loads(data).items() if "kind" in table}
    assert {code.partition(".")[2] for code in of_group(language, "cause")} == inputs
    for code in of_group(language, "cause"):
        assert re.fullmatch(r"[^.;:]+", text(code, language))


@pytest.mark.parametrize(("language", "group"), GROUPS)
def test_units_stand_after_a_space(language: str, group: str) -> None:
    for code in of_group(language, group):
        assert not re.search(r"7(°C|m\b|km|bar|min|s\b)", filled(code, language))


@pytest.mark.parametrize("language", TRANSLATIONS)
def test_every_language_has_the_same_codes(language: str) -> None:
    assert set(codes(language)) == set(codes("en"))


@pytest.mark.parametrize(("language", "group"), GROUPS)
def test_a_translation_has_the_figures_of_its_english(language: str, group: str) -> None:
    for code in of_group(language, group):
        assert set(codes(language)[code]) == set(codes("en").get(code, ()))


@pytest.mark.parametrize("language", languages())
def test_every_file_says_whether_it_is_reviewed(language: str) -> None:
    english = {item.name for item in TEXTS.joinpath("en").iterdir()}
    tables = [item for item in TEXTS.joinpath(language).iterdir() if item.name.endswith(".toml")]
    assert {item.name for item in tables} == english
    stated = [tomllib.loads(item.read_text(encoding="utf-8"))["reviewed"] for item in tables]
    assert all(isinstance(each, bool) for each in stated)
    assert reviewed(language) == all(stated)


@pytest.mark.parametrize("language", UNREVIEWED_LANGUAGES)
def test_a_sentence_nobody_has_reviewed_ends_in_a_mark(language: str) -> None:
    assert text("dry_only", language) == f"{unmarked('dry_only', language)} {UNREVIEWED}"
    assert text("page.unreviewed", language).startswith(UNREVIEWED)
    assert not text("dry_only").endswith(UNREVIEWED)


@pytest.mark.parametrize("language", UNREVIEWED_LANGUAGES)
@pytest.mark.parametrize("code", ["side.left", "end.rear", "mark.front_grip", "label.line", "card.turn"])
def test_a_piece_of_a_sentence_bears_no_mark(language: str, code: str) -> None:
    assert text(code, language) == unmarked(code, language)


@pytest.mark.parametrize("language", languages())
def test_what_a_page_says_of_its_translation_is_said_without_a_mark_of_its_own(language: str) -> None:
    assert not unmarked("page.unreviewed", language).endswith(UNREVIEWED)


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("limit", get_args(PlanLimit))
def test_every_reason_has_a_text_a_label_and_a_mark_of_one_character(limit: str, language: str) -> None:
    assert filled(f"reason.{limit}", language)
    assert text(f"label.{limit}", language)
    assert len(text(f"mark.{limit}", language)) == 1


@pytest.mark.parametrize("language", languages())
def test_marks_differ(language: str) -> None:
    marks = [text(f"mark.{limit}", language) for limit in get_args(PlanLimit)]
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


@pytest.mark.parametrize(("language", "permits"), [("en", "allow"), ("de", "erlaub"), ("fr", "permis")])
def test_the_head_of_the_limits_permits_nothing(language: str, permits: str) -> None:
    assert permits not in text("coach.limits", language).lower()
