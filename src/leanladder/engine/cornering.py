"""Lean, load and what a corner asks of the two contact patches.

Sources: Cossalter, Motorcycle Dynamics, 2nd ed. 2006, ch. 4 (from memory), derived again in
docs/physics/cornering.md. Angles in radians here, left and right alike (no signs).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import inlined
from leanladder.engine.constants import GRAVITY_MPS2

Floats = NDArray[np.float64]

ROUNDING = 1e-9


def leans_of_speeds(speed_mps: Floats, curvature_per_m: Floats) -> Floats:
    """Return the lean [rad] that balances each speed [m/s] on its curvature [1/m]: tan = v^2 k/g.

    Signed as the curvature is.
    """
    return np.asarray(np.arctan(speed_mps**2 * curvature_per_m / GRAVITY_MPS2))


def lean_of_speed(speed_mps: float, radius_m: float) -> float:
    """Return leans_of_speeds [rad] for one speed [m/s] on radius_m [m]: tan = v^2/(g R)."""
    return float(leans_of_speeds(np.asarray(speed_mps), np.asarray(1.0 / radius_m)))


@inlined
def bike_lean_of_lean(lean: float, crown_radius_m: float, cg_height_m: float) -> float:
    """Return the machine's lean [rad] with the rider upright; more than lean by the crown.

    crown_radius_m < cg_height_m [m], upright. phi = phi_i + asin(t sin(phi_i) / (h - t)).
    """
    return lean + math.asin(crown_radius_m * math.sin(lean) / (cg_height_m - crown_radius_m))


@inlined
def lean_of_bike_lean(bike_lean: float, crown_radius_m: float, cg_height_m: float) -> float:
    """Return the lean [rad] that grip carries at a machine's lean; inverse of bike_lean_of_lean."""
    arm = cg_height_m - crown_radius_m
    return math.atan2(arm * math.sin(bike_lean), crown_radius_m + arm * math.cos(bike_lean))


@inlined
def banked_demand(lean: float, bank: float) -> float:
    """Return the friction [-] asked for sideways at a lean on a bank [rad, positive into the turn]."""
    return math.tan(lean - bank)


@inlined
def ellipse_left(side_share: float) -> float:
    """Return the share [0..1] of friction left along the line when side_share is used across it.

    Friction ellipse (Pacejka, Tire and Vehicle Dynamics, 3rd ed. 2012, from memory).
    """
    left = 1.0 - side_share * side_share
    # a corner at its cap uses all of it: the root would turn rounding, 1e-16, into 1e-8 of the friction
    return math.sqrt(left) if left > ROUNDING else 0.0


@inlined
def hang_off_lean(rider_share: float, shift_m: float, cg_height_m: float) -> float:
    """Return by how much [rad] moving the rider inwards by shift_m lowers the machine's lean."""
    return math.atan(rider_share * shift_m / cg_height_m)


def bike_leans(lean: Floats, crown_radius_m: float, cg_height_m: float) -> Floats:
    """Return bike_lean_of_lean [rad] for an array of leans [rad] of either sign."""
    return np.asarray(lean + np.arcsin(crown_radius_m * np.sin(lean) / (cg_height_m - crown_radius_m)))


def leans_of_bike_leans(bike_lean: Floats, crown_radius_m: float, cg_height_m: float) -> Floats:
    """Return lean_of_bike_lean [rad] for an array of bike leans [rad] of either sign."""
    arm = cg_height_m - crown_radius_m
    return np.asarray(np.arctan2(arm * np.sin(bike_lean), crown_radius_m + arm * np.cos(bike_lean)))
