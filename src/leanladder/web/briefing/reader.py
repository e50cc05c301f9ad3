"""Who looks at the wall: the language and units of the pages, and whether figures are shown."""

from __future__ import annotations

from dataclasses import dataclass

from leanladder.domain.sentence import Sentence
from leanladder.sheets.said import said
from leanladder.units import convert

UNITS = {"metric": ("degC", "°C"), "imperial": ("degF", "°F")}


@dataclass(frozen=True, slots=True)
class Reader:
    """language and units (metric or imperial) of who shows the pages; figures: whether warmth has figures."""

    language: str = "en"
    units: str = "metric"
    figures: bool = False

    def say(self, code: str, **figures: object) -> str:
        """Return a text of the room by its code."""
        return self.tell(Sentence(f"room.{code}", figures))

    def tell(self, sentence: Sentence) -> str:
        """Return any sentence in the reader's language."""
        return said(sentence, self.language)

    def shown(self, rubber_c: float) -> float:
        """Return a temperature [degC] in the reader's unit."""
        return convert(rubber_c, "degC", UNITS[self.units][0])

    @property
    def unit(self) -> str:
        """The reader's unit of temperature."""
        return UNITS[self.units][1]

    def degrees(self, rubber_c: float) -> str:
        """Return a temperature [degC] in words: whole, in the reader's unit."""
        return f"{self.shown(rubber_c):.0f}\N{NO-BREAK SPACE}{self.unit}"
