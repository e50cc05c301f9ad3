"""How tyres begin that a run before left warm: from the ladders of a day as they were planned."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from leanladder.domain.day import DayLadder
from leanladder.planning import starts
from leanladder.planning.ladder import follow
from leanladder.planning.riding import Wheels
from leanladder.planning.setting import Setting

Begin = Callable[[Setting], Wheels]


def begin_after(entry: DayLadder, entries: Sequence[DayLadder]) -> Begin | None:
    """Return what makes an entry's tyres as they begin, None where its session's own start says it.

    entries: those of the day. The runs that its first machine went out in before are ridden again, one
    after the other: that takes as long as planning them.
    """
    if entry.after is None or entry.ladder is None:
        return None
    before = _before(entry, entries)
    if before is None or before.ladder is None:
        return None
    left = follow(before.ladder.session, begin=begin_after(before, entries)).left
    return stood_since(left, entry.ladder.session.start.off_min)


def stood_since(left: Wheels, gap_min: float) -> Begin:
    """Return how tyres begin that a run left so, and that stood in the shade since for gap_min [min]."""

    def begin(place: Setting) -> Wheels:
        both = zip(left, (place.front, place.rear), strict=True)
        return Wheels(*(starts.stood(state, tyre, place, gap_min, in_sun=False) for state, tyre in both))

    return begin


def _before(entry: DayLadder, entries: Sequence[DayLadder]) -> DayLadder | None:
    """The entry of the run that the tyres come from: that of the same machine."""
    machine = entry.machines[0]
    runs = (each for each in entries if each.session.name == entry.after)
    return next((each for each in runs if machine in each.machines), None)
