"""Quasi-steady speed along the line: within the caps, the grip, the power and the rider.

A forward pass (drive), a backward pass (braking) and the least of both with the corner speeds; the
textbook point-mass lap (friction ellipse, wheel lift, drag, power).
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import compiled
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.cornering import ellipse_left

Floats = NDArray[np.float64]
Codes = NDArray[np.int64]

AT_LINE, AT_CAP, AT_POWER, AT_BRAKING = 0, 1, 2, 3
SLOWEST_MPS = 2.0  # a rolling start: below it a step of a few metres would last for ever


class Machine(NamedTuple):
    """The machine as the lap needs it, SI.

    mass_kg; power_w [W] at the wheel; drag_kg_m [kg/m] = 0.5 rho CdA; drive_share [-] of the load
    on the driven wheel; drive_lift_mps2, brake_lift_mps2 [m/s2] at which a wheel lifts; top_mps [m/s].
    """

    mass_kg: float
    power_w: float
    drag_kg_m: float
    drive_share: float
    drive_lift_mps2: float
    brake_lift_mps2: float
    top_mps: float


class Going(NamedTuple):
    """What bounds the lap at each grid point, (points,).

    curvature_per_m [1/m]; slope [-], positive uphill; lean_limit [rad]; grip [-] that may be used;
    drive_mps2, brake_mps2 [m/s2], the most the rider asks for; step_m [m].
    """

    curvature_per_m: Floats
    slope: Floats
    lean_limit: Floats
    grip: Floats
    drive_mps2: Floats
    brake_mps2: Floats
    step_m: float


@compiled
def corner_speeds(going: Going, machine: Machine, straight_mps: float) -> Floats:
    """Return the speed [m/s] at each point that its lean limit and the straights' limit allow."""
    points = going.curvature_per_m.size
    speeds = np.empty(points)
    most = min(machine.top_mps, straight_mps)
    for point in range(points):
        bend = abs(going.curvature_per_m[point])
        hold = math.tan(going.lean_limit[point]) * GRAVITY_MPS2
        speeds[point] = most if hold >= most * most * bend else math.sqrt(hold / bend)
        speeds[point] = max(speeds[point], SLOWEST_MPS)
    return speeds


@compiled
def lap_speeds(going: Going, machine: Machine, straight_mps: float, entry_mps: float) -> tuple[Floats, Codes]:
    """Return the speed [m/s] at each point and a code of what holds it (AT_LINE .. AT_BRAKING).

    The points run on past the lap's end far enough to brake for the next lap's first corner.
    entry_mps [m/s] is the speed at the first point (a standing start: the slowest).
    """
    speeds = corner_speeds(going, machine, straight_mps)
    points = speeds.size
    codes = np.empty(points, dtype=np.int64)
    most = min(machine.top_mps, straight_mps)
    for point in range(points):
        codes[point] = AT_LINE if speeds[point] >= most else AT_CAP
    step = going.step_m
    for point in range(points - 2, -1, -1):
        ahead = speeds[point + 1]
        across = ahead * ahead * abs(going.curvature_per_m[point + 1]) / GRAVITY_MPS2
        left = ellipse_left(min(1.0, across / going.grip[point + 1]))
        most_brake = min(
            going.brake_mps2[point], machine.brake_lift_mps2, left * going.grip[point + 1] * GRAVITY_MPS2
        )
        slowing = (
            most_brake
            + GRAVITY_MPS2 * going.slope[point]
            + machine.drag_kg_m * ahead * ahead / machine.mass_kg
        )
        reach = math.sqrt(ahead * ahead + 2.0 * step * max(slowing, 0.05))
        if reach < speeds[point]:
            speeds[point] = reach
            codes[point] = AT_BRAKING
    if entry_mps < speeds[0]:
        speeds[0] = max(entry_mps, SLOWEST_MPS)
    for point in range(points - 1):
        now = speeds[point]
        across = now * now * abs(going.curvature_per_m[point]) / GRAVITY_MPS2
        left = ellipse_left(min(1.0, across / going.grip[point]))
        held = left * going.grip[point] * GRAVITY_MPS2 * machine.drive_share
        push = min(held, machine.power_w / (now * machine.mass_kg))
        drag = machine.drag_kg_m * now * now / machine.mass_kg + GRAVITY_MPS2 * going.slope[point]
        gain = min(push - drag, going.drive_mps2[point], machine.drive_lift_mps2)
        reach = math.sqrt(max(now * now + 2.0 * step * gain, SLOWEST_MPS * SLOWEST_MPS))
        if reach < speeds[point + 1]:
            speeds[point + 1] = reach
            codes[point + 1] = AT_POWER
    return speeds, codes
