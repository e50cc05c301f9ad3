"""The circuit as a lap's arrays: points from the start on, corners as ranges of points."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leanladder.domain.circuit import Circuit, Corner
from leanladder.engine.grip import Floats

LOOK_AHEAD_M = 800.0  # enough to brake from top speed for the next lap's first corner
Counts = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Course:
    """A lap's points, the last of them beyond the line so that the next corner is seen.

    points (p,) grid numbers modulo the circuit's; lap_steps, how many steps make the lap from
    first; corner_of (p,), corner index or -1; carried (p,), true where the corner began on the lap before;
    ranges (corners, 2), first and last+1 point; arrivals (corners,), the point 50 m before turn-in.
    """

    step_m: float
    points: Counts
    lap_steps: int
    corner_of: Counts
    carried: NDArray[np.bool_]
    ranges: Counts
    arrivals: Counts
    ridden: tuple[int, ...]
    curvature_per_m: Floats
    slope: Floats
    bank: Floats
    shaded: NDArray[np.bool_]
    start_m: float


def course(circuit: Circuit, from_m: float, arrival_m: float) -> Course:
    """Return the lap from from_m [m] to the start line; corners already passed are not ridden."""
    count = circuit.s_m.size
    step_m = circuit.length_m / count
    first = round(from_m / step_m) % count
    ahead = min(count, math.ceil(LOOK_AHEAD_M / step_m))
    numbers = np.arange(first, count + ahead)
    ranges, arrivals = _corner_points(circuit.corners, step_m, count, arrival_m)
    corner_of, carried = _corner_of(numbers, ranges, count)
    points = numbers % count
    bank = np.radians(circuit.bank_deg) * np.sign(circuit.curvature_per_m)
    return Course(
        step_m=step_m,
        points=points,
        lap_steps=count - first,
        corner_of=corner_of,
        carried=carried,
        ranges=np.clip(ranges - first, 0, numbers.size),
        arrivals=np.clip(arrivals - first, 0, count - first),
        ridden=tuple(
            index
            for index, span in enumerate(ranges)
            if span[1] > first and _apex(circuit, index, step_m, count) >= first
        ),
        curvature_per_m=circuit.curvature_per_m[points],
        slope=_slope(circuit, step_m)[points],
        bank=bank[points],
        shaded=circuit.shaded[points],
        start_m=first * step_m,
    )


def _apex(circuit: Circuit, index: int, step_m: float, count: int) -> int:
    corner = circuit.corners[index]
    apex = round(corner.apex_m / step_m)
    return apex if corner.apex_m >= corner.start_m else apex + count


def _corner_points(
    corners: tuple[Corner, ...], step_m: float, count: int, arrival_m: float
) -> tuple[Counts, Counts]:
    ranges = np.empty((len(corners), 2), dtype=np.int64)
    arrivals = np.empty(len(corners), dtype=np.int64)
    for index, corner in enumerate(corners):
        start = math.ceil(corner.start_m / step_m)
        end = math.floor(corner.end_m / step_m) + (count if corner.end_m < corner.start_m else 0)
        ranges[index] = start, max(end, start) + 1
        arrivals[index] = max(0, math.floor((corner.start_m - arrival_m) / step_m))
    return ranges, arrivals


def _corner_of(numbers: Counts, ranges: Counts, count: int) -> tuple[Counts, NDArray[np.bool_]]:
    corner_of = np.full(numbers.size, -1, dtype=np.int64)
    carried = np.zeros(numbers.size, dtype=bool)
    for index, (start, stop) in enumerate(ranges):
        for shift in (-count, 0, count):
            inside = (numbers >= start + shift) & (numbers < stop + shift)
            corner_of[inside] = index
            carried |= inside & (shift < 0)
    return corner_of, carried


def _slope(circuit: Circuit, step_m: float) -> Floats:
    rise = np.roll(circuit.elevation_m, -1) - np.roll(circuit.elevation_m, 1)
    return np.asarray(rise / (2.0 * step_m))
