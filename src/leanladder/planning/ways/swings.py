"""Upright drive and braking on the straights: up to a speed, down to another, done in time for the corner."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.pace import SLOWEST_MPS, Machine
from leanladder.planning.course import Course


class Swing(NamedTuple):
    """low_mps to high_mps [m/s], where the speed goes; drive, brake, gentle drive [m/s2]; done_m [m]."""

    low_mps: float
    high_mps: float
    drive_mps2: float
    brake_mps2: float
    gentle_mps2: float
    done_m: float


def swung(way: Course, within: Floats, swing: Swing, machine: Machine) -> Floats:
    """Return the speed [m/s] at each point of a lap within the speeds given (points,) [m/s].

    Drive comes first on each straight. Within done_m of where the corner asks for braking the speed is held.
    In corners the speed grows to high_mps at most.
    """
    ahead = math.ceil(swing.done_m / way.step_m) + 1  # braking begins within a step
    padded = np.concatenate([within, np.full(ahead, within[-1])])
    soon = sliding_window_view(padded, ahead + 1).min(axis=1)
    speeds = np.empty(within.size)
    speeds[0] = within[0]
    driving = True
    for point in range(within.size - 1):
        now = float(speeds[point])
        straight = way.corner_of[point] < 0
        if not straight:
            reached = _reached(now, swing.gentle_mps2, way, point, machine)
            driving, then = True, min(reached, max(now, swing.high_mps))
        elif soon[point] <= now:
            driving, then = True, now
        else:
            driving = now < swing.high_mps if driving else now <= swing.low_mps
            then = min(_swinging(now, driving, swing, way, point, machine), float(soon[point]))
        speeds[point + 1] = min(float(within[point + 1]), then)
    return speeds


def _swinging(now: float, driving: bool, swing: Swing, way: Course, point: int, machine: Machine) -> float:
    """The speed [m/s] a step further on in a swing, which turns at its ends exactly."""
    along = swing.drive_mps2 if driving else -swing.brake_mps2
    reached = _reached(now, along, way, point, machine)
    return min(reached, swing.high_mps) if driving else max(reached, min(now, swing.low_mps))


def _reached(now: float, along_mps2: float, way: Course, point: int, machine: Machine) -> float:
    """The speed [m/s] a step further on, with no more drive than the power gives."""
    if along_mps2 > 0.0:
        drag = machine.drag_kg_m * now * now / machine.mass_kg + GRAVITY_MPS2 * float(way.slope[point])
        pushed = machine.power_w / (now * machine.mass_kg) - drag
        along_mps2 = min(along_mps2, pushed, machine.drive_lift_mps2)
    return math.sqrt(max(now * now + 2.0 * way.step_m * along_mps2, SLOWEST_MPS**2))
