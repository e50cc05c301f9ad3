"""What is not known and by how much, from data/odds.toml."""

from __future__ import annotations

from functools import cache

from leanladder.catalogue.shipped import content
from leanladder.domain.spread import Spread

FILE = "odds"


@cache
def spreads() -> tuple[Spread, ...]:
    """Return every uncertain input in the file's order, which is the order of the draws."""
    return tuple(Spread(code=code, **table) for code, table in content(FILE).items())
