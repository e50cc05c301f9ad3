"""How far a level may lean by rubber temperature alone, before there is a circuit."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leanladder.domain.rider import Level
from leanladder.domain.session import Surface
from leanladder.domain.tyre import Tyre
from leanladder.engine.cornering import bike_lean_of_lean
from leanladder.engine.grip import grip_at
from leanladder.planning.card import card_bike_deg
from leanladder.planning.gripping import surface_grip, texture_fill
from leanladder.planning.tables import Tables, shipped_tables

TO_C = 110
EACH_K = 5


@dataclass(frozen=True, slots=True)
class GuideRow:
    """One rubber temperature: rubber_c [degC], leans [deg, bike lean], grip and texture_fill [-].

    card_bike_deg is the level's caution card up to the level's top; physics_bike_deg what the
    level's share of the grip carries with the stated margin. Both are exact, not rounded.
    """

    rubber_c: float
    card_bike_deg: float | None
    physics_bike_deg: float
    grip: float
    texture_fill: float


def guide(tyre: Tyre, level: Level, surface: Surface, tables: Tables | None = None) -> tuple[GuideRow, ...]:
    """Return a row each 5 K from 0 to 110 degC of the rubber about to be used.

    The whole patch is taken to be at that temperature, upright drag left out; crown and height are
    a sport machine's (tables.margin), so a ladder for the machine at hand comes first.
    """
    tables = shipped_tables() if tables is None else tables
    grips = surface_grip(tyre.compound, surface, tables)
    return tuple(_row(float(rubber_c), level, grips, tables) for rubber_c in range(0, TO_C + 1, EACH_K))


def _row(rubber_c: float, level: Level, grips: np.typing.NDArray[np.float64], tables: Tables) -> GuideRow:
    grip = grip_at(grips, rubber_c)
    lean = math.atan(level.grip_share.value * tables.margin["grip_held"] * grip)
    physics = math.degrees(
        bike_lean_of_lean(lean, tables.margin["guide_crown_m"], tables.margin["guide_cg_height_m"])
    )
    card = card_bike_deg(rubber_c, level.card_factor.value, tables)
    return GuideRow(
        rubber_c=rubber_c,
        card_bike_deg=None if card is None else min(card, level.top_lean_deg.value),
        physics_bike_deg=physics,
        grip=grip,
        texture_fill=float(texture_fill(np.array([rubber_c]), tables)[0]),
    )
