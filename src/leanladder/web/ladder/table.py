"""The ladder as a table: laps down, turns across."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from leanladder.domain.ladder import Ladder, Lap
from leanladder.web.ladder import pictures
from leanladder.web.ladder.figures import clock
from leanladder.web.ladder.pictures import Reader


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of the table: empty where the lap starts behind its turn; was: the limit it had, if other."""

    lap: int
    number: int
    picture: SafeString | None = None
    chosen: bool = False
    was: int | None = None


def table(
    ladder: Ladder, point: tuple[int, int | None], reader: Reader, own: Ladder | None = None
) -> dict[str, Any]:
    """Return what the table's template shows; own: the ladder that counts, where this one is only tried."""
    corners = ladder.session.circuit.corners
    rows = [
        {
            "lap": lap.lap,
            "clock": clock(lap.minute),
            "chosen": lap.lap == point[0],
            "cells": _cells(ladder, lap, point, reader, own),
        }
        for lap in ladder.laps
    ]
    return {"corners": corners, "rows": rows, "point_turn": point[1], "tried": own is not None}


def with_laps(own: Ladder, laps: tuple[Lap, ...]) -> Ladder:
    """Return a ladder of laps that were tried."""
    return replace(own, laps=laps)


def _cells(
    ladder: Ladder, lap: Lap, point: tuple[int, int | None], reader: Reader, own: Ladder | None
) -> list[Cell]:
    rungs = {rung.number: rung for rung in lap.rungs}
    found = []
    for corner in ladder.session.circuit.corners:
        rung = rungs.get(corner.number)
        chosen = (lap.lap, corner.number) == point
        if rung is None:
            found.append(Cell(lap.lap, corner.number))
            continue
        picture = pictures.cell(ladder, lap, rung, reader, chosen=chosen, given=own is None)
        was = limit_of(own, lap.lap, corner.number) if own is not None else None
        other = None if was is None or was == int(rung.cap_bike_deg) else was
        found.append(Cell(lap.lap, corner.number, mark_safe(picture), chosen, other))  # noqa: S308  # ours, escaped there
    return found


def limit_of(ladder: Ladder, lap: int, number: int) -> int | None:
    """Return the limit at a turn on a lap, rounded down; None where there is none."""
    laps = (each for each in ladder.laps if each.lap == lap)
    rungs = (rung for each in laps for rung in each.rungs if rung.number == number)
    return next((int(rung.cap_bike_deg) for rung in rungs), None)
