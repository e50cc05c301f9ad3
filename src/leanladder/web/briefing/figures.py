"""What the briefing room is shown of a run's ladders: grip, the seldom-used side, the hot end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leanladder import catalogue
from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder, Lap, Rubber, Rung
from leanladder.domain.session import FittedTyre
from leanladder.domain.why import End
from leanladder.engine.grip import grip_at, table_axis
from leanladder.planning.gripping import surface_grip
from leanladder.planning.paper.cells import shoulder_c
from leanladder.planning.tables import shipped_tables

# The laps that a group is shown: the first, the last of a card's columns, and one that is nearly settled.
SHOWN_LAPS = (1, 3, 6)
SIDES: tuple[Side, Side] = ("left", "right")
ENDS: tuple[End, End] = ("front", "rear")
# How far the curve goes beyond what it tells of [K].
BESIDE_K = 15.0

Warmth = Literal["cold", "in_range", "hot"]
Third = Literal["left", "centre", "right"]


@dataclass(frozen=True, slots=True)
class At:
    """A part of a tyre on arrival on a lap: rubber_c [degC], share [0..1] of the tyre's best grip there."""

    lap: int
    third: Third
    rubber_c: float
    share: float
    warmth: Warmth


@dataclass(frozen=True, slots=True)
class Grip:
    """A tyre's grip against its rubber, and where the group's are.

    along (n, 2): rubber [degC] and share [0..1] of the best grip; at, from the first lap on; the range from
    low_c to high_c [degC]; in_range_lap: the first lap on which every shoulder leaned on is within it or
    above, None for none; falls: whether these tyres start warm and cool as they are ridden.
    """

    family: str
    end: End
    along: tuple[tuple[float, float], ...]
    at: tuple[At, ...]
    low_c: float
    high_c: float
    in_range_lap: int | None
    falls: bool


@dataclass(frozen=True, slots=True)
class Sides:
    """How much each side is used: turns by side, few the side with fewer, None where alike.

    first: its turn after the longest gap, None without one; laps: each side's rubber [degC] lap by lap, of
    the combination whose seldom-used side is coldest; low_c: where its tyres' range begins [degC]; colder:
    whether that side ends the run colder.
    """

    turns: tuple[int, int]
    few: Side | None
    first: Corner | None
    laps: tuple[tuple[float, ...], tuple[float, ...]]
    warmth: tuple[tuple[Warmth, ...], tuple[Warmth, ...]]
    low_c: float
    colder: bool


@dataclass(frozen=True, slots=True)
class Hot:
    """The hot end of the tyre that comes nearest to it, or goes furthest past it.

    at: its warmest third; from_lap: the first lap past its range, None for none; hot_track: whether the road
    alone is warned of. The rest is as in Grip.
    """

    grip: Grip
    from_lap: int | None
    hot_track: bool


def out(entries: Sequence[DayLadder]) -> tuple[tuple[DayLadder, Ladder], ...]:
    """Return a run's entries that have a ladder with turns, each with it."""
    found = ((entry, entry.ladder) for entry in entries if entry.ladder is not None)
    return tuple((entry, ladder) for entry, ladder in found if any(lap.rungs for lap in ladder.laps))


def families(entries: Sequence[DayLadder]) -> tuple[str, ...]:
    """Return the tyre families of a run by name, in the order of its entries."""
    fitted = (getattr(ladder.session, end).family for _, ladder in out(entries) for end in ENDS)
    return tuple(dict.fromkeys(fitted))


def grip(entries: Sequence[DayLadder], family: str) -> Grip:
    """Return the grip of a family, of the combination and end whose shoulders are furthest below their range.

    Raises LookupError where nobody of the run has these tyres.
    """
    found = [(ladder, end) for ladder, end in _fitted(entries) if _tyre(ladder, end).family == family]
    if not found:
        raise LookupError(f"no tyre of {family}")
    ladder, end = min(found, key=lambda each: _below_k(*each))
    return _grip(
        ladder, end, tuple(_shoulders(ladder, end)), (0.0, _tyre(ladder, end).tyre.working_high_c.value)
    )


def _fitted(entries: Sequence[DayLadder]) -> Iterator[tuple[Ladder, End]]:
    return ((ladder, end) for _, ladder in out(entries) for end in ENDS)


def _tyre(ladder: Ladder, end: End) -> FittedTyre:
    return ladder.session.front if end == "front" else ladder.session.rear


def _below_k(ladder: Ladder, end: End) -> float:
    """How far the coldest shoulder leaned on stands above its range [K], negative below it."""
    coldest = min(_leaned_c(rung, end) for lap in ladder.laps for rung in lap.rungs)
    return coldest - _tyre(ladder, end).tyre.working_low_c.value


def _rubber(rung: Rung, end: End) -> Rubber:
    return rung.front if end == "front" else rung.rear


def _leaned_c(rung: Rung, end: End) -> float:
    return float(getattr(_rubber(rung, end), f"{rung.side}_c"))


def _shoulders(ladder: Ladder, end: End) -> Iterator[tuple[int, Third, float]]:
    """The coldest arrival of each lap shown, and the side that is leaned on there."""
    for lap in shown_laps(ladder):
        if lap.rungs:
            coldest = min(lap.rungs, key=lambda rung: _leaned_c(rung, end))
            yield lap.lap, coldest.side, _leaned_c(coldest, end)


def shown_laps(ladder: Ladder) -> tuple[Lap, ...]:
    """Return the laps that are shown, and the last in place of those that a short run does not have."""
    last = ladder.laps[-1].lap
    wanted = {min(lap, last) for lap in SHOWN_LAPS}
    return tuple(lap for lap in ladder.laps if lap.lap in wanted)


def _grip(
    ladder: Ladder, end: End, at: Sequence[tuple[int, Third, float]], reach_c: tuple[float, float]
) -> Grip:
    tyre = _tyre(ladder, end).tyre
    low_c, high_c = tyre.working_low_c.value, tyre.working_high_c.value
    table = surface_grip(tyre.compound, ladder.session.surface, shipped_tables())
    best = float(table.max())
    axis = table_axis()
    seen = (axis >= min([reach_c[0], *(each[2] for each in at)])) & (axis <= reach_c[1])
    points = zip(axis[seen].tolist(), (table[seen] / best).tolist(), strict=True)
    return Grip(
        family=_tyre(ladder, end).family,
        end=end,
        along=tuple((rubber_c, share) for rubber_c, share in points),
        at=tuple(
            At(lap, third, rubber_c, grip_at(table, rubber_c) / best, warmth(rubber_c, low_c, high_c))
            for lap, third, rubber_c in at
        ),
        low_c=low_c,
        high_c=high_c,
        in_range_lap=_in_range_lap(ladder, end, low_c),
        falls=warned(ladder, "limits_fall"),
    )


def warmth(rubber_c: float, low_c: float, high_c: float) -> Warmth:
    """Return where rubber [degC] stands against a tyre's range [degC], in a word."""
    return "cold" if rubber_c < low_c else "in_range" if rubber_c <= high_c else "hot"


def warned(ladder: Ladder, code: str) -> bool:
    """Return whether a ladder warns of something by its code."""
    return any(warning.code == code for warning in ladder.warnings)


def _in_range_lap(ladder: Ladder, end: End, low_c: float) -> int | None:
    """The lap from which on every shoulder that is leaned on arrives in its range."""
    cold = [lap.lap for lap in ladder.laps if any(_leaned_c(rung, end) < low_c for rung in lap.rungs)]
    first = max(cold, default=0) + 1
    return first if first <= ladder.laps[-1].lap else None


def sides(entries: Sequence[DayLadder], circuit: Circuit) -> Sides:
    """Return how a run uses both sides; entries must hold one with a ladder."""
    turns = [sum(corner.side == side for corner in circuit.corners) for side in SIDES]
    few: Side | None = None if turns[0] == turns[1] else SIDES[int(turns[1] < turns[0])]
    asked = few or "left"
    ladder = min((ladder for _, ladder in out(entries)), key=lambda each: side_c(each.laps[-1], asked))
    of_few = [corner for corner in circuit.corners if corner.side == few]
    other: Side = "right" if asked == "left" else "left"
    laps = tuple(tuple(side_c(lap, side) for lap in ladder.laps) for side in SIDES)
    low_c, high_c = _range_of_both(ladder)
    return Sides(
        turns=(turns[0], turns[1]),
        few=few,
        first=max(of_few, key=lambda corner: corner.same_side_gap_m, default=None),
        laps=(laps[0], laps[1]),
        warmth=(_side_warmth(laps[0], low_c, high_c), _side_warmth(laps[1], low_c, high_c)),
        low_c=low_c,
        colder=few is not None and side_c(ladder.laps[-1], asked) < side_c(ladder.laps[-1], other),
    )


def _range_of_both(ladder: Ladder) -> tuple[float, float]:
    """The range that both tyres share: the higher of its beginnings, the lower of its ends."""
    tyres = [_tyre(ladder, end).tyre for end in ENDS]
    return max(tyre.working_low_c.value for tyre in tyres), min(tyre.working_high_c.value for tyre in tyres)


def _side_warmth(rubber_c: Sequence[float], low_c: float, high_c: float) -> tuple[Warmth, ...]:
    return tuple(warmth(each_c, low_c, high_c) for each_c in rubber_c)


def side_c(lap: Lap, side: Side) -> float:
    """Return the colder tyre's rubber on a side [degC]: on arrival, mean over its turns, else at lap end."""
    arrived = [shoulder_c(rung) for rung in lap.rungs if rung.side == side]
    if arrived:
        return float(np.mean(arrived))
    return min(float(getattr(end.rubber, f"{side}_c")) for end in (lap.front_end, lap.rear_end))


def hot(entries: Sequence[DayLadder]) -> Hot:
    """Return the hot end of the tyre of a run that comes nearest to it; one entry must have a ladder."""
    ladder, end = max(_fitted(entries), key=lambda each: _past_k(*each))
    tyre = _tyre(ladder, end).tyre
    over_c = tyre.working_high_c.value + catalogue.parameters("planning.warn")["hot_over_k"].value
    past = [lap.lap for lap in ladder.laps if any(_warmest(rung, end)[1] > over_c for rung in lap.rungs)]
    at = tuple(_warmest_of(lap, end) for lap in shown_laps(ladder) if lap.rungs)
    warmest_c = max(rubber_c for *_, rubber_c in at)
    reach_c = max(warmest_c, tyre.working_high_c.value, tyre.compound.fade_from_c.value) + 2 * BESIDE_K
    return Hot(
        grip=_grip(ladder, end, at, (tyre.working_low_c.value - BESIDE_K, reach_c)),
        from_lap=min(past, default=None),
        hot_track=any(warned(each, "hot_track") for _, each in out(entries)),
    )


def _past_k(ladder: Ladder, end: End) -> float:
    warmest_c = max(_warmest(rung, end)[1] for lap in ladder.laps for rung in lap.rungs)
    return warmest_c - _tyre(ladder, end).tyre.working_high_c.value


def _warmest(rung: Rung, end: End) -> tuple[Third, float]:
    rubber = _rubber(rung, end)
    thirds: tuple[tuple[Third, float], ...] = (
        ("left", rubber.left_c),
        ("centre", rubber.centre_c),
        ("right", rubber.right_c),
    )
    return max(thirds, key=lambda third: third[1])


def _warmest_of(lap: Lap, end: End) -> tuple[int, Third, float]:
    third, rubber_c = max((_warmest(rung, end) for rung in lap.rungs), key=lambda each: each[1])
    return lap.lap, third, rubber_c
