"""Draws of what is not known: scrambled low-discrepancy points, the same for the same seed.

Inputs common to a day, a machine or a corner take a dimension each of a Sobol' net, scrambled after Owen
(Matousek's linear scramble with a digital shift, SciPy's). What is drawn anew at every rung would take
hundreds: there each rung has a Latin hypercube of its own (McKay, Beckman and Conover 1979, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from leanladder.domain.spread import Kind, Spread
from leanladder.engine.grip import Floats

LEAST_FACTOR = 0.05  # a factor drawn beyond twenty spreads does not turn a grip or a loss negative
RUNG_KEY = 2
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


def sobol(members: int, dimensions: int, seed: int) -> Floats:
    """Return the first points of a scrambled Sobol' net, (members, dimensions); members a power of two."""
    from scipy.stats import qmc  # noqa: PLC0415  # a second to load: only when a ladder is counted

    net = qmc.Sobol(dimensions, scramble=True, rng=np.random.default_rng(seed))
    return np.asarray(net.random(members), dtype=np.float64)


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
    shared = [spread.code for spread in spreads if spread.scope in ("day", "machine")]
    own = [spread.code for spread in spreads if spread.scope == "corner"]
    points = normal(sampler(members, len(shared) + len(own) * corners, seed)).T
    rest = points[len(shared) :].reshape(len(own), corners, members)
    rungs = {spread.code: number for number, spread in enumerate(spreads) if spread.scope == "rung"}

    def rung(lap: int, corner: int, code: str) -> Floats:
        return _rung_draws(members, (seed, RUNG_KEY, lap, corner, rungs[code]))

    return Draws(
        members,
        dict(zip(shared, np.ascontiguousarray(points[: len(shared)]), strict=True)),
        dict(zip(own, np.ascontiguousarray(rest), strict=True)),
        rung,
    )


def _rung_draws(members: int, key: tuple[int, ...]) -> Floats:
    """One Latin hypercube of one dimension: a draw within each of as many even parts, in random order."""
    random = np.random.default_rng(key)
    return normal((random.permutation(members) + random.random(members)) / members)


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
