"""Choosing among several lines of one file."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

EARTH_M_PER_DEG = 111_195.0  # mean radius 6371 km (IUGG); only to compare lengths
JOINT_M = 50.0


@dataclass(slots=True)
class FoundLine:
    """A line as found: points as latitude, longitude [deg], heights [m] or None each, a name."""

    kind: str
    name: str = ""
    points: list[tuple[float, float]] = field(default_factory=list)
    heights: list[float | None] = field(default_factory=list)


def length_m(points: Sequence[tuple[float, float]]) -> float:
    """Return the length [m] of a line of latitude, longitude [deg], on a sphere."""
    total = 0.0
    for before, after in itertools.pairwise(points):
        total += apart_m(before, after)
    return total


def apart_m(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Return how far apart [m] two near places are, latitude and longitude [deg]."""
    east = math.remainder(other[1] - one[1], 360.0) * math.cos(math.radians((one[0] + other[0]) / 2.0))
    return math.hypot(other[0] - one[0], east) * EARTH_M_PER_DEG


def longest(found: Sequence[FoundLine]) -> tuple[FoundLine, tuple[str, ...]]:
    """Return the longest of the lines found, and a remark if there was a choice."""
    best = max(found, key=lambda line: length_m(line.points))
    if len(found) == 1:
        return best, ()
    called = f" ({best.name})" if best.name else ""
    remark = f"The file holds {len(found)} lines; the longest is used: {best.kind}{called}."
    return best, (remark,)


def joined(parts: Sequence[FoundLine]) -> list[FoundLine]:
    """Return lines in order, each that begins where the one before ended joined to it."""
    done: list[FoundLine] = []
    for part in parts:
        if done and part.points and apart_m(done[-1].points[-1], part.points[0]) < JOINT_M:
            done[-1].points += part.points
            done[-1].heights += part.heights
        elif part.points:
            done.append(FoundLine(part.kind, part.name, list(part.points), list(part.heights)))
    return done


def one_line(name: str) -> str:
    """Return a name as it may stand in a line of text: no breaks, no control characters, 80 at most."""
    plain = "".join(mark if mark.isprintable() else " " for mark in name)
    return " ".join(plain.split())[:80]


def complete(heights: Sequence[float | None]) -> bool:
    """Return whether every point has its height."""
    return bool(heights) and all(height is not None for height in heights)
