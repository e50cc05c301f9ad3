"""The nearest of some names to one that was mistyped."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(name: str, names: Iterable[str]) -> str | None:
    """Return the one of names most like name, None where none is alike; case does not count."""
    by_fold = {known.casefold(): known for known in names}
    close = get_close_matches(name.casefold(), list(by_fold), n=1, cutoff=0.5)
    return by_fold[close[0]] if close else None
