"""Air around a wheel: convection rolling and standing.

Sources: rolling fit Nu = 0.0239 Re^0.805 credited to Browne and Wickliffe, Tire Sci. Technol.
8:37 1980 (from memory); standing, horizontal cylinder of Churchill and Chu 1975.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.constants import GRAVITY_MPS2, KELVIN

Floats = NDArray[np.float64]

AIR_CONDUCTIVITY = 0.0262  # W/mK at 300 K
AIR_VISCOSITY = 1.6e-5  # m2/s at 300 K
AIR_PRANDTL = 0.71
AIR_DENSITY = 1.18  # kg/m3 at 300 K, sea level


def rolling_convection(speed_mps: Floats, diameter_m: float, width_m: float) -> Floats:
    """Return the coefficient [W/m2K] of a wheel in free air at speed_mps [m/s], 5..60."""
    length = 1.0 / (1.0 / diameter_m + 1.0 / width_m)
    reynolds = np.asarray(speed_mps) * length / AIR_VISCOSITY
    return np.asarray(0.0239 * reynolds**0.805 * AIR_CONDUCTIVITY / length)


def standing_convection(surface_c: float, air_c: float, diameter_m: float) -> float:
    """Return the natural coefficient [W/m2K] of a standing wheel taken as a horizontal cylinder."""
    film = 0.5 * (surface_c + air_c) + KELVIN
    drop = max(abs(surface_c - air_c), 0.1)
    rayleigh = GRAVITY_MPS2 * drop * diameter_m**3 * AIR_PRANDTL / (film * AIR_VISCOSITY**2)
    root = 0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / AIR_PRANDTL) ** (9 / 16)) ** (8 / 27)
    return float(root**2 * AIR_CONDUCTIVITY / diameter_m)


def joined(forced: Floats, natural: float) -> Floats:
    """Return the coefficient of mixed convection [W/m2K], cubes added (Churchill 1977)."""
    return np.asarray((np.asarray(forced) ** 3 + natural**3) ** (1 / 3))
