"""From a line found in degrees to the domain's outline."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from leanladder.domain.circuit import Outline
from leanladder.domain.errors import Fault, InputError
from leanladder.importers.lines import FoundLine, complete, longest, one_line

FEWEST = 3


def outline_of(path: Path, found: Sequence[FoundLine], name: str) -> Outline:
    """Return the longest of the lines as an outline; raises InputError if it has too few points."""
    line, remarks = longest(found)
    check_points(path, line.points)
    heights = np.array(line.heights, dtype=np.float64) if complete(line.heights) else None
    return Outline(
        name=line.name or name or one_line(path.stem),
        frame="degrees",
        points=np.array(line.points, dtype=np.float64),
        elevation_m=heights,
        source=str(path),
        remarks=remarks,
    )


def check_points(path: Path, points: Sequence[tuple[float, float]]) -> None:
    """Raise InputError unless there are three different points."""
    different = len(set(points))
    if different >= FEWEST:
        return
    remedy = "A circuit needs a point every 20 m or so, more where it bends."
    if different == 1 and len(points) > 1:
        message, value = "all points are the same.", f"{len(points)} equal points"
    else:
        message, value = "there are too few points.", f"{different} different points"
    fault = Fault(str(path), field="points", value=value, allowed="3 or more different points", remedy=remedy)
    raise InputError(message, fault)
