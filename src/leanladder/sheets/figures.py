"""Figures as a sheet shows them."""

from __future__ import annotations

from leanladder.sheets.said import label


def decimal(value: float, places: int, language: str) -> str:
    """Return a number with so many decimals, its mark that of the language."""
    return f"{value:.{places}f}".replace(".", label("coach.decimal_mark", language))


def degrees(value_c: float, language: str) -> str:
    """Return a temperature in whole degrees, or with a half where it was set so."""
    return decimal(value_c, 0 if abs(value_c - round(value_c)) < 0.05 else 1, language)
