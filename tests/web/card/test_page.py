"""The page of a card: whole in itself, worded as on paper, and what was typed stays in its place."""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Callable
from dataclasses import replace
from datetime import time
from hashlib import sha256
from html import unescape

import pytest

from leanladder.domain.paper import NoCard, RiderCard, Span
from leanladder.sheets.said import label
from leanladder.web.card import CardState, card_page
from leanladder.web.card.page import gone_page
from leanladder.wording import languages

Make = Callable[..., RiderCard]
State = Callable[..., CardState]
ROOM_KB = 40
NASTY = (
    "<script>alert(1)</script>",
    "</title></style></script><img src=x onerror=alert(1)>",
    "\" onload=alert(1) x='",
    "{{ settings }}{% debug %}",
    "\N{RIGHT-TO-LEFT OVERRIDE}samoT\N{POP DIRECTIONAL FORMATTING}",
    "W" * 60,
)


def tags(html: str) -> list[str]:
    """The names of a page's elements, in order."""
    return re.findall(r"<(/?[a-z][a-z0-9]*)\b", html)


def text_of(html: str) -> str:
    """What a page says, without its style and script."""
    bare = re.sub(r"<(style|script)>.*?</\1>", "", html, flags=re.DOTALL)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", bare)))


def test_the_policy_lets_run_what_stands_in_the_page_and_nothing_else(card: Make, state: State) -> None:
    page = card_page(card(), state(), "/c/x")
    for name in ("style", "script"):
        (inline,) = re.findall(rf"<{name}>(.*?)</{name}>", page.html, re.DOTALL)
        digest = b64encode(sha256(inline.encode()).digest()).decode()
        assert f"{name}-src 'sha256-{digest}'" in page.csp
    assert page.csp.startswith("default-src 'none'; ")
    assert "unsafe" not in page.csp
    assert not re.search(r"<[^>]+\s(style|on\w+|src)\s*=", page.html)


def test_nothing_has_to_be_fetched_and_the_page_is_small(card: Make, state: State) -> None:
    html = card_page(card(), state(), "/c/x").html
    links = re.findall(r"(?:href|src|action)=\"([^\"]*)\"", html)
    assert {link for link in links if not link.startswith("#fan-")} <= {"data:,", "/c/x/read"} | {
        link for link in links if link.startswith("/c/x?")
    }
    assert "@import" not in html
    assert "url(" not in html
    assert len(html.encode()) < ROOM_KB * 1000


@pytest.mark.parametrize("typed", NASTY)
def test_what_was_typed_stays_text(card: Make, no_card: NoCard, state: State, typed: str) -> None:
    for plain in (card(), no_card):
        made = replace(plain, rider=typed, machine=typed)
        heading = replace(made.heading, circuit=typed, group=typed, session=typed, day_word=typed)
        how = state(new_word=typed, void_by=typed, state="void", void_at=time(9, 52))
        html = card_page(replace(made, heading=heading), how, "/c/x").html
        assert tags(html) == tags(card_page(plain, state(state="void", new_word="a"), "/c/x").html)
        shown = html.partition("<body>")[2]
        assert "<bdi>" in shown
        assert typed.strip() in unescape(html)


def test_as_sent_a_card_that_counts_is_not_confirmed(card: Make, state: State) -> None:
    html = card_page(card(), state()).html
    assert 'data-state="doubt"' in html
    for other in ("void", "ended", "changed"):
        assert f'data-state="{other}"' in card_page(card(), state(state=other)).html


def test_a_card_says_what_paper_says(card: Make, state: State) -> None:
    said = text_of(card_page(card(), state(), "/c/x").html)
    for words in (
        "Tomas , Group B, session 2",
        "HERON",
        "Valid until 09:58",
        "from 09:38, machine 14",
        "17 min left",
        "Lap 3",
        "Respect turn 5, left.",
        "Few turns go left.",
        "Turns 4, 7, 11, 12: coach's pace, no more than turn 9.",
        "After a stop: wait for your coach.",
        "Do not weave to warm the tyres.",
        "DRY ONLY",
        "NOT WHILE RIDING",
        "Read this before you roll, never while riding.",
        "Rain or wet: hand up, slow, pit lane. This card is void.",
        "Confirmed 09:41 .",
        "Asks the laptop every 10 s.",
        "Guide only.",
        "is the word still HERON?",
        "Your card, as given at 09:38",
    ):
        assert words in said, words
    assert not re.search(r"\d\s*°|km/h|mph|\d\s*bar", said)


def test_a_fan_is_heard_as_its_word_and_its_quarters(card: Make, state: State) -> None:
    html = card_page(card(), state()).html
    assert html.count("<use ") == 3 * len(card().rows) + 2
    assert 'not yet<i class="unseen">, 1 of 4 quarters</i>' in html
    assert '5<i class="unseen">, left</i>' in html


def test_a_turn_behind_the_start_has_a_dash(card: Make, state: State) -> None:
    row = card().rows[0]
    rows = (replace(row, fans=(None, *row.fans[1:])), *card().rows[1:])
    said = text_of(card_page(card(rows=rows), state()).html)
    assert "you join the track after this turn" in said
    assert "\N{EN DASH} " in said


def test_a_card_without_rows_is_at_the_coachs_pace(card: Make, state: State) -> None:
    html = card_page(card(rows=(), respect=None, left_out=(), spans=()), state()).html
    assert "Coach's pace, all of this run." in text_of(html)
    assert "<table>" not in html


def test_minutes_stand_where_laps_are_short(card: Make, state: State) -> None:
    spans = (Span("minutes", 0, 2), Span("minutes", 2, 5), Span("minutes", 5, 10))
    assert "0 to 2 min" in text_of(card_page(card(spans=spans), state()).html)


def test_in_place_of_a_card_stand_why_and_what_to_do_without_a_day_word(
    no_card: NoCard, state: State
) -> None:
    html = card_page(no_card, state()).html
    assert 'data-state="none"' in html
    assert "The road is wet or damp." in text_of(html)
    assert "In doubt, everybody stays in." in text_of(html)
    assert "HERON" not in html
    assert 'data-state="none"' in card_page(no_card, state(state="ended")).html


def test_void_says_why_since_when_and_the_new_word(card: Make, state: State) -> None:
    how = state(state="void", why="rain", new_word="otter", void_at=time(9, 52), void_by="R. Fell")
    said = text_of(card_page(card(), how).html)
    assert "Rain or a damp track. Your card does not count any more." in said
    assert "Void since 09:52, head instructor R. Fell." in said
    assert "OTTER" in said
    alone = card_page(card(), state(state="void", why="never heard of", void_at=time(9, 52)))
    assert "Your coach knows why. Your card does not count any more." in text_of(alone.html)
    assert "Void since 09:52." in text_of(alone.html)
    assert "wordless" in alone.html


@pytest.mark.parametrize("language", [*languages(), "xx"])
def test_every_language_has_its_page(card: Make, no_card: NoCard, state: State, language: str) -> None:
    spoken = language if language in languages() else "en"
    for made in (card(language=language), replace(no_card, language=language)):
        html = card_page(made, state()).html
        assert f'<html lang="{spoken}"' in html
        assert label("phone.new_word", spoken) in unescape(html)
        assert ("* " in text_of(html)) == (spoken != "en")


def test_large_print_is_larger(card: Make, state: State) -> None:
    assert 'class="large under' in card_page(card(large_print=True), state()).html
    assert "under" not in card_page(card(), state()).html.partition("<head>")[0]


def test_a_link_that_does_not_count_says_so_in_every_language() -> None:
    page = gone_page()
    for language in languages():
        assert label("phone.gone", language) in unescape(page.html)
    assert "<script" not in page.html
