"""Slows down whoever tries out links: after some that lead nowhere, no link is looked up for a while."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from time import monotonic

# A phone with an old link asks a few times at most; nobody guesses one of so many in a year at this pace.
MOST_MISSES = 20
WINDOW_S = 60.0
MOST_ADDRESSES = 2000


class Guesses:
    """Counts links that led nowhere, by the address that asked; safe between threads."""

    def __init__(self, clock: Callable[[], float] = monotonic) -> None:
        self._clock = clock
        self._lock = Lock()
        self._misses: OrderedDict[str, tuple[float, int]] = OrderedDict()

    def blocked(self, address: str) -> bool:
        """Return whether an address has missed too often of late."""
        with self._lock:
            since, count = self._misses.get(address, (0.0, 0))
            return count >= MOST_MISSES and self._clock() - since < WINDOW_S

    def missed(self, address: str) -> None:
        """Count a link that led nowhere."""
        with self._lock:
            now = self._clock()
            since, count = self._misses.pop(address, (now, 0))
            self._misses[address] = (now, 1) if now - since >= WINDOW_S else (since, count + 1)
            while len(self._misses) > MOST_ADDRESSES:
                self._misses.popitem(last=False)
