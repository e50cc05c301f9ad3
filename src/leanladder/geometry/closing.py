"""One closed lap out of the points as they come: repeats dropped, gaps closed, extra laps cut."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SAME_POINT_M = 0.2  # nearer than this, two neighbouring points are one
PASSING_M = 20.0  # a track that comes back this near to its start, riding the same way, has done a lap
PASSING_COS = 0.7  # and its heading is within 45 degrees of the first one
LEAST_LAP_M = 200.0
# Of the length, gap included; judgement. A straight closes a gap up to the first; up to the second
# the ends belong to a lap that was badly recorded, beyond it to a way from one place to another.
WIDEST_GAP = 0.1
ROUTE_GAP = 0.25


@dataclass(frozen=True, slots=True)
class Lap:
    """One lap of points.

    points (n, 2) [m], the first not repeated; index (n,), the row of each in the points given;
    gap_m [m] between the last and the first; laps [-], how many laps the points held, about.
    """

    points: Floats
    index: NDArray[np.intp]
    gap_m: float
    laps: float


def close(points_m: Floats) -> Lap:
    """Return the one lap that points (n, 2) [m] hold, in their order.

    Repeated points are dropped, a repeated first point at the end too. A track that passes its
    own start again in the same direction is cut there. Raises ValueError with one of the words
    "few" (under three different points), "short" (shorter than 200 m), "open" (the ends lie
    further apart than a tenth of the length and than any two neighbouring points) or "route" (further
    than a quarter of it).
    """
    index = _distinct(points_m)
    if len(index) < 3:
        raise ValueError("few")
    points = points_m[index]
    along = np.concatenate([[0.0], np.cumsum(_steps(points))])
    if along[-1] < LEAST_LAP_M / 2.0:
        raise ValueError("short")
    cut = _first_return(points, along)
    laps = 1.0 if cut is None else float(along[-1] / along[cut])
    if cut is not None:
        points, index, along = points[: cut + 1], index[: cut + 1], along[: cut + 1]
    gap = float(np.hypot(*(points[0] - points[-1])))
    if gap < SAME_POINT_M:
        points, index, gap = points[:-1], index[:-1], 0.0
    if len(points) < 3:
        raise ValueError("few")
    _check_gap(gap, along)
    if along[-1] + gap < LEAST_LAP_M:
        raise ValueError("short")
    return Lap(points, index, gap, laps)


def _check_gap(gap_m: float, along: Floats) -> None:
    """Raise ValueError where the ends of a line lie too far apart; along (n,) [m] the distances on it."""
    whole_m = along[-1] + gap_m
    if gap_m > ROUTE_GAP * whole_m:
        raise ValueError("route")
    # An outline drawn by few points has sides as long as its last one.
    if gap_m > max(WIDEST_GAP * whole_m, float(np.diff(along).max())):
        raise ValueError("open")


def _steps(points: Floats) -> Floats:
    """Return the distance [m] from each point to the next, (n - 1,)."""
    move = np.diff(points, axis=0)
    return np.hypot(move[:, 0], move[:, 1])


def _distinct(points: Floats) -> NDArray[np.intp]:
    """Return the rows of points (n, 2) that lie further than SAME_POINT_M from the one kept before."""
    kept = [0]
    for row in range(1, len(points)):
        last = points[kept[-1]]
        if abs(points[row, 0] - last[0]) + abs(points[row, 1] - last[1]) > SAME_POINT_M:
            kept.append(row)
    return np.array(kept, dtype=np.intp)


def _first_return(points: Floats, along: Floats) -> int | None:
    """Return the row of the last point before a track passes its own start again, None if it never does."""
    segment = np.diff(points, axis=0)
    length = _steps(points)
    to_start = points[0] - points[:-1]
    share = np.clip((to_start * segment).sum(axis=1) / length**2, 0.0, 1.0)
    miss = points[:-1] + share[:, None] * segment - points[0]
    away = np.hypot(miss[:, 0], miss[:, 1])
    first = _first_heading(points, along)
    same_way = segment @ first > PASSING_COS * length
    passing = np.flatnonzero((away < PASSING_M) & same_way & (along[:-1] > LEAST_LAP_M))
    if passing.size == 0:
        return None
    group = passing[: _leading_run(passing)]
    best = int(group[np.argmin(away[group])])
    beyond = along[-1] - (along[best] + share[best] * length[best])
    return best if beyond > PASSING_M or share[best] < 1.0 else None


def _first_heading(points: Floats, along: Floats) -> Floats:
    """Return the unit vector (2,) of the way the track sets off, over its first 10 m or so."""
    row = min(int(np.searchsorted(along, 10.0)), len(points) - 1)
    move = points[row] - points[0]
    return np.asarray(move / max(float(np.hypot(*move)), 1e-9), dtype=np.float64)


def _leading_run(rows: NDArray[np.intp]) -> int:
    """Return how many of the leading rows are consecutive."""
    breaks = np.flatnonzero(np.diff(rows) > 1)
    return int(breaks[0]) + 1 if breaks.size else len(rows)
