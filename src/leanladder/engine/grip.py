"""Friction of rubber on a dry road against temperature.

Two mechanisms, each slowed or quickened by temperature through WLF (Williams, Landel and
Ferry 1955): keying, the hysteresis of rubber pressed over the road's texture, and adhesion, shear in
the real contact. Each is a peak in log10(a_T v) (Grosch 1963; the exponential-square form of
Savkoor, from memory), flat on its warm side because a road's texture spans decades.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import inlined

Floats = NDArray[np.float64]

WLF_C1 = 17.44  # universal constants, T0 = glass temperature
WLF_C2 = 51.6  # K
TABLE_FROM_C = -20.0
TABLE_STEP_K = 0.25
TABLE_LENGTH = 801  # to 180 degC


def wlf_shift(rubber_c: Floats | float, glass_c: float) -> Floats:
    """Return log10(a_T) [-] at rubber_c [degC] for a glass temperature [degC].

    Universal constants (IUPAC Gold Book, W06712); held at zero below the glass temperature,
    where the law is not valid.
    """
    above = np.maximum(np.asarray(rubber_c, dtype=np.float64) - glass_c, 0.0)
    return np.asarray(-WLF_C1 * above / (WLF_C2 + above))


def developed(
    rubber_c: Floats | float, glass_c: float, full_c: float, cold_share: float, width: float
) -> Floats:
    """Return how far [0..1] one mechanism is developed at rubber_c [degC].

    1 from full_c [degC] up; below, cold_share + (1 - cold_share) exp(-(width x)^2) with x the
    decades by which the sliding is too fast for the rubber; width [1/decade].
    """
    decades = np.maximum(wlf_shift(rubber_c, glass_c) - wlf_shift(full_c, glass_c), 0.0)
    return np.asarray(cold_share + (1.0 - cold_share) * np.exp(-((width * decades) ** 2)))


def faded(rubber_c: Floats | float, from_c: float, per_k: float, blend_k: float) -> Floats:
    """Return the share [0..1] left at the hot end: falls by per_k [1/K] above from_c [degC].

    The corner is rounded over blend_k [K], so that the curve has no kink.
    """
    over = np.asarray(rubber_c, dtype=np.float64) - from_c
    rounded = np.where(over < blend_k, np.maximum(over, 0.0) ** 2 / (2 * blend_k), over - blend_k / 2)
    return np.asarray(np.maximum(1.0 - per_k * rounded, 0.3))


def keying_weight(texture_mm: float, polish: float, half_mm: float, polish_power: float) -> float:
    """Return the weight [0..1] of keying against adhesion on a surface.

    texture_mm [mm, mean profile depth > 0] and polish [0..1]; half_mm [mm] is the depth at which
    a rough surface would share evenly; judgement, ordered as trade and theory have it: a deep rough
    surface grips by keying, smooth polished stone by adhesion.
    """
    depth = texture_mm / (texture_mm + half_mm)
    return float(depth * (1.0 - polish) ** polish_power)


def grip_curve(
    rubber_c: Floats,
    glass_c: float,
    keying: tuple[float, float],
    adhesion: tuple[float, float],
    weight: float,
    width: float,
) -> Floats:
    """Return friction relative to its plateau [0..1], before fade, at rubber_c [degC].

    keying and adhesion are (full_c, cold_share); weight is keying's.
    """
    return np.asarray(
        weight * developed(rubber_c, glass_c, keying[0], keying[1], width)
        + (1.0 - weight) * developed(rubber_c, glass_c, adhesion[0], adhesion[1], width)
    )


def table_axis() -> Floats:
    """Return the temperatures [degC] at which grip tables are stored."""
    return np.asarray(TABLE_FROM_C + TABLE_STEP_K * np.arange(TABLE_LENGTH), dtype=np.float64)


@inlined
def grip_at(table: Floats, rubber_c: float) -> float:
    """Return friction [-] from a grip table at rubber_c [degC]; held flat outside -20..180."""
    place = (rubber_c - TABLE_FROM_C) / TABLE_STEP_K
    if place <= 0.0:
        return float(table[0])
    if place >= table.size - 1.0:
        return float(table[table.size - 1])
    below = math.floor(place)
    part = place - below
    index = int(below)
    return float(table[index] * (1.0 - part) + table[index + 1] * part)


def texture_fill(rubber_c: Floats | float, modulus_cold: float, soft_c: float, width_k: float) -> Floats:
    """Return how far [0..1] rubber fills the road's texture, an index for explanation only.

    Real contact grows as the rubber softens (Persson 2001: area share ~ pressure / modulus); here
    a logistic of temperature from modulus_cold, the share when cold, centred at soft_c [degC] over
    width_k [K]. Judgement; never multiplied into grip.
    """
    rise = 1.0 / (1.0 + np.exp(-(np.asarray(rubber_c, dtype=np.float64) - soft_c) / width_k))
    return np.asarray(modulus_cold + (1.0 - modulus_cold) * rise)
