"""The cells of a coach's sheet: caps and speeds rounded down, the rubber and what sets the cap."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leanladder import catalogue
from leanladder.domain.ladder import Ladder, Rubber, Rung
from leanladder.domain.paper import CoachCell, CoachRow
from leanladder.planning.paper.figures import count_of
from leanladder.planning.paper.spans import Column


def coach_rows(ladder: Ladder, columns: Sequence[Column]) -> tuple[CoachRow, ...]:
    """Return a row a turn, in riding order, with a cell a column."""
    least = [rung.number if (rung := column.least()) else None for column in columns]
    return tuple(
        CoachRow(
            corner.number,
            corner.name or None,
            corner.side,
            tuple(
                _cell(ladder, column.rung(corner.number), is_least=number == corner.number)
                for column, number in zip(columns, least, strict=True)
            ),
        )
        for corner in ladder.session.circuit.corners
    )


def _cell(ladder: Ladder, rung: Rung | None, *, is_least: bool) -> CoachCell | None:
    if rung is None:
        return None
    return CoachCell(
        cap_deg=math.floor(rung.cap_bike_deg),
        speed_kmh=speed_shown_kmh(rung.speed_kmh),
        rubber_c=shoulder_c(rung),
        limited_by=rung.limited_by,
        least_margin=is_least,
        hot=is_hot(ladder, rung),
    )


def speed_shown_kmh(speed_kmh: float) -> int:
    """Return a speed rounded down to a step that a rider reads [km/h]."""
    step = count_of("speed_step_kmh")
    return step * math.floor(speed_kmh / step)


def shoulder_c(rung: Rung) -> float:
    """Return the colder tyre's shoulder on the side leaned to, on arrival [degC]."""
    return min(float(getattr(tyre, f"{rung.side}_c")) for tyre in (rung.front, rung.rear))


def is_hot(ladder: Ladder, rung: Rung) -> bool:
    """Return whether either tyre is past its range somewhere on the crown, as the ladder warns."""
    over_k = catalogue.parameters("planning.warn")["hot_over_k"].value
    session = ladder.session
    fitted = ((rung.front, session.front), (rung.rear, session.rear))
    return any(_warmest_c(rubber) > end.tyre.working_high_c.value + over_k for rubber, end in fitted)


def _warmest_c(rubber: Rubber) -> float:
    return max(rubber.left_c, rubber.centre_c, rubber.right_c)
