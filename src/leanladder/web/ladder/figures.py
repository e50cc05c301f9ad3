"""Figures in the reader's units, rounded as the trade reads them."""

from __future__ import annotations

import math
from typing import NamedTuple

from leanladder.units.convert import convert


class Units(NamedTuple):
    """The units that someone reads in: of temperature, of their differences, and of pressure."""

    imperial: bool = False

    @property
    def degree(self) -> str:
        """The sign of a temperature."""
        return "°F" if self.imperial else "°C"

    @property
    def pressure(self) -> str:
        """The name of a pressure's unit."""
        return "psi" if self.imperial else "bar"

    def warm(self, value_c: float) -> float:
        """Return a temperature [degC] in the unit read."""
        return convert(value_c, "degC", "degF") if self.imperial else value_c

    def whole(self, value_c: float) -> str:
        """Return a temperature [degC] as a whole figure, rounded down: rubber is never told too warm."""
        return str(math.floor(self.warm(value_c)))

    def nearest(self, value_c: float) -> str:
        """Return a temperature [degC] as a whole figure, to the nearest: of air and road."""
        return (
            f"{self.warm(value_c):.0f}".replace("-0", "0")
            if abs(self.warm(value_c)) < 0.5
            else f"{self.warm(value_c):.0f}"
        )

    def celsius(self, typed: float) -> float:
        """Return what was typed in the unit read [degC]."""
        return convert(typed, "degF", "degC") if self.imperial else typed

    def pressed(self, value_bar: float) -> float:
        """Return a pressure [bar] in the unit read."""
        return convert(value_bar, "bar", "psi") if self.imperial else value_bar

    def pressed_said(self, value_bar: float) -> str:
        """Return a pressure [bar] with the decimals that a gauge shows."""
        return f"{self.pressed(value_bar):.0f}" if self.imperial else f"{value_bar:.2f}"


def units_of(name: str) -> Units:
    """Return units by their name in a person's settings."""
    return Units(imperial=name == "imperial")


def clock(minutes: float) -> str:
    """Return minutes as m:ss, rounded down."""
    seconds = math.floor(60.0 * minutes)
    return f"{seconds // 60}:{seconds % 60:02d}"
