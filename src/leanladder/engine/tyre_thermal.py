"""Heat in one tyre: a ring cut across the crown into ribs, each in layers, with walls, rim and gas.

State vector (n,), degC: layers x ribs row by row from the skin in (rib 0 is the left edge), then
left wall, right wall, rim, gas. Equations are energy balances of those nodes (the ring model
closest in print: Tire Sci. Technol. 41(4):232, 2013, abstract). Steps are Runge-Kutta's of third order
in the form of Shu and Osher, J. Comput. Phys. 77:439, 1988 (from memory): one set of rates in a loop.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import compiled, folded, inlined
from leanladder.engine.constants import KELVIN, STEFAN_BOLTZMANN

Floats = NDArray[np.float64]

# From the surface in: three thin layers that make up the outer 2 mm (the first is the 0.3 mm of the skin),
# the rest of the tread and the carcass in equal parts. How many, and why: docs/physics/finer-model.md.
OUTER_LAYERS, BASE_LAYERS, CARCASS_LAYERS = 3, 2, 2
LAYER_SKIN, LAYER_BASE, LAYER_CARCASS = 0, OUTER_LAYERS, OUTER_LAYERS + BASE_LAYERS
LAYERS = LAYER_CARCASS + CARCASS_LAYERS
LAYER_LINER = LAYERS - 1
FLOWS = (
    "rolling", "slip", "sun", "brake",  # in
    "road", "tread_air", "tread_radiation", "wall_air", "rim_air",  # out
)  # fmt: skip
FLOW_COUNT = len(FLOWS)
FLOWS_IN = 4
LONGEST_S = 0.3  # on the road: it quenches a skin of 0.3 mm in half a second
STAGES = 3
NEW_PARTS = (1.0, 0.25, 2.0 / 3.0)  # of what a stage moved on; the rest is the step's start
STAGE_WEIGHTS = (1.0 / 6.0, 1.0 / 6.0, 2.0 / 3.0)  # of each stage's rates in the whole step


class Body(NamedTuple):
    """What a tyre is made of, as the kernel wants it.

    ribs; rib_m [m] wide; half_arc_m [m] from centre to edge; patch_half_m, flex_half_m [m]
    half-widths of the load and of the carcass's bending; surface_w_k [W/K] of a rib from the tread's
    surface to the skin's middle; layer_w_k (LAYERS - 1,) [W/K] of a rib between neighbouring layers'
    middles; liner_w_m2k [W/m2K] from the innermost layer's middle to the gas's side of it; across_w_k
    (LAYERS,) [W/K] between ribs of a layer; wall_w_k [W/K] edge carcass to wall; bead_w_k [W/K] wall
    to rim; heat_j_k (n,) [J/K] of each node; rib_m2, wall_m2, rim_m2 [m2]; depth_share (LAYERS,) of
    tread rubber by layer (sums to 1); outer_share (OUTER_LAYERS,) of the outer 2 mm (sums to 1).
    """

    ribs: int
    rib_m: float
    half_arc_m: float
    patch_half_m: float
    flex_half_m: float
    surface_w_k: float
    layer_w_k: Floats
    liner_w_m2k: float
    across_w_k: Floats
    wall_w_k: float
    bead_w_k: float
    heat_j_k: Floats
    rib_m2: float
    wall_m2: float
    rim_m2: float
    depth_share: Floats
    outer_share: Floats


class Shares(NamedTuple):
    """Where the heat goes, dimensionless unless said.

    tread, wall: of the rolling loss (the rest is the carcass's under the crown); rolling_ref_c [degC] and
    rolling_per_k [1/K], how the loss falls with the carcass's temperature; wall_air, of the
    tread's convection; rim_air, likewise; gas_w_m2k [W/m2K] inside; emissivity;
    open_share of the tread that sees free air.
    """

    tread: float
    wall: float
    rolling_ref_c: float
    rolling_per_k: float
    wall_air: float
    rim_air: float
    gas_w_m2k: float
    emissivity: float
    open_share: float


class Forcing(NamedTuple):
    """What the lap does to the tyre, a value a step, (steps,).

    dt_s [s]; contact_m [m] of the load from the centre, positive to the right edge; rolling_w [W]
    at the reference carcass temperature; bulk_w [W] slip heat within the tread rubber; skin_w [W]
    slip heat at the surface; brake_w [W] into the rim; road_w_k [W/K] contact conductance of the
    whole patch; road_c [degC]; sun_w_m2 [W/m2] absorbed; air_w_m2k [W/m2K]; tread_air_c and
    wall_air_c [degC] around tread and walls.
    """

    dt_s: Floats
    contact_m: Floats
    rolling_w: Floats
    bulk_w: Floats
    skin_w: Floats
    brake_w: Floats
    road_w_k: Floats
    road_c: Floats
    sun_w_m2: Floats
    air_w_m2k: Floats
    tread_air_c: Floats
    wall_air_c: Floats


@folded
def spread_weights(weights: Floats, contact_m: float, half_m: float, rib_m: float, half_arc_m: float) -> None:
    """Fill weights (ribs,), summing to 1, with a parabola about contact_m, cut off at the tread's edges.

    A patch that would reach beyond an edge bears on what is left of it; its middle stays on the tread.
    """
    ribs = weights.size
    per_half = 1.0 / half_m
    middle_m = min(max(contact_m, -half_arc_m), half_arc_m)
    # The share of the parabola below each rib's right edge, then what each rib adds.
    for rib in range(ribs):
        place = min(max((half_arc_m - (ribs - 1 - rib) * rib_m - middle_m) * per_half, -1.0), 1.0)
        weights[rib] = 0.5 + 0.75 * place - 0.25 * place * place * place
    first = max((-half_arc_m - middle_m) * per_half, -1.0)
    beyond = 0.5 + 0.75 * first - 0.25 * first * first * first
    per_on = 1.0 / (weights[ribs - 1] - beyond)
    for rib in range(ribs - 1, 0, -1):
        weights[rib] = max(weights[rib] - weights[rib - 1], 0.0) * per_on
    weights[0] = max(weights[0] - beyond, 0.0) * per_on


@folded
def _skin(
    state: Floats,
    rate: Floats,
    flows: Floats,
    load: Floats,
    body: Body,
    shares: Shares,
    forcing: Forcing,
    step: int,
) -> None:
    """Fill the skin's rates (ribs,) [W] and the flows that cross the tread's surface [W].

    Road, air and sky meet the surface itself, half a skin above its node: it stores nothing, so what comes
    to it goes on inwards, and its temperature follows from the node's.
    """
    ribs = body.ribs
    # Rubber in the patch cannot see the air, but the patch is some 5 % of the ring: left in.
    air_w_k = forcing.air_w_m2k[step] * body.rib_m2 * shares.open_share
    radiating = shares.emissivity * STEFAN_BOLTZMANN * body.rib_m2
    air_c, air_k = forcing.tread_air_c[step], forcing.tread_air_c[step] + KELVIN
    road_w_k, road_c = forcing.road_w_k[step], forcing.road_c[step]
    skin_w = forcing.skin_w[step]
    sun_w = forcing.sun_w_m2[step] * body.rib_m2
    road_sum, air_sum, radiation_sum = 0.0, 0.0, 0.0
    skin, into = state[:ribs], rate[:ribs]
    for rib in range(ribs):
        skin_c, skin_k = skin[rib], skin[rib] + KELVIN
        source = skin_w * load[rib] + sun_w
        here_w_k = road_w_k * load[rib]
        # radiation's coefficient at the node's temperature: 1 % of it for each 2 K of the surface's
        sky_w_k = radiating * (skin_k * skin_k + air_k * air_k) * (skin_k + air_k)
        come = source + here_w_k * (road_c - skin_c) + (air_w_k + sky_w_k) * (air_c - skin_c)
        surface_c = skin_c + come / (body.surface_w_k + here_w_k + air_w_k + sky_w_k)
        to_road = here_w_k * (surface_c - road_c)
        to_air = air_w_k * (surface_c - air_c)
        to_sky = sky_w_k * (surface_c - air_c)
        into[rib] = source - to_road - to_air - to_sky
        road_sum += to_road
        air_sum += to_air
        radiation_sum += to_sky
    flows[1] = forcing.bulk_w[step] + skin_w
    flows[2] = sun_w * ribs
    flows[4], flows[5], flows[6] = road_sum, air_sum, radiation_sum


@folded
def _rubber(
    state: Floats,
    rate: Floats,
    load: Floats,
    flex: Floats,
    body: Body,
    shares: Shares,
    rubber_w: float,
    flex_w: float,
) -> float:
    """Fill the rates of tread and carcass [W]; return what goes to the gas [W].

    rubber_w [W] goes into the tread under the load, flex_w [W] into the carcass where it bends.
    """
    ribs = body.ribs
    gas_c = state[LAYERS * ribs + 3]
    # the gas meets the liner's face, half a layer beyond the innermost node
    gas_w_k = body.rib_m2 * shares.gas_w_m2k * body.liner_w_m2k / (shares.gas_w_m2k + body.liner_w_m2k)
    for layer in range(LAYERS - 1):
        node, share, inward_w_k = layer * ribs, rubber_w * body.depth_share[layer], body.layer_w_k[layer]
        here, under = state[node : node + ribs], state[node + ribs : node + 2 * ribs]
        into_here, into_under = rate[node : node + ribs], rate[node + ribs : node + 2 * ribs]
        for rib in range(ribs):
            inward = inward_w_k * (here[rib] - under[rib])
            into_here[rib] += share * load[rib] - inward
            into_under[rib] = inward
    for layer in range(LAYER_CARCASS, LAYERS):
        into_carcass = rate[layer * ribs : (layer + 1) * ribs]
        for rib in range(ribs):
            into_carcass[rib] += flex_w / CARCASS_LAYERS * flex[rib]
    liner, into_liner = state[LAYER_LINER * ribs : LAYERS * ribs], rate[LAYER_LINER * ribs : LAYERS * ribs]
    gas_sum = 0.0
    for rib in range(ribs):
        to_gas = gas_w_k * (liner[rib] - gas_c)
        into_liner[rib] -= to_gas
        gas_sum += to_gas
    for layer in range(LAYERS):
        node, across_w_k = layer * ribs, body.across_w_k[layer]
        here, into_here = state[node : node + ribs], rate[node : node + ribs]
        into_here[0] += across_w_k * (here[1] - here[0])
        into_here[ribs - 1] += across_w_k * (here[ribs - 2] - here[ribs - 1])
        before, after = here[: ribs - 2], here[2:]
        middle, into_middle = here[1 : ribs - 1], into_here[1 : ribs - 1]
        for rib in range(ribs - 2):
            into_middle[rib] += across_w_k * ((before[rib] - middle[rib]) + (after[rib] - middle[rib]))
    return gas_sum


@folded
def _wheel(
    state: Floats,
    rate: Floats,
    flows: Floats,
    body: Body,
    shares: Shares,
    forcing: Forcing,
    step: int,
    wall_w: float,
    gas_w: float,
) -> None:
    """Fill the rates of walls, rim and gas [W].

    wall_w [W] of rolling loss goes to the walls, gas_w [W] comes from the carcass to the gas.
    """
    ribs = body.ribs
    walls = LAYERS * ribs
    rim, gas = walls + 2, walls + 3
    around_c = forcing.wall_air_c[step]
    lean_share = min(max(forcing.contact_m[step] / body.half_arc_m, -1.0), 1.0)
    rate[rim], rate[gas] = forcing.brake_w[step], gas_w
    wall_sum = 0.0
    for side in range(2):
        wall = walls + side
        edge = 0 if side == 0 else ribs - 1
        share = 0.5 * (1.0 - lean_share) if side == 0 else 0.5 * (1.0 + lean_share)
        wall_c = state[wall]
        into = 0.0
        for layer in range(LAYER_CARCASS, LAYERS):
            from_layer = body.wall_w_k / CARCASS_LAYERS * (state[layer * ribs + edge] - wall_c)
            rate[layer * ribs + edge] -= from_layer
            into += from_layer
        to_rim = body.bead_w_k * (wall_c - state[rim])
        to_gas = shares.gas_w_m2k * body.wall_m2 * (wall_c - state[gas])
        radiation = shares.emissivity * STEFAN_BOLTZMANN * 4.0 * (0.5 * (wall_c + around_c) + KELVIN) ** 3
        to_air = body.wall_m2 * (forcing.air_w_m2k[step] * shares.wall_air + radiation) * (wall_c - around_c)
        rate[wall] = wall_w * share + into - to_rim - to_gas - to_air
        rate[rim] += to_rim
        rate[gas] += to_gas
        wall_sum += to_air
    rim_to_gas = shares.gas_w_m2k * body.rim_m2 * (state[rim] - state[gas])
    rim_to_air = body.rim_m2 * forcing.air_w_m2k[step] * shares.rim_air * (state[rim] - around_c)
    rate[rim] -= rim_to_gas + rim_to_air
    rate[gas] += rim_to_gas
    flows[3], flows[7], flows[8] = forcing.brake_w[step], wall_sum, rim_to_air


@folded
def _rates(
    state: Floats,
    rate: Floats,
    flows: Floats,
    load: Floats,
    flex: Floats,
    body: Body,
    shares: Shares,
    forcing: Forcing,
    step: int,
) -> None:
    """Fill rate (n,) [W], before division by heat capacity, and flows (FLOW_COUNT,) [W]."""
    carcass_c = 0.0
    for layer in range(LAYER_CARCASS, LAYERS):
        for rib in range(body.ribs):
            carcass_c += load[rib] * state[layer * body.ribs + rib]
    carcass_c /= CARCASS_LAYERS
    rolling = forcing.rolling_w[step] * np.exp(-shares.rolling_per_k * (carcass_c - shares.rolling_ref_c))
    flows[0] = rolling
    flex_w = rolling * (1.0 - shares.tread - shares.wall)
    _skin(state, rate, flows, load, body, shares, forcing, step)
    gas_w = _rubber(
        state, rate, load, flex, body, shares, rolling * shares.tread + forcing.bulk_w[step], flex_w
    )
    _wheel(state, rate, flows, body, shares, forcing, step, rolling * shares.wall, gas_w)


@folded
def _stage(state: Floats, ahead: Floats, rate: Floats, per_heat: Floats, stage: int, dt_s: float) -> None:
    """Move ahead (n,) [degC] on by one stage of a step of dt_s [s] that began at state (n,) [degC]."""
    for node in range(state.size):
        moved = ahead[node] + dt_s * rate[node] * per_heat[node]
        # as a difference, so that a state at rest stays at rest to the last bit
        ahead[node] = state[node] + NEW_PARTS[stage] * (moved - state[node])


@compiled
def heat_ride(
    state: Floats,
    body: Body,
    shares: Shares,
    forcing: Forcing,
    marks: NDArray[np.int64],
    heat_j: Floats,
    load_s: Floats,
) -> Floats:
    """Return the states (marks, n) [degC] at the start of the marked steps; moves state on in place.

    state (n,) [degC]; marks ascending step numbers, at most steps; heat_j (FLOW_COUNT,) [J]
    gains what flowed, load_s (ribs,) [s] how long each rib bore the load. Third order in the step;
    on the road a longer step than LONGEST_S is cut, off it steps up to about 2 s are stable for a
    skin of 0.3 mm.
    """
    steps = forcing.dt_s.size
    size = state.size
    kept = np.empty((marks.size, size))
    load, flex = np.empty(body.ribs), np.empty(body.ribs)
    rate, ahead, flows = np.empty(size), np.empty(size), np.empty(FLOW_COUNT)
    per_heat = 1.0 / body.heat_j_k
    mark = 0
    for step in range(steps):
        while mark < marks.size and marks[mark] <= step:
            kept[mark, :] = state
            mark += 1
        contact_m = forcing.contact_m[step]
        parts = math.ceil(forcing.dt_s[step] / LONGEST_S) if forcing.road_w_k[step] > 0.0 else 1
        dt_s = forcing.dt_s[step] / parts
        spread_weights(load, contact_m, body.patch_half_m, body.rib_m, body.half_arc_m)
        spread_weights(flex, contact_m, body.flex_half_m, body.rib_m, body.half_arc_m)
        for _ in range(parts):
            ahead[:] = state
            for stage in range(STAGES):
                _rates(ahead, rate, flows, load, flex, body, shares, forcing, step)
                _stage(state, ahead, rate, per_heat, stage, dt_s)
                for flow in range(FLOW_COUNT):
                    heat_j[flow] += STAGE_WEIGHTS[stage] * dt_s * flows[flow]
            state[:] = ahead
        for rib in range(body.ribs):
            load_s[rib] += forcing.dt_s[step] * load[rib]
    while mark < marks.size:
        kept[mark, :] = state
        mark += 1
    return kept


@inlined
def outer_c(state: Floats, ribs: int, rib: int, outer_share: Floats) -> float:
    """Return the outer 2 mm's mean [degC] of a rib; outer_share (OUTER_LAYERS,) is each layer's part."""
    total = 0.0
    for layer in range(OUTER_LAYERS):
        total += outer_share[layer] * state[layer * ribs + rib]
    return total


@inlined
def third_c(state: Floats, ribs: int, third: int, outer_share: Floats) -> float:
    """Return the outer 2 mm's mean [degC] over a third of the crown: 0 left, 1 centre, 2 right."""
    each = ribs // 3
    total = 0.0
    # from the edge of either side inwards, so that mirrored states add in mirrored order
    for place in range(each):
        rib = third * each + place if third < 2 else ribs - 1 - place
        total += outer_c(state, ribs, rib, outer_share)
    return total / each


def base_c(states: Floats, ribs: int) -> Floats:
    """Return the mean [degC] of the tread below the outer 2 mm, by rib (..., ribs), of states (..., n)."""
    return np.asarray(layers_c(states, ribs)[..., LAYER_BASE:LAYER_CARCASS, :].mean(axis=-2))


def layers_c(states: Floats, ribs: int) -> Floats:
    """Return states (..., n) [degC] by layer and rib, (..., LAYERS, ribs) [degC], a view."""
    return states[..., : LAYERS * ribs].reshape(*states.shape[:-1], LAYERS, ribs)


def read_c(states: Floats, body: Body) -> Floats:
    """Return what can be read of states (..., n) [degC], by rib, (..., 3, ribs) [degC].

    The outer 0.3 mm (an infrared gun), the mean of the outer 2 mm (a needle probe), the carcass's mean.
    """
    layers = layers_c(states, body.ribs)
    outer = np.tensordot(body.outer_share, layers[..., :OUTER_LAYERS, :], axes=(0, -2))
    return np.stack(
        [layers[..., LAYER_SKIN, :], outer, layers[..., LAYER_CARCASS:, :].mean(axis=-2)], axis=-2
    )
