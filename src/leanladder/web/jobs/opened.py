"""One combination of a planned day, held ready for tries."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from leanladder.domain.day import DayLadder
from leanladder.domain.errors import InputError, LeanladderError
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Session
from leanladder.planning.ladder import follow
from leanladder.planning.tries import Begin, Glance, Roads, Wishes, begin_after, glance, wished

# A glance looks no further: what a table shows without scrolling.
MOST_LAPS = 8
# Bike lean [deg] by which glances differ though nothing did.
SAME_DEG = 0.1


class Moved(NamedTuple):
    """Which way a corner's limit goes on a lap, -1, 0 or 1, and its shoulders' warmth, front, rear [K]."""

    lap: int
    number: int
    way: int
    warmer_k: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Opened:
    """A session with what its tyres begin from, a glance at it as it is, and roads for wishes."""

    session: Session
    begin: Begin | None
    own: Glance
    roads: Roads

    def draft(self, wishes: Wishes, going_on: Callable[[], None]) -> list[Moved]:
        """Return which way each limit goes under wishes."""
        tried = wished(self.session, wishes, self.roads.of(wishes))
        seen = glance(tried, len(self.own.caps), begin=self._begin(wishes), guess=self.own, going_on=going_on)
        return [
            Moved(int(lap) + 1, corner.number, *_moved(self.own, seen, (int(lap), index)))
            for lap in range(len(self.own.caps))
            for index, corner in enumerate(self.session.circuit.corners)
            if np.isfinite(seen.caps_deg[lap, index])
        ]

    def final(self, wishes: Wishes, going_on: Callable[[], None]) -> Ladder:
        """Return the ladder under wishes, counted in full."""

        def heard(_done: int, _of: int) -> None:
            going_on()

        going_on()
        return follow(wished(self.session, wishes), begin=self._begin(wishes), progress=heard).ladder

    def _begin(self, wishes: Wishes) -> Begin | None:
        """How tyres begin: other tyres, or another start, take nothing over from the run before."""
        return self.begin if wishes.start is None else None


def opened(entry: DayLadder, entries: Sequence[DayLadder]) -> Opened:
    """Return a combination held ready; raises InputError for one without a ladder."""
    if entry.ladder is None:
        raise InputError("this combination has no ladder.")
    session, begin = entry.ladder.session, begin_after(entry, entries)
    laps = min(len(entry.ladder.laps), MOST_LAPS)
    roads = Roads(session)
    # The day of sun behind the shade is followed here, so that the first try does not wait for it.
    with contextlib.suppress(LeanladderError):
        roads.of(Wishes(track_c=session.road.open_c))
    return Opened(session, begin, glance(session, laps, begin=begin), roads)


def _moved(own: Glance, seen: Glance, at: tuple[int, int]) -> tuple[int, tuple[float, float]]:
    apart_deg = float(seen.caps_deg[at] - own.caps_deg[at])
    way = 0 if abs(apart_deg) < SAME_DEG else int(np.sign(apart_deg))
    front_k, rear_k = (seen.shoulders_c[at] - own.shoulders_c[at]).tolist()
    return way, (front_k, rear_k)
