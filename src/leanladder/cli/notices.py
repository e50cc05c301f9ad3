"""Codes as notices, with their texts in the user's language."""

from __future__ import annotations

from collections.abc import Iterable

from leanladder.domain.ladder import Notice
from leanladder.wording import text


def notices(codes: Iterable[str], language: str, **figures: object) -> tuple[Notice, ...]:
    """Return a notice for each code, each code once, in order."""
    return tuple(Notice(code, text(code, language, **figures)) for code in dict.fromkeys(codes))
