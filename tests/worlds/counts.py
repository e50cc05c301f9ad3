"""Counts over worlds, with intervals by worlds: rungs of one world share its day and tyres."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from tests.worlds.laid import Laid

from leanladder.planning.odds.draws import Draws

Floats = NDArray[np.float64]
LEAST_RIDES = 2000
LOW, HIGH, LAP_HIGH = 0.4, 1.0, 1.2  # of 100 less the chance
WIDE = 1.96  # standard errors to either side of a 95 in 100 interval


class Rate(NamedTuple):
    """How often [0..1], and the standard error of that over worlds."""

    value: float
    error: float

    def __str__(self) -> str:
        return f"{100 * self.value:.2f} ± {100 * WIDE * self.error:.2f}"


class Passed(NamedTuple):
    """How often demand passes the level's share of the friction at the counted rungs.

    ladder, over all; laps, of each lap that has such rungs; rides, how many rung-rides; rungs, how many.
    """

    ladder: Rate
    laps: dict[int, Rate]
    rungs: int
    rides: int


def rate(by_world: Floats) -> Rate:
    """Return the mean of worlds (worlds,) and its standard error."""
    return Rate(float(by_world.mean()), float(by_world.std(ddof=1) / math.sqrt(by_world.size)))


def passed(laid: Laid, used: Floats, share: float | None = None, *, held_back: bool = False) -> Passed | None:
    """Return how often used (laps, corners, worlds) passes the share; None with too few rung-rides.

    At the rungs that the chance sets, or at those held back because falls would be too many.
    """
    at = laid.held_back if held_back else laid.counted
    rungs, worlds = int(at.sum()), used.shape[2]
    if rungs * worlds < LEAST_RIDES:
        return None
    over = (used > (laid.share if share is None else share)) & at[:, :, None]
    by_lap = {
        lap + 1: rate(over[lap].sum(axis=0) / on_lap) for lap, on_lap in enumerate(at.sum(axis=1)) if on_lap
    }
    return Passed(rate(over.sum(axis=(0, 1)) / rungs), by_lap, rungs, rungs * worlds)


def faults(found: Passed, of_100: float) -> list[str]:
    """Return in words which bounds are not kept; none where all are."""
    short = 1.0 - of_100 / 100.0
    words = []
    if found.ladder.value < LOW * short:
        words.append(f"ladder below {100 * LOW * short:.1f}")
    if found.ladder.value > HIGH * short:
        words.append(f"ladder above {100 * HIGH * short:.1f}")
    high = LAP_HIGH * short
    return words + [
        f"lap {lap} above {100 * high:.1f}" for lap, each in found.laps.items() if each.value > high
    ]


def fallen(used: Floats) -> NDArray[np.bool_]:
    """Return whether each world (worlds,) falls anywhere: asks for more than all the friction."""
    return np.asarray((used > 1.0).any(axis=(0, 1)))


def weighted(hits: NDArray[np.bool_], weights: Floats) -> Rate:
    """Return how often worlds (worlds,) are hit where they were drawn tilted, by their weights."""
    return rate(hits * weights)


def shares(laid: Laid, used: Floats, draws: Draws) -> dict[str, float]:
    """Return each input's share [0..1] of what varies in used at the counted rungs: squared correlations."""
    found: dict[str, list[float]] = {}
    for lap, corner in np.argwhere(laid.counted).tolist():
        here = {code: values[corner] for code, values in draws.corners.items()}
        here |= {code: draws.rung(lap + 1, corner, code) for code in ("lean_scatter", "line_scatter")}
        for code, values in {**draws.common, **here}.items():
            found.setdefault(code, []).append(float(np.corrcoef(values, used[lap, corner])[0, 1]) ** 2)
    return {code: float(np.mean(each)) for code, each in found.items()}
