"""What a card on a phone says, worded: the same sentences as on paper, and what only a phone says."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from typing import Final

from django.utils.safestring import SafeString, mark_safe

from leanladder import wording
from leanladder.domain.paper import NoCard, RiderCard
from leanladder.sheets.rows import run_words
from leanladder.sheets.said import clock, dated, label, spoken, translation_mark
from leanladder.web.card.state import CardState

# How often a phone asks, and how long it waits for an answer; unanswered how long it is not confirmed [s].
ASKS_EVERY_S: Final = 10
ANSWER_WITHIN_S: Final = 5
DOUBT_AFTER_S: Final = 60
# No card counts for longer than this, whatever the laptop says [s].
MOST_S: Final = 20 * 60

_SLOT = "\N{OBJECT REPLACEMENT CHARACTER}"


def void_words(card: RiderCard | NoCard, state: CardState) -> dict[str, str]:
    """Return why a card is void, since when and by whom: empty where nothing of it is known."""
    tongue = spoken(card.language)
    if state.state != "void":
        return {"why": "", "since": ""}
    code = f"phone.why_{state.why}"
    code = code if code in wording.codes(tongue) else "phone.why_other"
    since = ""
    if state.void_at is not None:
        at = clock(state.void_at)
        named = state.void_by or ""
        since = (
            label("phone.void_since_head", tongue, at=at, head=named)
            if named
            else label("phone.void_since", tongue, at=at)
        )
    return {"why": label(code, tongue), "since": since}


def every_page(card: RiderCard | NoCard, state: CardState) -> dict[str, object]:
    """Return what stands in the frame of every page of a link, whatever its state."""
    tongue = spoken(card.language)
    plain = (
        "void", "void_now", "step_lane", "step_track", "step_wait", "changed", "changed_now", "gone",
        "new_word", "on_board", "old_word", "open", "read", "read_waiting", "read_sent", "who_read",
    )  # fmt: skip
    return {
        **{code: label(f"phone.{code}", tongue) for code in plain},
        **void_words(card, state),
        "new": shown_word(state.new_word or ""),
        "own": shown_word(card.heading.day_word) if isinstance(card, RiderCard) else "",
        "title": label("phone.title", tongue, rider=card.rider),
        "place": label("card.place", tongue, circuit=card.heading.circuit),
        "guide_only": label("page.guide_only", tongue),
        "unreviewed": translation_mark(tongue),
    }


def whose(card: RiderCard | NoCard) -> dict[str, object]:
    """Return whose card it is, and for which run."""
    tongue = spoken(card.language)
    return {
        "rider": card.rider,
        "run": run_words(card.heading, tongue),
        "date": dated(card.heading.date, tongue),
    }


def card_words(card: RiderCard, state: CardState) -> Mapping[str, object]:
    """Return what stands on a card with numbers while it counts, is not confirmed, or has ended."""
    tongue, heading = spoken(card.language), card.heading
    until, at = clock(heading.valid_until), clock(state.at.time())
    left_min = max(int(min(state.left_s, MOST_S) // 60), 0)
    of_card = ("board", "turn", "dry_only", "not_riding", "wet")
    of_phone = (
        "read_before",
        "left_under",
        "doubt_ask",
        "doubt_other",
        "ended",
        "ended_ask",
        "again",
        "early",
    )
    return {
        **{code: label(f"card.{code}", tongue) for code in of_card},
        **{code: label(f"phone.{code}", tongue) for code in of_phone},
        "valid": label("card.valid", tongue, until=until),
        "start": label("card.start", tongue, at=clock(heading.valid_from), machine=card.machine),
        "left": _slotted("phone.left", tongue, "left", left_min),
        "confirmed": _slotted("phone.confirmed", tongue, "at", at),
        "doubt_since": _slotted("phone.doubt_since", tongue, "at", at, "since"),
        "asks": label("phone.asks", tongue, every_s=ASKS_EVERY_S),
        "doubt_word": label("phone.doubt_word", tongue, word=shown_word(heading.day_word)),
        "doubt_same": label("phone.doubt_same", tongue, until=until),
        "given": label("phone.given", tongue, at=clock(state.given_at)),
        "ended_at": label("phone.ended_at", tongue, until=until),
        "pace": label("card.pace", tongue) if card.coach_pace or not card.rows else None,
        "respect": _respect(card, tongue),
    }


def shown_word(word: str) -> str:
    """Return a day word as boards, cards and pages show it."""
    return word.upper()


def every_language(code: str) -> list[dict[str, str]]:
    """Return a text in every language, English first: of a link without a card nobody knows whose it is."""
    order = sorted(wording.languages(), key=lambda language: language != "en")
    return [{"language": language, "text": label(code, language)} for language in order]


def _respect(card: RiderCard, language: str) -> str | None:
    if card.respect is None:
        return None
    return label("card.respect", language, number=card.respect[0], side=card.respect[1])


def _slotted(code: str, language: str, figure: str, value: object, name: str | None = None) -> SafeString:
    """Return a text with its one figure in an element of its own, which the page's script fills anew."""
    before, _, after = label(code, language, **{figure: _SLOT}).partition(_SLOT)
    slot = f'<span id="{name or figure}">{escape(str(value))}</span>'
    return mark_safe(f"{escape(before)}{slot}{escape(after)}")  # noqa: S308  # every part is escaped above
