"""Falls are rare: worlds drawn on the slippery side, each weighted by how likely it is.

A mixture of tilts, each world weighted against all of the mixture (importance sampling by the balance
heuristic: Veach and Guibas 1995, from memory), so that no weight exceeds one over the upright part's share.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from tests.worlds.drawing import Days, Tilt, Tilts, fresh
from tests.worlds.laid import Laid
from tests.worlds.outing import ridden

from leanladder.planning.odds.draws import Draws

Floats = NDArray[np.float64]


# About the square roots of each one's share of what varies at the demo's rungs; others would do as well.
WORSE: Tilts = {"cold_grip": Tilt(-0.45), "grip_shift": Tilt(0.4)}
LEVEL, ROAD = -0.35, -0.3


class Rare(NamedTuple):
    """Demand over friction (laps, corners, worlds) [-], and each world's weight (worlds,) [-]."""

    used: Floats
    weights: Floats


def slippery(*strengths: float, day: bool = True) -> tuple[Tilts, ...]:
    """Return the mixture: upright, and each tyre in turn with little grip, a part for each strength.

    strengths: how many standard draws along the way on which grip falls fastest. day: whether the road is
    slippery too, not only a rider's own tyres.
    """
    ways = ({**WORSE, end: Tilt(LEVEL)} for end in ("front_level", "rear_level"))
    road = {"surface": Tilt(ROAD)} if day else {}
    parts = [{**way, **road} for way in ways]
    return ({}, *(_times(part, strength) for strength in strengths for part in parts))


def _times(tilts: Tilts, strength: float) -> Tilts:
    return {code: Tilt(strength * tilt.shift) for code, tilt in tilts.items()}


def rare(laid: Laid, worlds: int, seed: int, mixture: tuple[Tilts, ...], days: Days | None = None) -> Rare:
    """Return the outing of worlds, as many from each part of the mixture.

    With days each part has riders on all of them; its tilts must then be of a rider's own inputs.
    """
    corners = laid.place.bends.shape[0]
    parts = [fresh(corners, worlds, seed + number, tilts, days) for number, tilts in enumerate(mixture)]
    used = [ridden(laid, draws) for draws in parts]
    return Rare(np.concatenate(used, axis=2), np.concatenate([_weights(each, mixture) for each in parts]))


def _weights(draws: Draws, mixture: tuple[Tilts, ...]) -> Floats:
    """How much likelier each world is than the mixture makes it."""
    made = np.zeros(draws.members)
    for tilts in mixture:
        log = np.zeros(draws.members)
        for code, tilt in tilts.items():
            log += tilt.shift * draws.common[code] - 0.5 * tilt.shift**2
        made += np.exp(log) / len(mixture)
    return np.asarray(1.0 / made)
