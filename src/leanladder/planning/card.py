"""The caution card: bike lean against rubber temperature, common practice."""

from __future__ import annotations

from leanladder.planning.tables import Tables


def card_bike_deg(rubber_c: float, factor: float, tables: Tables) -> float | None:
    """Return the card's bike lean [deg] at rubber_c [degC], None below 0 degC.

    Straight from 0 to 10 degC, then a constant slope; a level's factor [-] multiplies all of it.
    The level's top is applied elsewhere.
    """
    if rubber_c < 0.0:
        return None
    card = tables.card
    at_0, at_10 = card["at_0_deg"], card["at_10_deg"]
    if rubber_c <= 10.0:
        return factor * (at_0 + (at_10 - at_0) * rubber_c / 10.0)
    return factor * (at_10 + card["above_10_deg_per_k"] * (rubber_c - 10.0))
