"""What a figure may be, and the unit a mistaken one was likely given in."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from leanladder.units import likely_unit

# Definitions of units that the edges do not otherwise convert, as factors to the one asked for.
_MORE: Mapping[str, Mapping[str, float]] = {
    "kg": {"t": 1000.0, "g": 0.001},
    "kg/m3": {"g/cm3": 1000.0},
    "J/(kg K)": {"kJ/(kg K)": 1000.0},
    "1/K": {"%/K": 0.01},
    "m/s2": {"g": 9.80665},
    "%": {"a share of 1": 100.0},
}
_SHARES = ("-", "0..1")


@dataclass(frozen=True, slots=True)
class Allowed:
    """The hard range of a figure: low and high in [unit], both allowed.

    It bounds what is sane, far beyond what is usual: it is there to catch a wrong unit.
    """

    unit: str
    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Return whether value is finite and within the range."""
        return math.isfinite(value) and self.low <= value <= self.high

    def text(self) -> str:
        """Return the range in words, such as `0.03 to 0.16 m`."""
        unit = "" if self.unit in _SHARES else f" {self.unit}"
        return f"{self.low:g} to {self.high:g}{unit}"

    def remedy(self, value: float) -> str | None:
        """Return what to do about a value outside, naming the unit it looks like."""
        unit = self.likely_unit(value)
        if unit is None:
            return None
        wanted = "a share of 1" if self.unit in _SHARES else self.unit
        return f"{value:g} looks like {unit}; give it in {wanted}."

    def likely_unit(self, value: float) -> str | None:
        """Return the unit in which value would be within the range, None if there is none."""
        if not math.isfinite(value) or value == 0.0:
            return None
        found = likely_unit(value, "-" if self.unit in _SHARES else self.unit, self.low, self.high)
        if found is not None:
            return found
        more = _MORE.get(self.unit, {})
        return next((unit for unit, factor in more.items() if self.low <= factor * value <= self.high), None)
