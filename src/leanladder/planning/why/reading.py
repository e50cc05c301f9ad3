"""A tyre's state, read rib by rib across the crown."""

from __future__ import annotations

import math

import numpy as np

from leanladder.domain.why import RibReading
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import LAYER_CARCASS, LAYERS, Body, read_c, spread_weights
from leanladder.planning.rubber import Rubber


def stored_j(before: Floats, after: Floats, body: Body) -> dict[str, float]:
    """Return the heat [J] that each part of a tyre took up between two states (n,) [degC]."""
    taken = body.heat_j_k * (after - before)
    carcass, walls = LAYER_CARCASS * body.ribs, LAYERS * body.ribs
    parts = {
        "tread": taken[:carcass],
        "carcass": taken[carcass:walls],
        "walls": taken[walls : walls + 2],
        "rim": taken[walls + 2 : walls + 3],
        "gas": taken[walls + 3 :],
    }
    return {name: float(part.sum()) for name, part in parts.items()}


def load_shares(rubber: Rubber, contact_m: float) -> Floats:
    """Return the share of the load that each rib bears, (ribs,), with the patch's middle at contact_m [m]."""
    crown = rubber.crown
    load = np.empty(crown.ribs)
    spread_weights(load, contact_m, crown.patch_half_m, crown.rib_m, crown.half_arc_m)
    return load


def ribs(rubber: Rubber, state: Floats, load: Floats) -> tuple[RibReading, ...]:
    """Return each rib of a state (n,) [degC], from the left edge to the right; load (ribs,) at the cap."""
    crown = rubber.crown
    places_m = (np.arange(crown.ribs) + 0.5) * crown.rib_m - crown.half_arc_m
    skin, outer, carcass = read_c(state, rubber.body).tolist()
    at_deg = [math.degrees(place_m / crown.crown_radius_m) for place_m in places_m.tolist()]
    rows = zip(at_deg, skin, outer, carcass, load.tolist(), strict=True)
    return tuple(RibReading(*row) for row in rows)
