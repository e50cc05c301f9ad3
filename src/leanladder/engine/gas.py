"""Inflation gas: gauge pressures at constant volume, dry gas.

p_abs2 = p_abs1 T2 / T1; gauge = absolute - local atmosphere. Moisture and the tyre's growth of
1 to 3 % are left out: the first adds, the second takes a little away.
"""

from __future__ import annotations

from leanladder.engine.constants import KELVIN, SEA_LEVEL_BAR

AIR_GAS_J_KGK = 287.05  # dry air's gas constant, ISO 2533
AIR_CV_J_KGK = 718.0  # its heat capacity at constant volume near 300 K, from memory
FILLED_PA = 3.0e5  # absolute: what a tyre's gas is near to
FILLED_K = 300.0


def atmosphere_bar(altitude_m: float) -> float:
    """Return the standard atmosphere's pressure [bar] at altitude_m [m], -400..9000 (ISO 2533)."""
    return float(SEA_LEVEL_BAR * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def gauge_bar(set_bar: float, set_c: float, now_c: float, atmosphere: float) -> float:
    """Return the gauge pressure [bar] at now_c [degC] of a tyre set to set_bar at set_c."""
    return (set_bar + atmosphere) * (now_c + KELVIN) / (set_c + KELVIN) - atmosphere


def gas_c(set_bar: float, set_c: float, now_bar: float, atmosphere: float) -> float:
    """Return the gas's mean temperature [degC] that a hot gauge reading tells."""
    return (set_c + KELVIN) * (now_bar + atmosphere) / (set_bar + atmosphere) - KELVIN


def heat_j_k(cavity_m3: float) -> float:
    """Return the heat capacity [J/K] at constant volume of a cavity's dry air, near 3 bar and 300 K.

    cavity_m3 [m3]; the ideal gas law: p V cv / (R T).
    """
    return FILLED_PA * cavity_m3 * AIR_CV_J_KGK / (AIR_GAS_J_KGK * FILLED_K)
