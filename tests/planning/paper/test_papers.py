"""Sheets, cards and briefings of the example's first two sessions."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import time

import pytest

from leanladder import wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Coach, Day, DayLadder
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.paper import CoachSheet, NoCard, NoSheet, RiderCard
from leanladder.domain.sentence import Sentence
from leanladder.planning.paper import briefings, coach_sheets, rider_cards
from leanladder.planning.paper.quarters import usual_deg
from leanladder.planning.paper.run import run_of, valid_until
from leanladder.planning.paper.spans import columns

Entries = dict[str, tuple[DayLadder, ...]]


@pytest.fixture(scope="module")
def sheets(demo_day: Day, demo_circuit: Circuit, by_session: Entries) -> list[CoachSheet]:
    made = [
        page
        for entries in by_session.values()
        for page in coach_sheets(demo_day, demo_circuit, entries, word="flint")
    ]
    return [page for page in made if isinstance(page, CoachSheet)]


@pytest.fixture(scope="module")
def cards(demo_day: Day, demo_circuit: Circuit, by_session: Entries) -> list[RiderCard]:
    made = [
        card
        for entries in by_session.values()
        for card in rider_cards(demo_day, demo_circuit, entries, word="flint")
    ]
    return [card for card in made if isinstance(card, RiderCard)]


def said(sentences: tuple[Sentence, ...]) -> list[str]:
    return [wording.unmarked(sentence.code, "en", **sentence.figures) for sentence in sentences]


def test_there_is_a_sheet_an_entry_and_a_card_a_rider(
    sheets: list[CoachSheet], cards: list[RiderCard], demo_plan: tuple[DayLadder, ...]
) -> None:
    assert [sheet.riders for sheet in sheets] == [entry.riders for entry in demo_plan]
    assert [card.rider for card in cards] == [name for entry in demo_plan for name in entry.riders]


def test_no_cell_of_a_sheet_is_above_a_lap_that_it_stands_for(sheets: list[CoachSheet]) -> None:
    for sheet in sheets:
        for index, column in enumerate(columns(sheet.ladder, "laps")):
            for lap in column.laps:
                for rung in lap.rungs:
                    cell = sheet.rows[rung.number - 1].cells[index]
                    assert cell is not None
                    assert cell.cap_deg <= rung.cap_bike_deg
                    assert cell.speed_kmh % 5 == 0


def test_a_cell_is_its_rung_rounded_down(sheets: list[CoachSheet]) -> None:
    """The first column is the first lap alone."""
    for sheet in sheets:
        for rung in sheet.ladder.laps[0].rungs:
            cell = sheet.rows[rung.number - 1].cells[0]
            assert cell is not None
            assert cell.cap_deg == math.floor(rung.cap_bike_deg)
            assert cell.speed_kmh == 5 * math.floor(rung.speed_kmh / 5.0)
            assert cell.limited_by == rung.limited_by
            assert cell.rubber_c == min(getattr(tyre, f"{rung.side}_c") for tyre in (rung.front, rung.rear))


def test_a_column_has_one_turn_with_the_least_margin(sheets: list[CoachSheet]) -> None:
    for sheet in sheets:
        for index in range(len(sheet.spans)):
            assert sum(bool(row.cells[index] and row.cells[index].least_margin) for row in sheet.rows) == 1  # type: ignore[union-attr]


def test_no_card_says_more_than_the_ladder_carries(
    cards: list[RiderCard], demo_day: Day, demo_plan: tuple[DayLadder, ...]
) -> None:
    for card in cards:
        rider = next(rider for rider in demo_day.riders if rider.name == card.rider)
        entry = next(
            each
            for each in demo_plan
            if card.rider in each.riders and each.session.name == card.heading.session
        )
        assert entry.ladder is not None
        for row in card.rows:
            for fan, column in zip(row.fans, columns(entry.ladder, "laps"), strict=True):
                for lap in column.laps:
                    caps = [rung.cap_bike_deg for rung in lap.rungs if rung.number == row.number]
                    assert all(fan is None or fan.quarters * usual_deg(rider) <= 4.0 * cap for cap in caps)


def test_new_riders_behind_their_coach_never_read_as_usual(cards: list[RiderCard], demo_day: Day) -> None:
    new = {rider.name for rider in demo_day.riders if rider.level == "new"}
    words = [fan.word for card in cards if card.rider in new for row in card.rows for fan in row.fans if fan]
    assert words
    assert "usual" not in words


def test_a_card_has_one_turn_to_respect_and_three_things_to_remember(cards: list[RiderCard]) -> None:
    for card in cards:
        assert [row.number for row in card.rows if row.least_margin] == [card.respect and card.respect[0]]
        assert 1 <= len(card.remember) <= 3
        behind = "remember.behind_coach_all" if card.coach_pace else "remember.behind_coach"
        assert card.remember[0].code == behind
        assert card.remember[-1].code == "remember.feels_wrong"
        assert {row.number for row in card.rows} | set(card.left_out) == set(range(1, 12))


def test_riders_read_no_degrees_no_speeds_and_no_names(
    cards: list[RiderCard], demo_day: Day, demo_circuit: Circuit, by_session: Entries
) -> None:
    names = {rider.name for rider in demo_day.riders} | {coach.name for coach in demo_day.coaches}
    told = [line for card in cards for line in said((*card.respect_why, *card.remember))]
    for entries in by_session.values():
        for page in briefings(demo_day, demo_circuit, entries, word="flint"):
            told += said((*page.respect_why, *page.rules, *page.order))
    for line in told:
        assert not re.search(r"°|km/h|degree|\blean\b.*\d|kilomet", line), line
        assert not any(name in line.split() for name in names), line


def test_off_warmers_riders_hear_that_the_tyres_cool(cards: list[RiderCard]) -> None:
    warm = [card for card in cards if card.heading.session == "plovers 1"]
    assert any("remember.limits_fall" in [thing.code for thing in card.remember] for card in warm)


def test_a_briefing_shows_the_most_careful_of_the_group(
    cards: list[RiderCard], demo_day: Day, demo_circuit: Circuit, by_session: Entries
) -> None:
    for name, entries in by_session.items():
        (page,) = briefings(demo_day, demo_circuit, entries, word="flint")
        for card in cards:
            if card.heading.session == name:
                for row in card.rows:
                    told, own = page.rows[row.number - 1].fans[0], row.fans[0]
                    assert told is not None
                    assert own is not None
                    assert told.quarters <= own.quarters


def test_a_briefing_names_the_turn_of_most_cards_and_says_where_others_differ(
    cards: list[RiderCard], demo_day: Day, demo_circuit: Circuit, by_session: Entries
) -> None:
    for name, entries in by_session.items():
        (page,) = briefings(demo_day, demo_circuit, entries, word="flint")
        named = [card.respect for card in cards if card.heading.session == name]
        assert page.respect is not None
        assert named.count(page.respect) == max(named.count(turn) for turn in named)
        differs = "brief.own_card" in [sentence.code for sentence in page.respect_why]
        assert differs == (len(set(named)) > 1)


def test_sheets_hold_until_the_session_ends_or_its_last_lap(
    sheets: list[CoachSheet], by_session: Entries
) -> None:
    by_minutes = next(sheet for sheet in sheets if sheet.heading.session == "larks 1")
    assert (by_minutes.heading.valid_from, by_minutes.heading.valid_until) == (time(9, 30), time(9, 45))
    entries = by_session["plovers 1"]
    ladders = [entry.ladder for entry in entries if entry.ladder is not None]
    first_over_min = min(ladder.laps[-1].minute + ladder.laps[-1].time_s / 60.0 for ladder in ladders)
    until = valid_until(entries[0].session, ladders)
    assert until == time(10, math.floor(first_over_min))
    late = replace(entries[0].session, at=time(23, 55))
    assert valid_until(late, ladders) == time(23, 59)


def test_every_sentence_has_its_words(sheets: list[CoachSheet]) -> None:
    for sheet in sheets:
        notes = tuple(figure.note for figure in sheet.figures if figure.note is not None)
        assert all(said((*sheet.checks, *sheet.stops, *sheet.least_why, *sheet.warnings, *notes)))
        assert all(wording.unmarked(figure.label) for figure in sheet.figures)


def refused(entries: tuple[DayLadder, ...], code: str) -> tuple[DayLadder, ...]:
    return tuple(
        replace(entry, ladder=None, refusal=OutsideModelError(code, wording.text(code))) for entry in entries
    )


def test_a_wet_session_has_words_in_place_of_numbers(
    demo_day: Day, demo_circuit: Circuit, by_session: Entries
) -> None:
    entries = refused(by_session["larks 1"], "wet_or_damp")
    (page,) = coach_sheets(demo_day, demo_circuit, entries, word="flint")
    assert isinstance(page, NoSheet)
    assert page.riders == tuple(name for entry in entries for name in entry.riders)
    assert page.why
    assert page.steps
    assert page.back
    cards = rider_cards(demo_day, demo_circuit, entries, word="flint")
    assert all(isinstance(card, NoCard) and card.why and card.steps for card in cards)
    assert briefings(demo_day, demo_circuit, entries, word="flint") == ()


def test_who_must_not_go_out_has_no_card_and_the_others_have(
    demo_day: Day, demo_circuit: Circuit, by_session: Entries
) -> None:
    first, *others = by_session["plovers 1"]
    entries = (*refused((first,), "plugged"), *others)
    pages = coach_sheets(demo_day, demo_circuit, entries, word="flint")
    assert isinstance(pages[0], NoSheet)
    assert said(pages[0].steps) == ["Fit another tyre."]
    assert all(isinstance(page, CoachSheet) for page in pages[1:])
    (page,) = briefings(demo_day, demo_circuit, entries, word="flint")
    assert any(first.machines[0] in line for line in said(page.order))


def test_each_language_of_the_coaches_has_its_sheets(
    demo_day: Day, demo_circuit: Circuit, by_session: Entries, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(wording, "languages", lambda: ("en", "xx"))
    coaches = (Coach("Maren", "xx"), Coach("Tobit", "en"), Coach("Isolde", "yy"))
    day = replace(demo_day, coaches=coaches)
    pages = coach_sheets(day, demo_circuit, by_session["larks 1"], word="flint")
    led = list(dict.fromkeys((page.language, page.coaches) for page in pages))
    assert led == [("xx", ("Maren",)), ("en", ("Tobit",))]
    (other, *_) = coach_sheets(day, demo_circuit, by_session["plovers 1"], word="flint")
    assert other.language == "en"  # no texts in yy


def test_nobody_passes_as_long_as_the_slowest_level_follows_its_coach(
    demo_day: Day, demo_circuit: Circuit, by_session: Entries
) -> None:
    """New riders follow for three laps, regular for two, experienced for one; two laps are the least."""
    assert run_of(demo_day, demo_circuit, by_session["larks 1"], word="flint").free_from == 4
    assert run_of(demo_day, demo_circuit, by_session["plovers 1"], word="flint").free_from == 3
