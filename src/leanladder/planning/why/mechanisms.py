"""Friction by mechanism under a tyre at a lean, and what a turn asks of it there."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leanladder import catalogue
from leanladder.domain.session import FittedTyre, Surface
from leanladder.domain.tyre import Compound
from leanladder.domain.why import End, GripParts
from leanladder.engine import cornering, grip
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import read_c
from leanladder.planning.condition import grip_kept
from leanladder.planning.gripping import surface_grip
from leanladder.planning.rubber import Rubber
from leanladder.planning.setting import Setting, road_surfaces
from leanladder.planning.why.reading import load_shares


@dataclass(frozen=True, slots=True)
class Patch:
    """One tyre at one corner: what its grip is made of, as tables over grip.table_axis() [-].

    friction: at hand; keying: keying's part of it; unfaded: without the fade of the hot end; ordinary:
    on ordinary asphalt; keyed and stuck [0..1]: how far each mechanism is developed. outer_c (ribs,) [degC];
    held [0..1]: what is counted on of the friction.
    """

    place: Setting
    index: int
    end: End
    rubber: Rubber
    peak_grip: float
    kept: float
    friction: Floats
    keying: Floats
    unfaded: Floats
    ordinary: Floats
    keyed: Floats
    stuck: Floats
    outer_c: Floats
    held: float


def patch(place: Setting, index: int, end: End, state: Floats, held: float) -> Patch:
    """Return what the grip of one tyre is made of at a corner by its index, in state (n,) [degC].

    held [0..1]: what is counted on of the friction.
    """
    session = place.session
    rubber, fitted, condition = (
        (place.front, session.front, session.front_state)
        if end == "front"
        else (place.rear, session.rear, session.rear_state)
    )
    row = int(place.bends[index, 3])
    kept = grip_kept(fitted.tyre, condition, session.date, place.tables.condition)
    compound = fitted.tyre.compound
    keyed, stuck, fade = _mechanisms(compound, place)
    weight = _weight(road_surfaces(session)[row], place)
    friction = rubber.crown.tables[row]
    return Patch(
        place=place,
        index=index,
        end=end,
        rubber=rubber,
        peak_grip=compound.peak_grip.value,
        kept=kept,
        friction=friction,
        keying=friction * weight * keyed / (weight * keyed + (1.0 - weight) * stuck),
        unfaded=friction / fade,
        ordinary=kept * _ordinary(fitted, place),
        keyed=keyed,
        stuck=stuck,
        outer_c=read_c(state, rubber.body)[1],
        held=held,
    )


def _mechanisms(compound: Compound, place: Setting) -> tuple[Floats, Floats, Floats]:
    """How far keying and adhesion are developed, and what the hot end leaves, over the axis [0..1]."""
    axis, general, glass_c = grip.table_axis(), place.tables.grip, compound.glass_c.value
    keyed, stuck = (
        grip.developed(axis, glass_c, full.value, cold.value, general["wlf_width"])
        for full, cold in (
            (compound.keying_full_c, compound.keying_cold),
            (compound.adhesion_full_c, compound.adhesion_cold),
        )
    )
    fade = grip.faded(axis, compound.fade_from_c.value, compound.fade_per_k.value, general["fade_blend_k"])
    return keyed, stuck, fade


def _weight(surface: Surface, place: Setting) -> float:
    general = place.tables.grip
    return grip.keying_weight(
        surface.texture_mm, surface.polish, general["texture_half_mm"], general["polish_power"]
    )


def _ordinary(fitted: FittedTyre, place: Setting) -> Floats:
    return surface_grip(fitted.tyre.compound, catalogue.surface("ordinary"), place.tables)


def parts_at(found: Patch, bike_lean_deg: float) -> GripParts:
    """Return the friction by mechanism at a bike lean [deg], and the turn's demand there."""
    place, stance = found.place, found.place.stance
    lean = cornering.lean_of_bike_lean(math.radians(bike_lean_deg), stance.crown_m, stance.cg_height_m)
    load = load_at(found, bike_lean_deg)
    friction, keying, ordinary, unfaded, keyed, stuck = (
        _under(found, load, table)
        for table in (
            found.friction, found.keying, found.ordinary, found.unfaded, found.keyed, found.stuck,
        )
    )  # fmt: skip
    usable = place.session.level.grip_share.value * found.held * friction
    asked = demand(found, lean)
    return GripParts(
        bike_lean_deg=bike_lean_deg, lean_deg=math.degrees(lean), rubber_c=float(load @ found.outer_c),
        keying=keying, adhesion=friction - keying, faded=unfaded - friction, grip=friction,
        peak_grip=found.peak_grip, curve=ordinary / (found.kept * found.peak_grip),
        surface_kept=friction / ordinary, condition_kept=found.kept,
        keying_developed=keyed, adhesion_developed=stuck,
        usable=usable, demand=asked, spare_grip=usable - asked,
    )  # fmt: skip


def _under(found: Patch, load: Floats, table: Floats) -> float:
    """A table over the axis, read at each rib's temperature, its mean under the load (ribs,)."""
    return float(load @ np.array([grip.grip_at(table, rib_c) for rib_c in found.outer_c.tolist()]))


def load_at(found: Patch, bike_lean_deg: float) -> Floats:
    """Return the share of the load that each rib bears (ribs,) at a bike lean [deg] into the corner."""
    side, bank = found.place.bends[found.index, :2].tolist()
    radius_m = found.rubber.crown.crown_radius_m
    return load_shares(found.rubber, side * radius_m * (math.radians(bike_lean_deg) - bank))


def demand(found: Patch, lean: float) -> float:
    """Return the friction [-] asked of the tyre at a lean [rad]: across, and of the rear along too."""
    stance = found.place.stance
    _, bank, radius_m, _ = found.place.bends[found.index].tolist()
    across = cornering.banked_demand(lean, bank)
    if found.end == "front":
        return abs(across)
    along = stance.rolling + stance.drag_n * GRAVITY_MPS2 * radius_m * math.tan(lean)
    return math.hypot(across, along)
