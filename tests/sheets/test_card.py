"""Riders' cards: complete on their page, in words and quarters alone."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import NoCard, RiderCard, Span
from leanladder.domain.sentence import Sentence
from leanladder.sheets import cards_pdf
from leanladder.sheets.card import cards_data, cards_pictures
from leanladder.sheets.said import label
from leanladder.sheets.typesetter import typeset
from leanladder.wording import languages

A6, A5 = (105, 148), (148, 210)
LONG_NAME = "Maximiliane-Alexandra Hohenstein-Lilienfeld the younger"
Make = Callable[..., RiderCard]
Reads = Callable[[bytes], Any]


def test_a_card_is_a_page_of_a6_with_all_that_it_must_say(card: Make, read: Reads) -> None:
    page = read(cards_pdf([card()]))
    assert page.sizes == [A6]
    for words in (
        "CLOVER",
        "Wren",
        "Group larks, session 2",
        "machine 14",
        "Set A",
        "Sunday 12 April",
        "Valid until 09:58",
        "Board at the pit exit: the same word, or do not ride.",
        "Lap 3",
        "Black is the most you may lean.",
        "Respect turn 2, left.",
        "Few turns go left.",
        "Do not weave to warm the tyres.",
        "DRY ONLY",
        "NOT WHILE RIDING",
        "Rain or wet: hand up, slow, pit lane. This card is void.",
        "After a stop: wait for your coach.",
        "Guide only.",
    ):
        assert words in page.texts[0]


@pytest.mark.parametrize("turns", range(3, 15))
def test_three_to_fourteen_turns_fit_their_page(card: Make, read: Reads, turns: int) -> None:
    page = read(cards_pdf([card(turns)]))
    assert page.sizes == [A6]
    for words in ("DRY ONLY", "Guide only.", "Feels wrong?"):
        assert words in page.texts[0]


def test_long_names_words_and_sentences_fit_with_fourteen_turns(card: Make, read: Reads) -> None:
    made = card(14, rider=LONG_NAME, machine="Hannes' spare machine", left_out=(15, 16, 17))
    heading = replace(made.heading, day_word="SADDLEBAGGER", group="the early larks", session="morning run")
    page = read(cards_pdf([replace(made, heading=heading)]))
    assert page.sizes == [A6]
    assert "SADDLEBAGGER" in page.texts[0]
    assert "younger" in page.texts[0]
    assert "Turns 15, 16, 17: always coach's pace." in page.texts[0]


def test_more_turns_columns_or_things_than_a_card_holds_are_an_error(card: Make) -> None:
    many = (Sentence("remember.no_weaving"),) * 4
    for made in (card(15), card(3, 4), card(remember=many)):
        with pytest.raises(LeanladderError, match="Wren"):
            cards_pdf([made])
    with pytest.raises(LeanladderError, match="no card"):
        cards_pdf([])


def test_a_card_bears_no_degrees_no_speeds_and_no_other_rider(card: Make, read: Reads) -> None:
    page = read(cards_pdf([card(rider="Wren"), card(rider="Sedge")]))
    for own, other, text in zip(("Wren", "Sedge"), ("Sedge", "Wren"), page.texts, strict=True):
        assert own in text
        assert other not in text
        assert not re.search(r"\d\s*°|km/h|mph|\d\s*bar", text)


def test_each_turn_has_its_plank_and_a_fan_for_each_quarter_asked(card: Make) -> None:
    made = card(3)
    pictures = cards_pictures([made])
    rows = cards_data([made])["cards"][0]["rows"]  # type: ignore[index]
    for drawn, row in zip(rows, made.rows, strict=True):
        assert drawn["picture"] in pictures
        for fan, wanted in zip(drawn["fans"], row.fans, strict=True):
            assert wanted is not None
            assert fan["picture"] == f"fan-{row.side}-{wanted.quarters}.svg"
            assert fan["picture"] in pictures


def test_a_turn_behind_the_start_is_told_as_such(card: Make, read: Reads) -> None:
    rows = card(4).rows
    behind = replace(rows[0], fans=(None, *rows[0].fans[1:]))
    page = read(cards_pdf([card(4, rows=(behind, *rows[1:]))]))
    assert "you join the track after this turn" in page.texts[0]
    assert "you join the track" not in read(cards_pdf([card(4)])).texts[0]


def test_minutes_stand_where_laps_are_short(card: Make, read: Reads) -> None:
    spans = (Span("minutes", 0, 2), Span("minutes", 2, 5), Span("minutes", 5, 10))
    text = read(cards_pdf([card(spans=spans)])).texts[0]
    assert "0 to 2 min" in text
    assert "Lap" not in text


def test_a_run_at_the_coachs_pace_says_so_once_and_first(card: Make, read: Reads) -> None:
    remember = (Sentence("remember.behind_coach_all"), Sentence("remember.no_weaving"))
    text = read(cards_pdf([card(coach_pace=True, remember=remember)])).texts[0]
    assert text.index("Coach's pace, all of this run.") < text.index("Lap 1")
    assert text.count("Coach's pace") == 1
    assert "Coach's pace, all of this run." in read(cards_pdf([card(0, respect=None)])).texts[0]
    left_out = read(cards_pdf([card(coach_pace=True, left_out=(9,))])).texts[0]
    assert "Turn 9: always coach's pace." in left_out
    assert "After lap" not in left_out


def test_what_comes_after_the_last_column_is_told_by_lap_or_minute_and_alone(card: Make, read: Reads) -> None:
    others = cards_data([card(left_out=(9, 10))])["cards"][0]["others"]  # type: ignore[index]
    assert others == [
        "After lap 3: coach's pace, no more than lap 3.",
        "Turns 9, 10: always coach's pace.",
        "After a stop: wait for your coach.",
    ]
    named = cards_data([card(left_out=(9, 10), left_out_as=8)])["cards"][0]["others"]  # type: ignore[index]
    assert named[1] == "Turns 9, 10: coach's pace, no more than turn 8."
    spans = (Span("minutes", 0, 2), Span("minutes", 2, 4), Span("minutes", 4, 6))
    assert "After 6 min: coach's pace, no more than before." in read(cards_pdf([card(spans=spans)])).texts[0]
    for language, words in (("de", "Nach Runde 3:"), ("fr", "Après le tour 3 :")):
        assert words in read(cards_pdf([card(language=language)])).texts[0]


@pytest.mark.parametrize("turns", [3, 5, 8, 11, 14])
def test_large_print_is_complete_on_every_page(card: Make, read: Reads, turns: int) -> None:
    page = read(cards_pdf([card(turns, large_print=True)]))
    assert set(page.sizes) == {A5}
    assert len(page.sizes) <= 3
    for text in page.texts:
        for words in ("CLOVER", "Wren", "Valid until 09:58", "DRY ONLY", "NOT WHILE RIDING", "Guide only."):
            assert words in text
        assert "Respect turn 2, left." in text
    for words in ("Few turns go left.", "Do not weave to warm the tyres.", "Feels wrong?"):
        assert words in page.texts[0]
    for index, text in enumerate(page.texts):
        assert len(page.texts) == 1 or f"Page {index + 1} of {len(page.texts)}." in text


@pytest.mark.parametrize("language", languages())
def test_large_print_of_eight_turns_is_few_pages_the_turn_to_respect_on_each(
    card: Make, read: Reads, language: str
) -> None:
    made = card(8, large_print=True, language=language, left_out=(9, 10, 11))
    page = with_named_rows(made, read)
    assert page.sizes in ([A5] * 2, [A5] * 3)
    for text in page.texts:
        assert label("card.respect", language, number=2, side="left") in text
    assert label("remember.feels_wrong", language).replace("\N{NO-BREAK SPACE}", " ") in page.texts[0]
    rows = [re.findall(r"row(\d)", text) for text in page.texts]
    assert [row for some in rows for row in some] == list("12345678")
    if language == "en":  # longer sentences leave the first page fewer rows
        assert [len(some) for some in rows] == [4, 4]


@pytest.mark.parametrize("turns", range(3, 15))
def test_no_row_is_lost_between_pages_of_large_print(card: Make, read: Reads, turns: int) -> None:
    page = with_named_rows(card(turns, large_print=True), read)
    rows = [int(number) for text in page.texts for number in re.findall(r"row(\d+)", text)]
    assert rows == list(range(1, turns + 1))


def with_named_rows(made: RiderCard, read: Reads) -> Any:
    """A card read with row1, row2 ... for the first word of each row, in their order."""
    data = dict(cards_data([made]))
    for index, row in enumerate(data["cards"][0]["rows"]):  # type: ignore[index]
        row["fans"][0]["word"] = f"row{index + 1}"
    return read(typeset("card.typ", data, cards_pictures([made])))


def test_in_place_of_a_card_stand_why_and_what_to_do_without_a_day_word(no_card: NoCard, read: Reads) -> None:
    for large, size in ((False, A6), (True, A5)):
        page = read(cards_pdf([replace(no_card, large_print=large)]))
        assert page.sizes == [size]
        assert "NO CARD" in page.texts[0]
        assert "The road is wet or damp." in page.texts[0]
        assert "In doubt, everybody stays in." in page.texts[0]
        assert "CLOVER" not in page.texts[0]
        assert "Valid" not in page.texts[0]


@pytest.mark.parametrize("large", [False, True])
def test_numbered_items_stand_further_apart_than_the_lines_within_one(
    no_card: NoCard, read: Reads, large: bool
) -> None:
    long = Sentence("wet.cards_void")
    page = read(cards_pdf([replace(no_card, steps=(long, long), large_print=large)]))
    lines = [height for text, height in page.lines if re.search(r"^Every|Collect", text)]
    assert len(lines) == 4
    first, wrapped, second, _ = lines
    assert wrapped - second > 1.3 * (first - wrapped)


def test_many_steps_in_place_of_a_card_fit_its_page(no_card: NoCard, read: Reads) -> None:
    steps = no_card.steps * 3
    for large, size in ((False, A6), (True, A5)):
        page = read(cards_pdf([replace(no_card, steps=steps, large_print=large)]))
        assert page.sizes == [size]
        assert page.texts[0].count("In doubt, everybody stays in.") == 3
    with pytest.raises(LeanladderError, match="does not fit"):
        cards_pdf([replace(no_card, steps=steps * 5)])


def test_the_same_cards_give_the_same_bytes(card: Make, no_card: NoCard) -> None:
    cards: list[RiderCard | NoCard] = [card(), no_card, card(5, large_print=True)]
    assert cards_pdf(cards) == cards_pdf(cards)


def test_cards_of_different_languages_share_a_file(card: Make, read: Reads) -> None:
    page = read(cards_pdf([card(language=language) for language in (*languages(), "xx")]))
    assert page.sizes == [A6] * (len(languages()) + 1)
    assert page.texts[-1] == page.texts[languages().index("en")]
