"""What a planned lap does to the tyres: loads, forces, slip and heat, step by step.

Loads and drag: docs/physics/cornering.md; slip heat P = |Fx v kappa| + |Fy v alpha| + spin;
rolling loss after Cooper's speed formula (Cossalter 2006, from memory); road contact as two
half-spaces (Carslaw and Jaeger 1959, from memory) times a contact factor.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.constants import GRAVITY_MPS2

Floats = NDArray[np.float64]


class Motion(NamedTuple):
    """The lap, a value a step.

    speed_mps [m/s], along_mps2 [m/s2], dt_s [s], lean and bike_lean [rad, positive left], slope
    [-], bank [rad, positive tilting into a left turn].
    """

    speed_mps: Floats
    along_mps2: Floats
    dt_s: Floats
    lean: Floats
    bike_lean: Floats
    slope: Floats
    bank: Floats


class Chassis(NamedTuple):
    """mass_kg, wheelbase_m, cg_height_m, front_share [-], drag_kg_m [kg/m], drag_height_m [m]."""

    mass_kg: float
    wheelbase_m: float
    cg_height_m: float
    front_share: float
    drag_kg_m: float
    drag_height_m: float


class WheelForces(NamedTuple):
    """load_n [N], along_n [N, positive driving] and side_n [N, size] of one wheel, a value a step."""

    load_n: Floats
    along_n: Floats
    side_n: Floats


def wheel_forces(motion: Motion, chassis: Chassis, rolling: float) -> tuple[WheelForces, WheelForces]:
    """Return the forces of front and rear wheel; driving by the rear, braking by load.

    rolling [-] is a mean coefficient for the driving force alone. Loads are kept above 2 % of
    the weight: pace keeps wheels on the ground, this keeps rounding from lifting one.
    """
    weight = chassis.mass_kg * GRAVITY_MPS2
    drag = chassis.drag_kg_m * motion.speed_mps**2
    pulled = chassis.mass_kg * motion.along_mps2 + weight * motion.slope
    moved = (
        pulled * chassis.cg_height_m * np.cos(motion.bike_lean) + drag * chassis.drag_height_m
    ) / chassis.wheelbase_m
    front_n = np.clip(weight * chassis.front_share - moved, 0.02 * weight, 0.98 * weight)
    rear_n = weight - front_n
    along = pulled + drag + rolling * weight
    braking = np.minimum(along, 0.0)
    across = np.abs(np.tan(motion.lean - motion.bank))
    front = WheelForces(front_n, braking * front_n / weight, front_n * across)
    rear = WheelForces(rear_n, np.maximum(along, 0.0) + braking * rear_n / weight, rear_n * across)
    return front, rear


def rolling_coefficient(speed_mps: Floats, gauge_bar: float) -> Floats:
    """Return Cooper's coefficient [-] of a motorcycle tyre, warm, at speed [m/s] and gauge_bar [bar].

    Crr = 0.0085 + 0.018/p + 1.59e-6 V^2/p, V in km/h up to 165 (held there above).
    """
    speed_kmh = np.minimum(speed_mps * 3.6, 165.0)
    return np.asarray(0.0085 + 0.018 / gauge_bar + 1.59e-6 * speed_kmh**2 / gauge_bar)


class Grips(NamedTuple):
    """How the patch makes its forces.

    slip, side and camber stiffness [1/rad]; crown_radius_m, rolling_radius_m [m]; spin_share
    [-], the sliding part of camber spin.
    """

    slip_stiffness: float
    side_stiffness: float
    camber_stiffness: float
    crown_radius_m: float
    rolling_radius_m: float
    spin_share: float


def slip_power_w(forces: WheelForces, motion: Motion, grips: Grips, patch_half_m: float) -> Floats:
    """Return the power [W] lost in slip: along, across and by camber spin."""
    slid, spun = slip_parts_w(forces, motion, grips, patch_half_m)
    return np.asarray(slid + spun)


def slip_parts_w(
    forces: WheelForces, motion: Motion, grips: Grips, patch_half_m: float
) -> tuple[Floats, Floats]:
    """Return the power [W] lost in slip along and across, and that lost by camber spin."""
    speed = motion.speed_mps
    along = np.abs(forces.along_n) ** 2 / (grips.slip_stiffness * forces.load_n) * speed
    camber = np.abs(motion.bike_lean - motion.bank)
    angle = (forces.side_n / forces.load_n - grips.camber_stiffness * camber) / grips.side_stiffness
    across = forces.side_n * np.abs(angle) * speed
    bend = np.tan(np.abs(motion.lean)) * GRAVITY_MPS2 / np.maximum(speed, 1.0) ** 2
    spin = np.abs(np.sin(camber) / grips.rolling_radius_m - bend)
    turning = grips.spin_share * forces.load_n * spin * speed * 0.5 * patch_half_m
    return np.asarray(along + across), np.asarray(turning)


def road_conductance_w_k(
    load_n: Floats,
    speed_mps: Floats,
    gauge_bar: float,
    patch_half_m: float,
    effusivity: float,
    contact_factor: float,
) -> Floats:
    """Return the conductance [W/K] of the patch to the road.

    Area = load / pressure; length = area / width; mean over the contact time t = length / speed of
    two half-spaces, 2 e / sqrt(pi t), e [W s^0.5/m2K] = e_t e_r / (e_t + e_r); times contact_factor [-].
    """
    area = load_n / (gauge_bar * 1e5)
    length = area / (2.0 * patch_half_m)
    coefficient = 2.0 * effusivity / np.sqrt(np.pi * length / np.maximum(speed_mps, 0.5))
    return np.asarray(contact_factor * coefficient * area)


def effusivity(conductivity: float, density: float, heat_capacity: float) -> float:
    """Return sqrt(k rho c) [W s^0.5/m2K]."""
    return float(np.sqrt(conductivity * density * heat_capacity))
