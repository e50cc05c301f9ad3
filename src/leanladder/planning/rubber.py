"""From a tyre on a wheel to what the heat and grip kernels want."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from leanladder.domain.motorcycle import Wheel
from leanladder.domain.tyre import Tyre
from leanladder.engine import gas, ride
from leanladder.engine.caps import Crown
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import (
    BASE_LAYERS,
    CARCASS_LAYERS,
    LAYER_CARCASS,
    LAYERS,
    OUTER_LAYERS,
    Body,
    Shares,
)
from leanladder.planning.tables import Tables

RIBS = 18  # a multiple of three, so that a third of the crown is whole ribs
NODES = LAYERS * RIBS + 4


class Rubber(NamedTuple):
    """One tyre of a session: body, rolling and standing shares, crown, grips and the road it meets.

    effusivity [W s^0.5/m2K] of tyre and road in
    series; diameter_m, width_m [m]; loss [-] on Cooper's formula; is_rear.
    """

    body: Body
    rolling: Shares
    standing: Shares
    crown: Crown
    grips: ride.Grips
    effusivity: float
    diameter_m: float
    width_m: float
    loss: float
    is_rear: bool


class _Section(NamedTuple):
    """The tyre's section on this wheel, scaled from the size its figures are for [m]."""

    crown_radius_m: float
    arc_m: float
    patch_half_m: float
    radius_m: float


def _section(tyre: Tyre, wheel: Wheel) -> _Section:
    scale = wheel.tyre_width_m.value / tyre.section_m.value
    return _Section(
        tyre.crown_radius_m.value * scale,
        tyre.width_m.value * scale,
        tyre.patch_half_width_m.value * scale,
        wheel.rolling_radius_m.value,
    )


def rubber(tyre: Tyre, wheel: Wheel, tables: Tables, grip_tables: Floats, is_rear: bool) -> Rubber:
    """Return the tyre as the kernels want it; grip_tables (surfaces, TABLE_LENGTH) [-]."""
    heat = tables.heat
    section = _section(tyre, wheel)
    body = _body(tyre, wheel, section, tables, is_rear)
    crown = Crown(
        RIBS,
        body.rib_m,
        body.half_arc_m,
        section.patch_half_m,
        section.crown_radius_m,
        body.outer_share,
        grip_tables,
    )
    grips = ride.Grips(
        tyre.slip_stiffness.value,
        tyre.side_stiffness.value,
        tyre.camber_stiffness.value,
        section.crown_radius_m,
        section.radius_m,
        heat["spin_share"],
    )
    own = ride.effusivity(
        tyre.conductivity_w_mk.value, tyre.density_kg_m3.value, tyre.heat_capacity_j_kgk.value
    )
    road = ride.effusivity(
        heat["road_conductivity_w_mk"], heat["road_density_kg_m3"], heat["road_heat_capacity_j_kgk"]
    )
    rolling = _shares(
        tables,
        heat["gas_rolling_w_m2k"],
        heat["air_rear" if is_rear else "air_front"],
        heat["air_wall"],
        heat["air_rim"],
    )
    standing = _shares(tables, heat["gas_standing_w_m2k"], 1.0, 1.0, 1.0)
    return Rubber(
        body, rolling, standing, crown, grips, own * road / (own + road),
        2.0 * section.radius_m, wheel.tyre_width_m.value, tyre.rolling_loss.value, is_rear,
    )  # fmt: skip


def _shares(tables: Tables, gas: float, tread: float, wall: float, rim: float) -> Shares:
    heat = tables.heat
    return Shares(
        tread=heat["rolling_tread_share"],
        wall=heat["rolling_wall_share"],
        rolling_ref_c=heat["rolling_ref_c"],
        rolling_per_k=heat["rolling_per_k"],
        wall_air=wall,
        rim_air=rim,
        gas_w_m2k=gas,
        emissivity=heat["emissivity"],
        open_share=tread,
    )


def _body(tyre: Tyre, wheel: Wheel, section: _Section, tables: Tables, is_rear: bool) -> Body:
    heat = tables.heat
    conductivity = tyre.conductivity_w_mk.value
    stored = tyre.density_kg_m3.value * tyre.heat_capacity_j_kgk.value  # J/m3K
    rib_m = section.arc_m / RIBS
    girth_m = 2.0 * math.pi * section.radius_m
    rib_m2 = girth_m * rib_m
    depths = _depths(tyre, tables)
    middles = 0.5 * (depths[:-1] + depths[1:])
    scale = wheel.tyre_width_m.value / tyre.section_m.value
    height_m = scale * heat["wall_height_rear_m" if is_rear else "wall_height_front_m"]
    wall_m2 = 2.0 * math.pi * (section.radius_m - 0.5 * height_m) * height_m
    rim_j_k = wheel.rim_mass_kg.value * heat["rim_heat_j_kgk"]
    gas_j_k = gas.heat_j_k(wheel.cavity_m3.value)
    wall_j_k = stored * wall_m2 * heat["wall_m"]
    nodes = (np.repeat(stored * rib_m2 * depths, RIBS), np.array([wall_j_k, wall_j_k, rim_j_k, gas_j_k]))
    tread, outer = depths[:LAYER_CARCASS], depths[:OUTER_LAYERS]
    return Body(
        ribs=RIBS,
        rib_m=rib_m,
        half_arc_m=0.5 * section.arc_m,
        patch_half_m=section.patch_half_m,
        flex_half_m=section.patch_half_m * heat["flex_spread"],
        surface_w_k=conductivity * rib_m2 / (0.5 * depths[0]),
        layer_w_k=conductivity * rib_m2 / middles,
        liner_w_m2k=conductivity / (0.5 * depths[-1]),
        across_w_k=conductivity * girth_m * depths / rib_m,
        wall_w_k=conductivity * girth_m * tyre.carcass_m.value / (0.5 * (rib_m + height_m)),
        bead_w_k=heat["bead_w_k"],
        heat_j_k=np.concatenate(nodes),
        rib_m2=rib_m2,
        wall_m2=wall_m2,
        rim_m2=heat["rim_m2"],
        depth_share=np.append(tread / tread.sum(), np.zeros(CARCASS_LAYERS)),
        outer_share=outer / outer.sum(),
    )


def _depths(tyre: Tyre, tables: Tables) -> Floats:
    """Thickness of each layer [m], from the surface in."""
    heat = tables.heat
    skin, under, outer = heat["skin_m"], heat["under_m"], heat["outer_m"]
    base = np.full(BASE_LAYERS, (tyre.tread_m.value - outer) / BASE_LAYERS)
    carcass = np.full(CARCASS_LAYERS, tyre.carcass_m.value / CARCASS_LAYERS)
    return np.concatenate([[skin, under, outer - skin - under], base, carcass])
