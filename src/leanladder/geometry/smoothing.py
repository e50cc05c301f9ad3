"""A smooth closed line through scattered points, its stiffness chosen by likelihood.

The line is the one that minimises the squared misses at the points plus a penalty on its third
derivative, that is on the rate at which curvature changes: a road is laid out in straights,
arcs and easings, all of which cost little. How much the penalty weighs is no fixed window: it
is the value under which the points are most likely (restricted maximum likelihood of a
smoothing spline; Wahba 1985, Ann. Statist. 13:1378, and Wood 2011, J. R. Stat. Soc. B 73:3,
both from memory). So a line surveyed to centimetres is followed closely and a coarse, noisy one
is not. Where the survey's own error is known, the line may be stiffer still, up to the point where
its misses are as large as that error (the discrepancy principle; Morozov 1966, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leanladder.geometry.ring import blocks, solve_ring

Floats = NDArray[np.float64]
Rows = NDArray[np.intp]

DRAWN_STRAIGHT_M = 40.0  # a gap longer than this, beside a much shorter one, was drawn as a straight
DRAWN_RATIO = 2.5
PIN_M = 20.0  # the spacing at which such a straight is held
SOFTEST, STIFFEST = -4.0, 10.0  # decades of the penalty in grid units that are searched
STIFFER = 1.5  # decades beyond the likeliest that a known error may ask for
HALVINGS = 6
EXACT_M = 0.01  # no survey is better than a centimetre: keeps perfect points from a division by zero


@dataclass(frozen=True, slots=True)
class Smoothed:
    """A smooth closed line on an even grid: points (n, 2) [m].

    noise_m [m] is the likeliest spread of the survey's errors across the line; along it a point
    takes its distance with it, so there is nothing to see.
    """

    points: Floats
    noise_m: float


def pinned(
    points: Floats, along: Floats, length_m: float, ratio: float = DRAWN_RATIO
) -> tuple[Floats, Floats]:
    """Return points (m, 2) and distances (m,) with each drawn straight held at even spacing too.

    points (n, 2) [m] of the closed line at distances along (n,) [m]; a gap is a drawn straight if it is
    longer than 40 m and than ratio times the shorter gap beside it. Who draws a circuit sets
    points where it bends; a long gap beside short ones is a straight, not the freedom to swing out.
    """
    gap = np.diff(np.append(along, length_m))
    nearest = np.minimum(np.roll(gap, 1), np.roll(gap, -1))
    drawn = (gap > DRAWN_STRAIGHT_M) & (gap > ratio * nearest)
    extra_points, extra_along = [points], [along]
    for row in np.flatnonzero(drawn):
        pieces = int(np.ceil(gap[row] / PIN_M))
        share = np.arange(1, pieces) / pieces
        ahead = points[(row + 1) % len(points)]
        extra_points.append(points[row] + share[:, None] * (ahead - points[row]))
        extra_along.append(along[row] + share * gap[row])
    return np.vstack(extra_points), np.concatenate(extra_along)


def smooth(points: Floats, along: Floats, length_m: float, n: int, error_m: float = 0.0) -> Smoothed:
    """Return the smooth closed line (n, 2) [m] at i * length_m / n through points (m, 2) at along (m,).

    along may be in any order and is taken round the lap. n a multiple of 4, spacing about 2 m; the
    cost grows as n. error_m [m] is what the points are known to be off by at the least, across
    the line, one standard deviation.
    """
    middle = points.mean(axis=0)
    system = _System.of(points - middle, np.remainder(along, length_m) * n / length_m, n)
    likeliest = _likeliest_decade(system)
    nodes = system.solve(10.0 ** _as_stiff_as(system, likeliest, error_m))[0]
    return Smoothed(nodes + middle, system.noise_m(10.0**likeliest))


@dataclass(frozen=True, slots=True)
class _System:
    """Normal equations of the smoothing on a ring of n nodes, as blocks (see `ring`).

    points (m, 2) lie between nodes low and high (m,), at share (m,) of the way.
    """

    points: Floats
    low: Rows
    high: Rows
    share: Floats
    data: tuple[Floats, Floats]
    penalty: tuple[Floats, Floats]
    right: Floats

    @staticmethod
    def of(points: Floats, position: Floats, n: int) -> _System:
        """Return equations for points (m, 2) at grid positions (m,) in 0..n."""
        low = np.floor(position).astype(np.intp)
        share = position - low
        low, high = low % n, (low + 1) % n
        diagonal = _sums(low, (1 - share) ** 2, n) + _sums(high, share**2, n)
        beside = _sums(low, share * (1 - share), n)
        third = [np.full(n, value) for value in (20.0, -15.0, 6.0, -1.0)]
        right = np.empty((n, 2))
        for axis in range(2):
            right[:, axis] = _sums(low, (1 - share) * points[:, axis], n)
            right[:, axis] += _sums(high, share * points[:, axis], n)
        return _System(points, low, high, share, blocks([diagonal, beside]), blocks(third), right)

    def solve(self, stiffness: float) -> tuple[Floats, float]:
        """Return nodes (n, 2) [m] under this weight of the penalty, and the equations' log determinant."""
        own = self.data[0] + stiffness * self.penalty[0]
        ahead = self.data[1] + stiffness * self.penalty[1]
        return solve_ring(own, ahead, self.right)

    def misses(self, nodes: Floats) -> float:
        """Return the sum of squared misses [m2] of the line at the points."""
        share = self.share[:, None]
        there = (1.0 - share) * nodes[self.low] + share * nodes[self.high]
        return float(((there - self.points) ** 2).sum())

    def misfit(self, nodes: Floats, stiffness: float) -> float:
        """Return what the line minimises [m2]: squared misses and the penalty."""
        ring = np.vstack([nodes, nodes[:3]])
        bent = float((np.diff(ring, n=3, axis=0) ** 2).sum())
        return self.misses(nodes) + stiffness * bent

    def noise_m(self, stiffness: float) -> float:
        """Return the likeliest spread [m] of errors across the line under a penalty of this weight."""
        misfit = self.misfit(self.solve(stiffness)[0], stiffness)
        return float(np.sqrt(misfit / (len(self.points) - 1)))

    def unlikelihood(self, decade: float) -> float:
        """Return minus twice the log restricted likelihood of a penalty of 10**decade, but for a constant."""
        stiffness = 10.0**decade
        try:
            nodes, log_determinant = self.solve(stiffness)
        except np.linalg.LinAlgError:
            return np.inf
        m = len(self.points)
        misfit = self.misfit(nodes, stiffness) + m * EXACT_M**2
        log_penalty = (len(nodes) - 1) * np.log(stiffness)
        return float(2.0 * ((m - 1) * np.log(misfit) + log_determinant - log_penalty))


def _likeliest_decade(system: _System) -> float:
    """Return the decade of the penalty under which the points are most likely."""
    decades = np.arange(SOFTEST, STIFFEST + 0.5)
    cost = np.array([system.unlikelihood(float(decade)) for decade in decades])
    best = int(np.argmin(cost))
    if not 0 < best < len(decades) - 1 or not np.isfinite(cost[best + 1]):
        return float(decades[best])
    before, here, after = cost[best - 1], cost[best], cost[best + 1]
    return float(decades[best] + 0.5 * (before - after) / (before - 2.0 * here + after))


def _as_stiff_as(system: _System, decade: float, error_m: float) -> float:
    """Return a decade from this one on, at most STIFFER up, at which the misses are no more than error_m."""
    allowed = len(system.points) * error_m**2
    low, high = decade, decade + STIFFER
    if error_m <= 0.0 or system.misses(system.solve(10.0**low)[0]) >= allowed:
        return decade
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if system.misses(system.solve(10.0**middle)[0]) < allowed:
            low = middle
        else:
            high = middle
    return low


def _sums(rows: Rows, values: Floats, n: int) -> Floats:
    """Return the sums (n,) of values (m,) by row (m,)."""
    return np.bincount(rows, values, n).astype(np.float64)
