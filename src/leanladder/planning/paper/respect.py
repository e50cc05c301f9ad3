"""The turn to respect: where the margin is least, and why in words a rider reads."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import takewhile

import numpy as np

from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.domain.ladder import Ladder
from leanladder.domain.sentence import Sentence
from leanladder.planning.paper.figures import count_of
from leanladder.planning.paper.spans import Column

MOST_WHY = 2
COLD = ("caution_card", "front_grip", "rear_grip")


def respected(columns: Sequence[Column]) -> int | None:
    """Return the number of the turn that has the least margin in most columns, None without a turn.

    Of turns that have it equally often, the one with the least cap.
    """
    found = [rung for column in columns if (rung := column.least()) is not None]
    if not found:
        return None
    often = Counter(rung.number for rung in found)
    return min(found, key=lambda rung: (-often[rung.number], rung.cap_bike_deg, rung.number)).number


def corner_of(circuit: Circuit, number: int) -> Corner:
    """Return the corner of a number."""
    return next(corner for corner in circuit.corners if corner.number == number)


def respect_why(
    circuit: Circuit, ladder: Ladder, columns: Sequence[Column], number: int
) -> tuple[Sentence, ...]:
    """Return why a turn has the least margin: at most two sentences, without a figure of lean or heat."""
    return tuple(_reasons(circuit, ladder, columns, corner_of(circuit, number)))[:MOST_WHY]


def shared_why(
    circuit: Circuit, asked: Sequence[tuple[Ladder, Sequence[Column]]], number: int
) -> tuple[Sentence, ...]:
    """Return why a turn has the least margin for all of a group: only what is so for each of its ladders."""
    corner = corner_of(circuit, number)
    each = [tuple(_reasons(circuit, ladder, columns, corner)) for ladder, columns in asked]
    shared = [reason for reason in each[0] if all(reason in reasons for reasons in each)]
    return tuple(shared or [Sentence("respect.least")])[:MOST_WHY]


def _reasons(
    circuit: Circuit, ladder: Ladder, columns: Sequence[Column], corner: Corner
) -> Iterator[Sentence]:
    """What holds the turn back, the plainest first; of cold nothing is said where cold does not."""
    side = corner.side
    rungs = [rung for column in columns if (rung := column.rung(corner.number)) is not None]
    limits = {rung.limited_by for rung in rungs}
    cold, new = bool(limits & set(COLD)), "scrubbing" in limits
    if new:
        yield Sentence("respect.new_both" if _all_new(columns) else f"respect.new_{side}")
    if cold or new:
        yield from _of_cold(circuit, ladder, corner, is_cold=cold)
    else:
        yield Sentence("respect.least")


def _of_cold(circuit: Circuit, ladder: Ladder, corner: Corner, *, is_cold: bool) -> Iterator[Sentence]:
    side = corner.side
    seldom = is_cold and _is_seldom(circuit, ladder, side)
    if seldom:
        yield Sentence(f"respect.seldom_{side}")
    first = turns_first(circuit, corner)
    if first >= count_of("turns_first"):
        yield Sentence(f"respect.{'rights' if side == 'left' else 'lefts'}_first")
    if is_shaded(circuit, corner):
        yield Sentence("respect.shaded")
    if ladder.laps and ladder.laps[0].rungs and ladder.laps[0].rungs[0].number == corner.number:
        yield Sentence("respect.first_turn")
    if is_cold and not seldom:
        yield Sentence(f"respect.cold_{side}")


def _all_new(columns: Sequence[Column]) -> bool:
    """Whether scrubbing sets a cap on both sides."""
    rungs = (column.rung(number) for column in columns for number in column.numbers())
    return len({rung.side for rung in rungs if rung is not None and rung.limited_by == "scrubbing"}) > 1


def turns_first(circuit: Circuit, corner: Corner) -> int:
    """Return how many turns to the other side come in a row before a corner, over the start line too."""
    corners = circuit.corners
    at = corners.index(corner)
    before = (corners[at - back] for back in range(1, len(corners)))
    return sum(1 for _ in takewhile(lambda other: other.side != corner.side, before))


def is_shaded(circuit: Circuit, corner: Corner) -> bool:
    """Return whether part of a corner lies in shade."""
    s_m = circuit.s_m
    start_m, end_m = corner.start_m, corner.end_m
    within = (s_m >= start_m) & (s_m <= end_m) if start_m <= end_m else (s_m >= start_m) | (s_m <= end_m)
    return bool(np.any(circuit.shaded & within))


def _is_seldom(circuit: Circuit, ladder: Ladder, side: Side) -> bool:
    """Whether the ladder warns of a seldom used side and this is it: the one with fewer turns."""
    warned = any(warning.code == "seldom_used_side" for warning in ladder.warnings)
    own = sum(corner.side == side for corner in circuit.corners)
    return warned and 2 * own < len(circuit.corners)
