"""The closed line on an even grid: place, curvature and turning by distance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leanladder.geometry.ring import BLOCK
from leanladder.geometry.smoothing import DRAWN_RATIO, pinned, smooth

Floats = NDArray[np.float64]

LARGEST_STEP_M = 4.0
SMALLEST_STEP_M = 2.0
STEPS_A_LAP = 1000  # a lap of 2 to 4 km is cut into this many steps
FINER = 2  # the line is smoothed on a grid this much finer
LEAST_NODES = 40
CLOSE_M = 1.0


@dataclass(frozen=True, slots=True)
class Line:
    """A smooth closed line on an even grid of n nodes (n a multiple of 4).

    s_m (n,) = i * length_m / n [m], distances along the closed polyline of the survey; x_m, y_m
    (n,) [m]; curvature_per_m (n,) [1/m], positive turning left; turned_rad (n,) [rad], the heading
    gained up to each node since the first; whole_turn_rad [rad], the same over the lap, a multiple
    of 2 pi; noise_m [m], the likeliest spread of the survey's errors across it.
    """

    length_m: float
    s_m: Floats
    x_m: Floats
    y_m: Floats
    curvature_per_m: Floats
    turned_rad: Floats
    whole_turn_rad: float
    noise_m: float

    @property
    def step_m(self) -> float:
        """Return the grid step [m]."""
        return self.length_m / len(self.s_m)

    @property
    def net_turns(self) -> int:
        """Return the heading gained over a lap in whole turns, positive left."""
        return round(self.whole_turn_rad / (2.0 * np.pi))

    def every(self, stride: int) -> Line:
        """Return the same line with every stride-th node; stride divides the number of nodes."""
        part = slice(None, None, stride)
        return Line(
            self.length_m,
            self.s_m[part],
            self.x_m[part],
            self.y_m[part],
            self.curvature_per_m[part],
            self.turned_rad[part],
            self.whole_turn_rad,
            self.noise_m,
        )


def nodes_for(length_m: float) -> int:
    """Return the number of grid nodes for a lap of length_m [m], a multiple of 4: a step of 2 to 4 m."""
    step = float(np.clip(length_m / STEPS_A_LAP, SMALLEST_STEP_M, LARGEST_STEP_M))
    return max(LEAST_NODES, BLOCK * int(np.ceil(length_m / (BLOCK * step))))


def distances(points: Floats) -> tuple[Floats, float]:
    """Return the distance [m] of each point (n, 2) along their closed polyline, and its length [m]."""
    move = np.diff(np.vstack([points, points[:1]]), axis=0)
    step = np.hypot(move[:, 0], move[:, 1])
    along = np.concatenate([[0.0], np.cumsum(step)])
    return along[:-1], float(along[-1])


def survey_line(points: Floats, origin_m: float = 0.0, error_m: float = 0.0) -> Line:
    """Return the line through points (n, 2) [m] of one lap, in riding order, first not repeated.

    Its grid, FINER times finer than `nodes_for` says, starts origin_m [m] along the closed polyline.
    error_m [m] is what the survey is known to be off by at the least. A survey too coarse for a smooth
    line to stay within 1 m of it in the median is taken as drawn: straight from point to point.
    """
    along, length = distances(points)
    n = FINER * nodes_for(length)
    for ratio in (DRAWN_RATIO, 0.0):
        held, at = pinned(points, along, length, ratio)
        held, at = _gathered(held, np.remainder(at - origin_m, length), length / n)
        smoothed = smooth(held, at, length, n, error_m)
        if _median_miss(smoothed.points, points, np.remainder(along - origin_m, length), length) < CLOSE_M:
            break
    return line_through(smoothed.points, length, smoothed.noise_m)


def _median_miss(nodes: Floats, points: Floats, at: Floats, length_m: float) -> float:
    """Return the median distance [m] of the nodes (n, 2) from the survey's polyline at their distances."""
    order = np.argsort(at)
    along = np.arange(len(nodes)) * length_m / len(nodes)
    flat = [np.interp(along, at[order], points[order, axis], period=length_m) for axis in range(2)]
    return float(np.median(np.hypot(*(nodes.T - np.array(flat)))))


def line_through(nodes: Floats, length_m: float, noise_m: float = 0.0) -> Line:
    """Return the line whose nodes (n, 2) [m] lie evenly round a lap, by fourth-order differences."""
    step = length_m / len(nodes)
    one, two = _round(nodes, 1), _round(nodes, 2)
    back, back_two = _round(nodes, -1), _round(nodes, -2)
    first = (8.0 * (one - back) - (two - back_two)) / (12.0 * step)
    second = (16.0 * (one + back) - (two + back_two) - 30.0 * nodes) / (12.0 * step**2)
    speed = np.hypot(first[:, 0], first[:, 1])
    curvature = (first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]) / speed**3
    turned, whole = _turning(first)
    return Line(
        length_m,
        (np.arange(len(nodes)) * step).astype(np.float64),
        nodes[:, 0],
        nodes[:, 1],
        curvature,
        turned,
        whole,
        noise_m,
    )


def _gathered(points: Floats, at: Floats, cell_m: float) -> tuple[Floats, Floats]:
    """Return the means of points (m, 2) and distances (m,) that share a cell: neighbours err alike."""
    cell = np.floor(at / cell_m).astype(np.intp)
    _, group, count = np.unique(cell, return_inverse=True, return_counts=True)
    if count.max() == 1:
        return points, at
    sums = [np.bincount(group, values) / count for values in (points[:, 0], points[:, 1], at)]
    return np.column_stack(sums[:2]), sums[2]


def _round(nodes: Floats, ahead: int) -> Floats:
    """Return the nodes (n, 2) that lie ahead round the ring."""
    return np.roll(nodes, -ahead, axis=0)


def _turning(direction: Floats) -> tuple[Floats, float]:
    """Return the heading gained since the first node (n,) and over the lap [rad], of tangents (n, 2)."""
    ahead = _round(direction, 1)
    cross = direction[:, 0] * ahead[:, 1] - direction[:, 1] * ahead[:, 0]
    along = (direction * ahead).sum(axis=1)
    gained = np.arctan2(cross, along)
    turned = np.concatenate([[0.0], np.cumsum(gained)])
    return turned[:-1], float(turned[-1])
