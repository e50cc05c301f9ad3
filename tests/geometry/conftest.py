"""Lines of known shape: a half lap of straights and arcs, ridden twice, always closes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Half = Sequence[tuple[float, float, float]]  # straight [m], turn [deg, left positive], radius [m]


def twice(half: Half, step_m: float = 5.0) -> Floats:
    """Return points (n, 2) [m], about step_m apart, of a half lap that turns 180 degrees, ridden twice."""
    assert abs(abs(sum(turn for _, turn, _ in half)) - 180.0) < 1e-6
    step, heading, x, y = 0.2, 0.0, [0.0], [0.0]
    for straight, turn, radius in (*half, *half):
        arc = abs(np.radians(turn)) * radius
        pieces = ((straight, 0.0), (arc, np.radians(turn)))
        for length, gained in pieces:
            count = max(round(length / step), 1) if length else 0
            for row in range(count):
                middle = heading + gained * (row + 0.5) / count
                x.append(x[-1] + length / count * np.cos(middle))
                y.append(y[-1] + length / count * np.sin(middle))
            heading += gained
    fine = np.column_stack([x, y])
    assert np.hypot(*(fine[-1] - fine[0])) < 0.01
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(fine, axis=0).T))])
    at = np.arange(round(along[-1] / step_m)) * along[-1] / round(along[-1] / step_m)
    return np.column_stack([np.interp(at, along, fine[:, 0]), np.interp(at, along, fine[:, 1])])


@pytest.fixture(scope="session")
def lap_of() -> Callable[..., Floats]:
    return twice
