"""Whole numbers that came with a request: a key, a count, as addresses and forms write them."""

from __future__ import annotations

# A key has no more figures, and a number of more is none that a database knows.
MOST_FIGURES = 18


def whole_number(text: str | None) -> int | None:
    """Return a whole number from nought up, None for any other text, and for one that no key reaches."""
    known = text is not None and text.isascii() and text.isdecimal() and len(text) <= MOST_FIGURES
    return int(text) if known and text is not None else None


def is_a_key(value: object) -> bool:
    """Return whether something may be a key of a record, or is no number at all."""
    return not isinstance(value, int) or value < 10**MOST_FIGURES
