"""How far riding opens the ribs of a new tyre: abrasion near the edge of what is scrubbed.

A law of our own, judgement: no published one is known to us. Common practice gives its size, a few degrees
a lap, and its shape: only ribs that the patch rubs open, and a side seldom leaned on opens slowly.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import compiled

Floats = NDArray[np.float64]


@compiled
def scrubbed_on(
    scrubbed_deg: float,
    leaned_deg: Floats,
    step_m: float,
    open_deg_per_m: float,
    rubbed_deg: float,
    most_deg: float,
) -> float:
    """Return how far [deg] one side of a tyre is scrubbed after a lap that began at scrubbed_deg [deg].

    leaned_deg (steps,) [deg]: lean on that side of the crown, step by step of step_m [m], below zero on the
    other. Each step opens at most open_deg_per_m [deg/m] of it, and never beyond rubbed_deg [deg] past its
    lean; a lap at most most_deg [deg]. Never less than before; more for more scrubbed at the start, whatever
    is ridden.
    """
    opened = scrubbed_deg
    for step in range(leaned_deg.size):
        reach = leaned_deg[step] + rubbed_deg
        if leaned_deg[step] > 0.0 and reach > opened:
            opened = min(opened + open_deg_per_m * step_m, reach)
    return min(opened, scrubbed_deg + most_deg)
