"""Distances round a lap, and the place on a line nearest to a point."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from leanladder.geometry.line import Line

Floats = NDArray[np.float64]


def ahead_m(from_m: float, to_m: Floats, length_m: float) -> Floats:
    """Return how far ahead [m] of from_m each of to_m (n,) lies round a lap, 0 to length_m."""
    return np.asarray(np.remainder(to_m - from_m, length_m), dtype=np.float64)


def apart_m(one_m: float, other_m: float, length_m: float) -> float:
    """Return how far apart [m] two distances lie, the shorter way round."""
    ahead = (other_m - one_m) % length_m
    return min(ahead, length_m - ahead)


def within(at_m: float, from_m: float, to_m: float) -> bool:
    """Return whether a distance lies from from_m to to_m [m], over the start if to_m is less."""
    if from_m <= to_m:
        return from_m <= at_m <= to_m
    return at_m >= from_m or at_m <= to_m


def nearest_m(line: Line, x_m: float, y_m: float) -> tuple[float, float]:
    """Return the distance along the lap [m] of the place on a line nearest to a point, and how far off [m].

    Where the line crosses itself either branch may be given. Exact on the polygon of the nodes.
    """
    nodes = np.column_stack([line.x_m, line.y_m])
    step = np.roll(nodes, -1, axis=0) - nodes
    to_point = np.array([x_m, y_m]) - nodes
    share = np.clip((to_point * step).sum(axis=1) / (step**2).sum(axis=1), 0.0, 1.0)
    miss = to_point - share[:, None] * step
    away = np.hypot(miss[:, 0], miss[:, 1])
    best = int(np.argmin(away))
    return float((best + share[best]) * line.step_m % line.length_m), float(away[best])
