"""Guess the unit that a value out of range was written in."""

from __future__ import annotations

import math

from leanladder.units.convert import convert, units_like

# Field names end in their unit where it is not SI; SI lengths and speeds say so too.
_SUFFIXES = {
    "c": "degC",
    "bar": "bar",
    "mps": "m/s",
    "kmh": "km/h",
    "m": "m",
    "mm": "mm",
    "kg": "kg",
    "w": "W",
    "deg": "deg",
    "min": "min",
    "m3": "m3",
    "m2": "m2",
    "pct": "%",
}


def likely_unit(value: float, unit: str, low: float, high: float) -> str | None:
    """Return the unit in which value would lie from low to high [unit], None if there is none.

    The first match in the order of the table of conversions wins: 34 where 1 to 4 bar is
    allowed is "psi", 54 where -30 to 50 degC is allowed is "degF".
    """
    if not math.isfinite(value) or value == 0.0:
        return None
    for other in units_like(unit):
        if other != unit and low <= convert(value, other, unit) <= high:
            return other
    return None


def unit_of_field(field: str) -> str | None:
    """Return the unit that a field's name ends in, None where it carries none: air_c is degC."""
    stem, _, suffix = field.rpartition("_")
    return _SUFFIXES.get(suffix) if stem else None
