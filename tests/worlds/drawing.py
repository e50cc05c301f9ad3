"""Fresh worlds: independent normals of another generator than the planner's, and none of its nets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder import catalogue
from leanladder.domain.spread import Spread
from leanladder.planning.odds.draws import Draws

Floats = NDArray[np.float64]
FRESH_KEY = 20_117
SHARED = ("day", "corner")  # what all riders of a day have alike: its weather and road, each place's grip


class Tilt(NamedTuple):
    """How an input's standard draws are moved: times wide, then by shift."""

    shift: float = 0.0
    wide: float = 1.0


class Days(NamedTuple):
    """Days drawn by a seed of their own: how many, which (chosen,) are ridden, by how many riders."""

    total: int
    riders: int
    chosen: NDArray[np.int64]
    seed: int


UPRIGHT = Tilt()
Tilts = Mapping[str, Tilt]


def fresh(
    corners: int, worlds: int, seed: int, tilts: Tilts | None = None, days: Days | None = None
) -> Draws:
    """Return worlds by seed for a circuit of some corners; without days each is a day of its own.

    With days each chosen one has its riders, one after the other, and worlds is how many that makes.
    """

    def standard(number: int, spread: Spread, rows: int, *key: int) -> Floats:
        if days is None or spread.scope not in SHARED:
            drawn = _normals((seed, number, *key), rows, worlds)
        else:
            by_day = _normals((days.seed, number, *key), rows, days.total)
            drawn = np.repeat(by_day[:, days.chosen], days.riders, axis=1)
        tilt = (tilts or {}).get(spread.code, UPRIGHT)
        return np.asarray(tilt.wide * drawn + tilt.shift)

    numbered = {spread.code: (number, spread) for number, spread in enumerate(catalogue.spreads())}
    common: dict[str, Floats] = {}
    own: dict[str, Floats] = {}
    for code, (number, spread) in numbered.items():
        if spread.scope == "corner":
            own[code] = standard(number, spread, corners)
        elif spread.scope != "rung":
            common[code] = standard(number, spread, 1)[0]

    def rung(lap: int, corner: int, code: str) -> Floats:
        return np.asarray(standard(*numbered[code], 1, lap, corner)[0])

    return Draws(worlds, common, own, rung)


def _normals(key: tuple[int, ...], rows: int, columns: int) -> Floats:
    seeds = np.random.SeedSequence((FRESH_KEY, *key))
    generator = np.random.Generator(np.random.Philox(seeds))
    return np.asarray(generator.standard_normal((rows, columns)))


def every_day(total: int, riders: int, seed: int) -> Days:
    """Return a number of days, each with its riders."""
    return Days(total, riders, np.arange(total), seed)


def everywhere(tilt: Tilt) -> dict[str, Tilt]:
    """Return one tilt for every input."""
    return {spread.code: tilt for spread in catalogue.spreads()}
