"""Inflation gas: gauge pressures at constant volume, dry gas.

p_abs2 = p_abs1 T2 / T1; gauge = absolute - local atmosphere. Moisture and the tyre's growth of
1 to 3 % are left out: the first adds, the second takes a little away.
"""

from __future__ import annotations

from leanladder.engine.constants import KELVIN, SEA_LEVEL_BAR


def atmosphere_bar(altitude_m: float) -> float:
    """Return the standard atmosphere's pressure [bar] at altitude_m [m], -400..9000 (ISO 2533)."""
    return float(SEA_LEVEL_BAR * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def gauge_bar(set_bar: float, set_c: float, now_c: float, atmosphere: float) -> float:
    """Return the gauge pressure [bar] at now_c [degC] of a tyre set to set_bar at set_c."""
    return (set_bar + atmosphere) * (now_c + KELVIN) / (set_c + KELVIN) - atmosphere


def gas_c(set_bar: float, set_c: float, now_bar: float, atmosphere: float) -> float:
    """Return the gas's mean temperature [degC] that a hot gauge reading tells."""
    return (set_c + KELVIN) * (now_bar + atmosphere) / (set_bar + atmosphere) - KELVIN
