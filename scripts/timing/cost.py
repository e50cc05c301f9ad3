"""What a pass costs, against members, laps and ribs, and its picture."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable

import numpy as np
from scripts.plot import Axis, Dots, Line, Panel, figure
from scripts.timing import altered, clock
from scripts.timing.members import MEMBERS, Pass
from scripts.timing.trace import Trace

Points = list[tuple[int, float]]

MEMBERS_AT = (64, 256, 1024, 2048, 4096, 8192)
MEMBERS_LAPS = 2  # ridden by each of these numbers of members: enough, and over in time
LAPS_AT = (1, 2, 5, 10, 20)
RIBS_AT = (12, 18, 24)  # multiples of three, as a third of the crown is whole ribs
RIBS_LAPS = 2
ENOUGH_S = 8.0


def of_members(trace: Trace) -> Points:
    """Return how long [s] MEMBERS_LAPS laps of both tyres take so many members."""
    few = trace.first(MEMBERS_LAPS)
    return _timed(MEMBERS_AT, lambda count: Pass(few, count))


def of_laps(trace: Trace) -> Points:
    """Return how long [s] so many laps of both tyres take MEMBERS members; trace has as many or more."""
    return _timed(LAPS_AT, lambda count: Pass(trace.first(count)))


def of_ribs(trace: Trace, by_s: float) -> Points:
    """Return how long [s] RIBS_LAPS laps of both tyres take MEMBERS members on so many ribs.

    Other ribs than the engine's own are left out once the clock says by_s [s]: their code is compiled first.
    """
    found: Points = []
    for ribs in RIBS_AT:
        if ribs == trace.place.front.body.ribs:
            taken: float | None = clock.seconds(Pass(trace.first(RIBS_LAPS)))
        else:
            left_s = by_s - time.monotonic()
            taken = altered.pass_s(ribs, MEMBERS, RIBS_LAPS, left_s) if left_s > 0.0 else None
        found += [] if taken is None else [(ribs, taken)]
    return found


def _timed(counts: Iterable[int], ready: Callable[[int], Pass]) -> Points:
    return [(count, clock.seconds(ready(count), enough_s=ENOUGH_S)) for count in counts]


def slope_off(points: Points) -> float | None:
    """Return the largest relative distance of points from their best line through 0; None for no points."""
    if not points:
        return None
    counts, taken = np.array(points, dtype=float).T
    # every point weighs the same in relation to itself
    per = float(np.sum(counts / taken) / np.sum((counts / taken) ** 2))
    return float(np.max(np.abs(taken / (per * counts) - 1.0)))


def picture(members: Points, laps: Points, ribs: Points) -> str:
    """Return the figure of a pass's time against members, laps and ribs."""
    panels = [
        _panel(f"{MEMBERS_LAPS} laps, both tyres", "members", members, 2048.0),
        _panel(f"{MEMBERS} members, both tyres", "laps of 4 km", laps, 5.0),
    ]
    if ribs:
        panels.append(_panel(f"{MEMBERS} members, {RIBS_LAPS} laps", "ribs across the crown", ribs, 6.0))
    return figure("How long a pass of all members takes, against members, laps and ribs", panels, 3)


def _panel(title: str, shows: str, points: Points, step: float) -> Panel:
    counts, taken = np.array(points, dtype=float).T
    most = step * float(np.ceil(counts.max() / step))
    per = float(np.sum(counts / taken) / np.sum((counts / taken) ** 2))
    high, tick = _round_up(max(taken.max(), per * most))
    return Panel(
        title,
        Axis(shows, 0.0, most, step),
        Axis("time, s", 0.0, high, tick),
        [Line("proportional", [0.0, most], [0.0, per * most], style=1), Dots("measured", counts, taken)],
        wide=260.0,
    )


def _round_up(value: float) -> tuple[float, float]:
    """Return a round number not below value, and the tick that divides it."""
    size = 10.0 ** np.floor(np.log10(value))
    tick = next(size * part for part in (0.2, 0.5, 1.0, 2.0) if value <= 5 * size * part)
    return float(tick * np.ceil(value / tick)), float(tick)
