"""The speed geometry looks at a line with: a fixed one, so that corner numbers never change.

It is no one's speed. It depends on the line alone, never on tyre, weather or machine.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

GRAVITY_MPS2 = 9.80665
LATERAL_G = 0.9
ALONG_G = 0.5
TOP_MPS = 60.0


def reference_speed(curvature_per_m: Floats, step_m: float) -> Floats:
    """Return the quasi-steady speed (n,) [m/s] round a closed line of curvature (n,) [1/m], step step_m [m].

    At most 60 m/s, 0.9 g sideways and 0.5 g along, both brake and drive, joined by an ellipse:
    (along / 0.5 g)^2 + (sideways / 0.9 g)^2 <= 1. Source: our own convention, see docs/decisions.
    """
    bent = np.abs(curvature_per_m)
    sideways = LATERAL_G * GRAVITY_MPS2
    speed = np.minimum(TOP_MPS, np.sqrt(sideways / np.maximum(bent, sideways / TOP_MPS**2 / 2.0)))
    driven = _limited(speed, bent, step_m)
    braked = _limited(speed[::-1], bent[::-1], step_m)[::-1]
    return np.minimum(driven, braked)


def lean_deg(speed_mps: float, radius_m: float) -> float:
    """Return the lean atan(v^2 / (g R)) [deg] that an arc of radius_m [m] needs at speed_mps [m/s]."""
    return math.degrees(math.atan(speed_mps**2 / (GRAVITY_MPS2 * radius_m)))


def _limited(speed: Floats, bent: Floats, step_m: float) -> Floats:
    """Return the speed (n,) [m/s] reached from the slowest node on, driving within the ellipse."""
    start = int(np.argmin(speed))
    most = np.roll(speed, -start).tolist()
    turns = np.roll(bent / (LATERAL_G * GRAVITY_MPS2), -start).tolist()
    along = 2.0 * ALONG_G * GRAVITY_MPS2 * step_m
    reached = [most[0]]
    for node in range(1, len(most)):
        square = reached[-1] ** 2
        spare = max(1.0 - (square * turns[node - 1]) ** 2, 0.0) ** 0.5
        reached.append(min(most[node], (square + along * spare) ** 0.5))
    return np.roll(np.array(reached), start)
