"""Draws of what is not known: scrambled low-discrepancy points, the same for the same seed.

Inputs common to a day, a machine or a corner take a dimension each of a Sobol' net, scrambled after Owen
(Matousek's linear scramble with a digital shift, SciPy's). A rider's scatter is new at every rung, but a
cap asks for its distribution alone: one dimension serves all rungs, so that caps move for a reason only
(common random numbers). Odds over several rungs sum the scatter as independent: see falls.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from leanladder.domain.spread import Kind, Scope, Spread
from leanladder.engine.grip import Floats

SCOPES: tuple[Scope, ...] = ("day", "machine", "corner", "rung")
LEAST_FACTOR = 0.05  # a factor drawn beyond twenty spreads does not turn a grip or a loss negative
NETS = 8  # nets kept, of some megabytes at most
EDGE = 2.0**-40  # keeps a draw of exactly 0 off minus infinity


class Sampler(Protocol):
    """Anything that gives points [0..1) of a number of dimensions: (members, dimensions)."""

    def __call__(self, members: int, dimensions: int, seed: int) -> Floats:
        """Return points (members, dimensions) [0..1)."""


@dataclass(frozen=True, slots=True)
class Draws:
    """Standard normal draws, (members,) each, by an input's code.

    common: of a day and a machine; corners: of a corner, a code's (corners, members); rung: a function
    of lap, corner index and code.
    """

    members: int
    common: Mapping[str, Floats]
    corners: Mapping[str, Floats]
    rung: Callable[[int, int, str], Floats]


@lru_cache(maxsize=NETS)
def sobol(members: int, dimensions: int, seed: int) -> Floats:
    """Return the first points of a scrambled Sobol' net, (members, dimensions); members a power of two.

    They are kept, and cannot be written to: every combination of a day and every try asks for the same.
    """
    from scipy.stats import qmc  # noqa: PLC0415  # a second to load: only when a ladder is counted

    net = qmc.Sobol(dimensions, scramble=True, rng=np.random.default_rng(seed))
    points = np.asarray(net.random(members), dtype=np.float64)
    points.setflags(write=False)
    return points


def normal(points: Floats) -> Floats:
    """Return standard normal draws of points [0..1)."""
    from scipy.special import ndtri  # noqa: PLC0415  # with the above

    return np.asarray(ndtri(np.clip(points, EDGE, 1.0 - EDGE)))


def draw(
    spreads: tuple[Spread, ...], corners: int, members: int, seed: int, sampler: Sampler = sobol
) -> Draws:
    """Return the draws of all inputs for a circuit of some corners, by seed.

    sampler gives the points of what is common to a day, a machine or a corner.
    """
    codes = {scope: [spread.code for spread in spreads if spread.scope == scope] for scope in SCOPES}
    shared, own, anew = codes["day"] + codes["machine"], codes["corner"], codes["rung"]
    points = normal(sampler(members, len(shared) + len(anew) + len(own) * corners, seed)).T
    points = np.ascontiguousarray(points)
    rest = points[len(shared) + len(anew) :].reshape(len(own), corners, members)
    scatter = dict(zip(anew, points[len(shared) :], strict=False))

    def rung(_lap: int, _corner: int, code: str) -> Floats:
        return np.asarray(scatter[code])

    common = dict(zip(shared, points, strict=False))
    return Draws(members, common, dict(zip(own, rest, strict=True)), rung)


def apply(kind: Kind, size: float, standard: Floats) -> Floats:
    """Return what standard normal draws mean for an input whose one standard draw has a size.

    "added" and "even": what is added to the figure; "factor" and "ratio": what it is multiplied by.
    """
    if kind == "added":
        return np.asarray(size * standard)
    if kind == "even":
        from scipy.special import ndtr  # noqa: PLC0415  # with the above

        return np.asarray(size * (2.0 * ndtr(standard) - 1.0))
    if kind == "ratio":
        return np.asarray(np.exp(size * standard))
    return np.asarray(np.maximum(1.0 + size * standard, LEAST_FACTOR))
