"""Heights of a survey, smoothed like its line."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from leanladder.geometry.smoothing import smooth

Floats = NDArray[np.float64]


def smoothed_heights(along_m: Floats, heights_m: Floats, length_m: float, n: int) -> Floats:
    """Return heights [m] at i * length_m / n (n,) from heights (m,) [m] at along_m (m,) [m] round a lap.

    The same smoothing as the line's, by likelihood; n a multiple of 4.
    """
    twice = np.column_stack([heights_m, heights_m])
    return smooth(twice, along_m, length_m, n).points[:, 0]
