"""The rows of a rider's card: which turns it shows, and which stay at the coach's pace."""

from __future__ import annotations

from collections.abc import Sequence

from leanladder.domain.circuit import Corner, Side
from leanladder.domain.paper import CardRow, Fan
from leanladder.planning.paper.figures import count_of
from leanladder.planning.paper.quarters import fan
from leanladder.planning.paper.spans import Column


def card_rows(
    corners: Sequence[Corner],
    columns: Sequence[Column],
    usual_lean_deg: float,
    most: Sequence[int],
    respected: int | None,
) -> tuple[CardRow, ...]:
    """Return a row a turn, in riding order: the fans of each column, at most as many quarters as most says.

    respected is the number of the turn with least margin, None where there is none.
    """
    return tuple(
        CardRow(
            corner.number,
            corner.side,
            corner.number == respected,
            tuple(
                _fan(column, corner.number, usual_lean_deg, at_most)
                for column, at_most in zip(columns, most, strict=True)
            ),
        )
        for corner in corners
    )


def shown(rows: Sequence[CardRow], room: int | None = None) -> tuple[tuple[CardRow, ...], tuple[int, ...]]:
    """Return the rows that a card has room for, in riding order, and the numbers of the turns left out.

    Kept are the turn to respect and those with the fewest quarters, so that no turn left out has fewer than
    one shown; where they all go to one side, the first of the other side goes with them.
    """
    room = count_of("card_rows") if room is None else room
    if len(rows) <= room:
        return tuple(rows), ()
    ordered = sorted(rows, key=_urgency)
    kept = ordered[:room]
    for side in sides(rows):
        if not any(row.side == side for row in kept):
            kept.append(next(row for row in ordered if row.side == side))
    numbers = {row.number for row in kept}
    return (
        tuple(row for row in rows if row.number in numbers),
        tuple(row.number for row in rows if row.number not in numbers),
    )


def no_more_than(rows: Sequence[CardRow], left_out: Sequence[int], kept: Sequence[CardRow]) -> int | None:
    """Return the number of a kept turn that shows no turn left out more than it has; None where none is such.

    Of several the one with most quarters, then the last: it says most.
    """
    others = [row for row in rows if row.number in left_out]
    found = [row for row in kept if others and all(_is_within(row, other) for other in others)]
    return max(found, key=lambda row: (_sum(row), row.number)).number if found else None


def _is_within(row: CardRow, other: CardRow) -> bool:
    """Whether a row has no more quarters than another, wherever that has a fan."""
    return all(
        theirs is None or (own is not None and own.quarters <= theirs.quarters)
        for own, theirs in zip(row.fans, other.fans, strict=True)
    )


def _sum(row: CardRow) -> int:
    return sum(fan.quarters for fan in row.fans if fan is not None)


def sides(rows: Sequence[CardRow]) -> tuple[Side, ...]:
    """Return the sides that some turns go to, in the order they come."""
    return tuple(dict.fromkeys(row.side for row in rows))


def _fan(column: Column, number: int, usual_lean_deg: float, most: int) -> Fan | None:
    rung = column.rung(number)
    return None if rung is None else fan(rung.cap_bike_deg, usual_lean_deg, most)


def _urgency(row: CardRow) -> tuple[bool, int, int, int]:
    """The turn to respect first, then the fewest quarters, in any column and in all."""
    found = [fan.quarters for fan in row.fans if fan is not None]
    return not row.least_margin, min(found, default=0), sum(found), row.number
