"""What was ridden for a page, kept in this process for as long as its plan stands."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from django.core.cache import cache

Made = TypeVar("Made")
KEEP_S = 4 * 3600  # a morning


def kept(key: str, what: str, make: Callable[[], Made]) -> Made:
    """Return what was made for a key before, else make it; key names the plan and the run."""
    name = f"room:{key}:{what}"
    found: Made | None = cache.get(name)
    if found is None:
        found = make()
        cache.set(name, found, KEEP_S)
    return found
