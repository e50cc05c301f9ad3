"""The head instructor's pages: lists to tick, pressures, and which set counts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import DayList, ListPart, PressureRow, SetChoice, SetRow
from leanladder.domain.sentence import Sentence
from leanladder.sheets import choice_pdf, list_pdf
from leanladder.wording import languages

A4 = (210, 297)
Reads = Callable[[bytes], Any]
PART = ListPart("procedure.before", (Sentence("wet.maker"), Sentence("wet.small")))
PRESSURES = (
    PressureRow(("1", "2"), 2.1, 1.9, 2.0, 1.8, 8.0, 0.05, 2.5, 2.9),
    PressureRow(("3",), None, None, None, None, 8.5, notes=(Sentence("remember.no_weaving"),)),
    PressureRow(("14",), 2.25, 2.0, 2.1, 1.9, 8.0, -0.1, 2.5, 2.5),
    PressureRow(("15",), 2.25, 2.0, 2.1, 1.9, 8.0, 0.0, 2.5, 2.5),
)


@pytest.fixture
def morning() -> DayList:
    return DayList(
        "morning",
        "Quillmoor Riding School",
        "Long Meadow",
        date(2026, 4, 12),
        "en",
        (PART, ListPart("procedure.stop", ())),
        PRESSURES,
    )


@pytest.fixture
def choice() -> SetChoice:
    rows = tuple(
        SetRow(f"larks {n}", time(8 + n), (("a", 3 + n, 2 + n), ("b", 9 + n, 7 + n), ("c", None, None)))
        for n in range(1, 5)
    )
    return SetChoice(
        "Quillmoor Riding School",
        "Long Meadow",
        date(2026, 4, 12),
        "en",
        rows,
        (("a", "CLOVER"), ("b", "HARBOUR"), ("c", "SADDLE")),
    )


def test_a_morning_list_gives_each_machine_its_pressures(morning: DayList, read: Reads) -> None:
    page = read(list_pdf(morning))
    assert page.sizes == [A4]
    text = page.texts[0]
    for words in (
        "Morning list",
        "Long Meadow, Sunday 12 April",
        "2.10",
        "1.80",
        "8.5 °C",
        "0.05 high",
        "0.10 low",
        "true",
        "not stated",
        "none",
        "2.90",
        "Do not weave",
        "Raise to road pressure before riding home.",
        "Set wet pressures as the tyre maker says.",
    ):
        assert words in text
    assert text.index("Cold pressures") < text.index("Before anyone goes out")
    assert "When to stop" not in text, "a part without a line has no head"


def test_pressures_stand_with_the_part_that_is_about_them(morning: DayList, read: Reads) -> None:
    about = ListPart("lists.head_pressures", (Sentence("wet.maker"),))
    text = read(list_pdf(replace(morning, parts=(PART, about, PART)))).texts[0]
    assert text.index("Make groups small") < text.index("Cold pressures") < text.rindex("Make groups small")
    assert "Raise to road pressure" not in text, "the part says so itself"


def test_without_advice_there_is_no_pressure(morning: DayList, read: Reads) -> None:
    text = read(list_pdf(replace(morning, pressures=PRESSURES[1:2]))).texts[0]
    assert "none" in text
    assert "2." not in text


def test_an_evening_list_without_pressures_says_nothing_of_them(morning: DayList, read: Reads) -> None:
    text = read(list_pdf(replace(morning, kind="evening", pressures=()))).texts[0]
    assert "Evening before" in text
    assert "Cold pressures" not in text
    assert "Raise to road pressure" not in text


def test_a_long_list_takes_more_pages_and_counts_them(morning: DayList, read: Reads) -> None:
    page = read(list_pdf(replace(morning, parts=(PART,) * 25)))
    assert page.sizes == [A4] * len(page.sizes)
    assert len(page.sizes) > 1
    assert f"Page 1 of {len(page.sizes)}." in page.texts[0]
    assert sum(text.count("Make groups small") for text in page.texts) == 25


def test_the_choice_gives_each_set_its_word_and_what_it_needs(choice: SetChoice, read: Reads) -> None:
    page = read(choice_pdf(choice))
    assert page.sizes == [A4]
    for words in (
        "Set A",
        "HARBOUR",
        "larks 3",
        "11:00",
        "track at least 12 °C",
        "air at least 10 °C",
        "no set",
        "no cards",
        "all sets are void",
    ):
        assert words in page.texts[0]
    assert page.texts[0].count("no set") == 4


def test_a_day_warmer_than_the_mildest_set_is_told_where_there_is_such_a_set(
    choice: SetChoice, read: Reads
) -> None:
    assert "Well above what set C needs" in read(choice_pdf(choice)).texts[0]
    assert "set C" not in read(choice_pdf(replace(choice, words=choice.words[:2]))).texts[0]


@pytest.mark.parametrize("language", languages())
def test_a_usual_morning_is_one_page_in_letters_large_enough(
    morning: DayList, read: Reads, language: str
) -> None:
    """As many parts, lines and machines as the example's day."""
    lines = (Sentence("lists.measure_track"), Sentence("lists.measure_air"), Sentence("lists.choose_one"))
    order = tuple(
        Sentence(
            "lists.session", {"session": f"larks {n}", "at": "09:30", "group": "larks", "order": "1, 2. " * 8}
        )
        for n in range(4)
    )
    parts = (
        ListPart("lists.head_road", lines),
        ListPart("lists.head_measure", (*lines, lines[0])),
        ListPart("lists.head_choose", (*lines, lines[0])),
        ListPart("lists.head_pressures", lines[:2]),
        ListPart("lists.head_board", lines[:2]),
        ListPart("lists.head_order", (*order, *lines)),
        ListPart("lists.head_void", lines),
    )
    made = list_pdf(replace(morning, parts=parts, language=language))
    page = read(made)
    assert page.sizes == [A4]
    assert page.texts[0].count("larks 3") == 1
    assert min(page.letters) >= 9.5 - 0.01


def test_sets_stand_from_cold_to_mild_whatever_their_order(choice: SetChoice, read: Reads) -> None:
    text = read(choice_pdf(replace(choice, words=choice.words[::-1]))).texts[0]
    assert text.index("CLOVER") < text.index("HARBOUR") < text.index("SADDLE")


def test_two_sets_and_many_sessions_fit(choice: SetChoice, read: Reads) -> None:
    rows = tuple(replace(choice.rows[0], session=f"plovers {n}") for n in range(14))
    page = read(choice_pdf(replace(choice, rows=rows, words=choice.words[:2])))
    assert page.sizes == [A4]
    assert "SADDLE" not in page.texts[0]
    assert "plovers 13" in page.texts[0]


def test_nothing_to_choose_from_is_an_error(choice: SetChoice) -> None:
    for nothing in (replace(choice, words=()), replace(choice, rows=())):
        with pytest.raises(LeanladderError):
            choice_pdf(nothing)


def test_the_same_list_gives_the_same_bytes(morning: DayList, choice: SetChoice) -> None:
    assert list_pdf(morning) == list_pdf(morning)
    assert choice_pdf(choice) == choice_pdf(choice)
