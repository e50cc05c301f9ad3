"""Figures of the live pages in the units of who reads, and readings as they are typed in."""

from __future__ import annotations

from typing import NamedTuple

from leanladder.domain.errors import Fault, InputError
from leanladder.units.convert import convert

# What someone sees by looking up and feels on the face, as figures: judgement.
CLOUDS = {"clear": 0.0, "thin": 0.3, "half": 0.5, "overcast": 1.0}
WINDS_MPS = {"calm": 0.5, "light": 2.0, "windy": 5.0}


class Units(NamedTuple):
    """The units that someone reads in."""

    imperial: bool

    @property
    def degree(self) -> str:
        """The sign of a temperature."""
        return "°F" if self.imperial else "°C"

    def warm(self, value_c: float) -> int:
        """Return a temperature [degC] as a whole figure in the unit read."""
        return round(convert(value_c, "degC", "degF") if self.imperial else value_c)

    def celsius(self, typed: float) -> float:
        """Return a temperature as typed in the unit read [degC]."""
        return round(convert(typed, "degF", "degC"), 2) if self.imperial else typed

    def typed_c(self, text: str, field: str) -> float | None:
        """Return a typed temperature [degC], None for an empty field; raises InputError."""
        text = text.strip().replace(",", ".").replace("\N{MINUS SIGN}", "-")
        if not text:
            return None
        try:
            return self.celsius(float(text))
        except ValueError:
            fault = Fault(field=field, value=text, remedy="Type a number.")
            raise InputError("this is no number.", fault) from None


def units_of(name: str) -> Units:
    """Return units by their name in a person's settings."""
    return Units(name == "imperial")


def nearest(value: float | None, words: dict[str, float]) -> str:
    """Return the word whose figure is nearest; empty where nothing is known."""
    return "" if value is None else min(words, key=lambda word: abs(words[word] - value))
