"""The words that a day's board, sheets and cards share."""

from __future__ import annotations

from leanladder.catalogue.shipped import content


def day_words() -> tuple[str, ...]:
    """Return the words a day word is chosen from: short common nouns, in order."""
    return tuple(content("day-words")["words"])
