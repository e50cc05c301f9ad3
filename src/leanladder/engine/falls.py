"""Odds that a lean, ridden with scatter, asks for all of a tyre's friction and more.

Scatter of the lean is normal; so is the tyre's own level of friction, summed at given levels. Both are summed
exactly instead of drawn: a thousand members would mostly count no fall at all.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import compiled

Floats = NDArray[np.float64]

SURE = 7.0  # standard deviations: beyond it the odds are below 1 in 10^11, which no model can tell
MOST = 1.0 - 1e-15
SMALL = 1e-8  # odds whose logarithm of 1 - odds is their own size


class Planned(NamedTuple):
    """One tyre at a lap's corners as planned.

    friction, demand, lean (corners, members) [-, -, rad]: friction without the tyre's own level, at the
    planned place; what the lean asks; the lean. bank, scatter (corners,) [rad], scatter one standard
    deviation.
    """

    friction: Floats
    demand: Floats
    lean: Floats
    bank: Floats
    scatter: Floats


@compiled
def fall_odds(planned: Planned, levels: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Return the odds at every corner, (corners,), summed over members, and what is kept up.

    Kept up is (levels, members): the sum over corners of the logarithm of the odds of no fall. levels
    (levels,) [-] of the tyre's own friction with their weights, which sum to 1.
    """
    corners, members = planned.friction.shape
    odds, kept = np.zeros(corners), np.zeros((levels.size, members))
    for corner in range(corners):
        bank, scatter = planned.bank[corner], planned.scatter[corner]
        for member in range(members):
            lean, friction = planned.lean[corner, member], planned.friction[corner, member]
            across, asked = math.tan(lean - bank), planned.demand[corner, member]
            along = max(asked * asked - across * across, 0.0)
            for level in range(levels.size):
                held = levels[level] * friction
                most = bank + math.atan(math.sqrt(max(held * held - along, 0.0)))
                spare = (most - lean) / scatter
                if spare < SURE:
                    fall = 0.5 * math.erfc(spare * math.sqrt(0.5))
                    odds[corner] += weights[level] * fall
                    kept[level, member] -= fall if fall < SMALL else -math.log1p(-min(fall, MOST))
    return odds, kept
