"""How much of the friction that may be used a ride asks for, step by step.

Demand is the force along and across over the load (friction circle; Pacejka, Tire and Vehicle Dynamics,
3rd ed. 2012, from memory); the friction at hand is that of the ribs which bear the load at that moment.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.caps import Crown, patch_grip, rib_grips
from leanladder.engine.compiled import compiled
from leanladder.engine.ride import WheelForces

Floats = NDArray[np.float64]


def demand(forces: WheelForces) -> Floats:
    """Return the friction [-] that a wheel's forces ask for at each step, (steps,)."""
    return np.asarray(np.hypot(forces.along_n, forces.side_n) / forces.load_n)


@compiled
def grips_at_hand(
    states: Floats, contact_m: Floats, surfaces: NDArray[np.int64], crown: Crown
) -> NDArray[np.float64]:
    """Return the friction [-] of the patch at each step, (steps,).

    states (steps, n) [degC]; contact_m (steps,) [m] of the load from the centre; surfaces (steps,), rows of
    the crown's grip tables.
    """
    steps = contact_m.size
    found, grips, load = np.empty(steps), np.empty(crown.ribs), np.empty(crown.ribs)
    for step in range(steps):
        rib_grips(crown, surfaces[step], states[step], grips)
        found[step] = patch_grip(crown, grips, contact_m[step], load)
    return found
