"""Slows down guessing: a few wrong passwords from one place or for one name, then a wait."""

from __future__ import annotations

import hashlib

from django.core.cache import cache

MOST_WRONG = 5
WAIT_S = 60
FORGET_S = 15 * 60


def blocked(*keys: str) -> bool:
    """Return whether any of these keys was guessed wrong too often lately."""
    return any(cache.get(_name(key), 0) >= MOST_WRONG for key in keys)


def wrong(*keys: str) -> None:
    """Count a wrong guess for each key; after MOST_WRONG each further try waits for WAIT_S."""
    for key in keys:
        name = _name(key)
        cache.add(name, 0, FORGET_S)
        count = cache.incr(name)
        if count >= MOST_WRONG:
            cache.touch(name, WAIT_S)


def right(*keys: str) -> None:
    """Forget wrong guesses."""
    cache.delete_many([_name(key) for key in keys])


def _name(key: str) -> str:
    # keys hold what was typed: only a digest of it is kept
    return "throttle:" + hashlib.sha256(key.encode()).hexdigest()
