"""The model's odds that a planned lean, ridden with a rider's scatter, asks for all the grip and more.

A member's own scatter at a rung, and its tyre's own grip level, are normal and are summed exactly instead of
drawn: falls are rare, and counting a thousand members would mostly count none.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from leanladder.engine.grip import Floats

NODES = 9  # of Gauss and Hermite, over a tyre's own grip level
DAYS = 32  # groups of members whose day makes falls about as likely
LEAST = 1e-12
FIELD = 30


class Rungs(NamedTuple):
    """A lap's rungs as planned, for one tyre: (corners, members) each but scatter (corners,).

    friction [-] without the tyre's own level, at the planned place; along [-], what the tyre drives or rolls
    with; lean [rad] as planned; bank (corners,) [rad]; scatter [rad], of the lean.
    """

    friction: Floats
    along: Floats
    lean: Floats
    bank: Floats
    scatter: Floats


def levels(spread: float) -> tuple[Floats, Floats]:
    """Return grip levels [-] about 1 and their weights, (NODES,) each, for a spread [-]."""
    places, weights = np.polynomial.hermite_e.hermegauss(NODES)
    return 1.0 + spread * places, weights / weights.sum()


def odds_at(rungs: Rungs, spread: float) -> Floats:
    """Return the odds [0..1] at each level of the tyre's own grip, (NODES, corners, members)."""
    from scipy.special import ndtr  # noqa: PLC0415  # half a second to load: only when a ladder is counted

    friction = levels(spread)[0][:, None, None] * rungs.friction
    across = np.sqrt(np.maximum(friction**2 - rungs.along**2, LEAST))
    spare = rungs.bank[:, None] + np.arctan(across) - rungs.lean
    return np.asarray(ndtr(-spare / rungs.scatter[:, None]))


def of_rung(odds: Floats, spread: float) -> Floats:
    """Return the odds over levels and members, (corners,), of odds_at's answer."""
    return np.minimum(np.tensordot(levels(spread)[1], odds.mean(axis=-1), axes=1), 1.0)


def kept_up(odds: Floats) -> Floats:
    """Return the logarithm of the odds that no rung of a lap ends in a fall, (NODES, members)."""
    return np.asarray(np.log1p(-np.minimum(odds, 1.0 - LEAST)).sum(axis=1))


def of_members(front: Floats, rear: Floats, spreads: tuple[float, float]) -> Floats:
    """Return each member's odds of a fall, (members,), from sums of kept_up over the laps; either tyre's."""
    either = [
        levels(spread)[1] @ -np.expm1(each) for each, spread in zip((front, rear), spreads, strict=True)
    ]
    return np.minimum(either[0] + either[1], 1.0)


def of_field(odds: Floats, day: Floats, riders: int = FIELD) -> float:
    """Return the odds that at least one of several riders falls on one day, its weather and road alike.

    odds (members,) of each member; day (inputs, members): standard draws common to a day. Members are put
    in order by how much their day raises the odds (a straight fit of their logarithm) and taken in groups,
    each one kind of day on which riders fall independently of each other.
    """
    if odds.size < 2 * DAYS:
        return float(1.0 - (1.0 - odds.mean()) ** riders)
    log = np.log(np.maximum(odds, np.finfo(float).tiny))
    raising = (day @ (log - log.mean())) / odds.size
    order = np.argsort(raising @ day, kind="stable")
    groups = odds[order].reshape(DAYS, -1).mean(axis=1)
    return float(np.mean(-np.expm1(riders * np.log1p(-np.minimum(groups, 1.0 - LEAST)))))


def scatter_rad(lean: Floats, lean_deg: float, line: float) -> Floats:
    """Return how far [rad] a rider's lean lies from the planned lean [rad], as one standard deviation.

    lean_deg [deg] of the lean itself; line [-] of the line's curvature, which moves tan(lean) in proportion.
    """
    return np.hypot(math.radians(lean_deg), 0.5 * np.sin(2.0 * np.abs(lean)) * line)
