"""The model's odds of a fall over a ladder's laps: of one rider, and of a field on one day."""

from __future__ import annotations

import math

import numpy as np

from leanladder.engine.block_rows import WIDTH
from leanladder.engine.falls import Planned, fall_odds
from leanladder.engine.grip import Floats
from leanladder.engine.pool import each

NODES = 7  # of Gauss and Hermite, over a tyre's own grip level
DAYS = 32  # groups of members whose day makes falls about as likely
LEAST = 1e-15
FIELD = 30


def levels(spread: float) -> tuple[Floats, Floats]:
    """Return grip levels [-] about 1 and their weights, (NODES,) each, for a spread [-]."""
    places, weights = np.polynomial.hermite_e.hermegauss(NODES)
    return 1.0 + spread * places, weights / weights.sum()


def of_lap(planned: Planned, spread: float) -> tuple[Floats, Floats]:
    """Return a tyre's odds of a fall at a lap's corners, (corners,), and the lap's kept up, (NODES, members).

    spread [-] of the tyre's own level; kept up is the logarithm of the odds of no fall at any corner.
    """
    corners, members = planned.friction.shape
    blocks = max(members // WIDTH, 1)
    odds, kept = np.empty((blocks, corners)), np.empty((NODES, members))
    nodes = levels(spread)

    def run(block: int) -> None:
        span = slice(block * WIDTH, (block + 1) * WIDTH if block + 1 < blocks else members)
        some = planned._replace(
            friction=planned.friction[:, span], demand=planned.demand[:, span], lean=planned.lean[:, span]
        )
        odds[block], kept[:, span] = fall_odds(some, *nodes)

    each(run, blocks)
    return np.minimum(odds.sum(axis=0) / members, 1.0), kept


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
