"""Riders' cards as PDF: A6 for the pocket, A5 in large print, and what is handed out in place of one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from leanladder import drawing
from leanladder.domain.circuit import Side
from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import Heading, NoCard, RiderCard
from leanladder.sheets.rows import fan_name, other_words, row_parts, row_pictures, run_words, span_words
from leanladder.sheets.said import all_said, clock, dated, label, spoken, translation_mark
from leanladder.sheets.typesetter import typeset

# More turns than this leave no room for their numbers on A6.
MOST_ROWS = 14
MOST_SPANS = 3
MOST_REMEMBERED = 3
_KEY: tuple[tuple[Side, int], ...] = (("left", 0), ("right", 4))


def cards_pdf(cards: Sequence[RiderCard | NoCard]) -> bytes:
    """Return riders' cards, one a page in their order; large print takes more pages where it must.

    Raises LeanladderError where there is no card, or one holds more than fits: nothing is left out
    without a word.
    """
    return typeset("card.typ", cards_data(cards), cards_pictures(cards))


def cards_data(cards: Sequence[RiderCard | NoCard]) -> Mapping[str, object]:
    """Return what the template of cards takes, every text worded."""
    if not cards:
        raise LeanladderError("there is no card to print")
    first = cards[0].language
    return {
        "title": label("card.title", first),
        "language": spoken(first),
        "cards": [_card(card) if isinstance(card, RiderCard) else _no_card(card) for card in cards],
    }


def cards_pictures(cards: Sequence[RiderCard | NoCard]) -> Mapping[str, str]:
    """Return the drawings of cards by file name."""
    rows = [row for card in cards if isinstance(card, RiderCard) for row in card.rows]
    key = {fan_name(side, quarters): drawing.fan(side, quarters) for side, quarters in _KEY}
    return {**key, **row_pictures(rows)}


def _card(card: RiderCard) -> dict[str, object]:
    _check(card)
    tongue = spoken(card.language)
    return _head(card, card.heading.day_word) | {
        "kind": "card",
        "valid": label("card.valid", tongue, until=clock(card.heading.valid_until)),
        "start": label("card.start", tongue, at=clock(card.heading.valid_from), machine=card.machine),
        "turn": label("card.turn", tongue),
        "spans": [span_words(span, tongue) for span in card.spans],
        "rows": row_parts(card.rows, tongue),
        "key": {
            "pictures": [fan_name(side, quarters) for side, quarters in _KEY],
            "text": [label(f"card.{code}", tongue) for code in ("black", "empty", "full")],
        },
        "others": other_words(card),
        "pace": label("card.pace", tongue) if card.coach_pace or not card.rows else None,
        "respect": None
        if card.respect is None
        else label("card.respect", tongue, number=card.respect[0], side=card.respect[1]),
        "why": all_said(card.respect_why, tongue),
        "remember": all_said(card.remember, tongue),
        "bar": [label("card.dry_only", tongue), label("card.not_riding", tongue)],
        "wet": label("card.wet", tongue),
        "pages": _page_words(card),
    }


def _no_card(card: NoCard) -> dict[str, object]:
    # No day word stands here: nobody must take this page for a card.
    return _head(card, None) | {
        "kind": "none",
        "none": label("card.none", card.language),
        "why": all_said(card.why, card.language),
        "steps": all_said(card.steps, card.language),
    }


def _head(card: RiderCard | NoCard, word: str | None) -> dict[str, object]:
    heading, tongue = card.heading, spoken(card.language)
    return {
        "large": card.large_print,
        "name": card.rider,
        "run": run_words(heading, tongue),
        "date": dated(heading.date, tongue),
        "set": _set_words(heading, tongue),
        "word": word,
        "board": label("card.board", tongue),
        "foot": _foot(heading, tongue),
    }


def _foot(heading: Heading, language: str) -> list[str]:
    lines = [label("card.place", language, circuit=heading.circuit), label("page.guide_only", language)]
    mark = translation_mark(language)
    return lines if mark is None else [*lines, mark]


def _set_words(heading: Heading, language: str) -> str | None:
    return None if heading.set_name is None else label(f"page.set_{heading.set_name}", language)


def _page_words(card: RiderCard) -> dict[str, list[str]]:
    """Return 'page 1 of 2' and the like by the count of pages, for those that large print may need."""
    if not card.large_print:
        return {}
    most = MOST_ROWS + 1
    return {
        str(count): [
            label("card.page", card.language, number=index + 1, count=count) for index in range(count)
        ]
        for count in range(1, most + 1)
    }


def _check(card: RiderCard) -> None:
    counts = (
        ("turns", len(card.rows), MOST_ROWS),
        ("columns", len(card.spans), MOST_SPANS),
        ("things to remember", len(card.remember), MOST_REMEMBERED),
    )
    for what, count, most in counts:
        if count > most:
            raise LeanladderError(f"a card holds {most} {what}, not {count}: that of {card.rider}")
