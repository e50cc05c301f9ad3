"""The members' kernel: one block of members through a lap that is cut into beats and spells.

Rows and records: block_rows; steps through the layers: block_layers; how a lap is cut: spells.
"""

from __future__ import annotations

import math

from leanladder.engine.block_layers import flow_across, move_loaded, move_quiet
from leanladder.engine.block_rows import (
    AIR_K,
    AT_SURFACE,
    BEARS,
    BENDS,
    COMES,
    CROWN,
    EDGE,
    FROM_GAS,
    GAS,
    GAS_MID,
    IN_CARCASS,
    IN_TREAD,
    LEFT,
    LINER,
    LINER_S,
    LOSS,
    MIDDLE,
    ON_BEND,
    ON_LOAD,
    OPEN,
    PER_FLEX,
    PER_PATCH,
    RECORD,
    RIBS,
    RIGHT,
    RIM,
    ROAD_K,
    ROLLED,
    ROLLED_RIGHT,
    SCRUB,
    SUNLIT,
    TO_ROAD,
    TOUCH,
    UNDER_LOAD,
    WALL_NODES,
    WIDTH,
    WIND,
    width,
)
from leanladder.engine.compiled import contracted, folded
from leanladder.engine.constants import KELVIN, STEFAN_BOLTZMANN
from leanladder.engine.spells import (
    AFTER,
    AIR,
    BEFORE,
    BENT,
    BRAKE,
    BULK,
    BULK_SPIN,
    CONTACT,
    LASTS,
    LEAST,
    LINER_GAS,
    MOST,
    ROAD,
    ROAD_HEAT,
    ROLLING,
    SKIN,
    SKIN_SPIN,
    STEP,
    SUN,
    TREAD_AIR,
    WALL_AIR,
    Cut,
    liner_w_k,
)
from leanladder.engine.tyre_thermal import CARCASS_LAYERS, Body, Floats, Shares


@contracted
def _bear(ribs: Floats, rows: Floats, first: int, last: int, contact_m: float, body: Body) -> None:
    """Share the load out over ribs first to last - 1, and sum the carcass under it."""
    arc_m = body.half_arc_m
    for w in range(WIDTH):
        middle_m = min(max(contact_m * rows[CROWN * WIDTH + w], -arc_m), arc_m)
        per = rows[PER_PATCH * WIDTH + w]
        rows[MIDDLE * WIDTH + w] = middle_m * per
        place = min(max((first * body.rib_m - arc_m - middle_m) * per, -1.0), 1.0)
        rows[EDGE * WIDTH + w] = place * (0.75 - 0.25 * (place * place))
        rows[ON_LOAD * WIDTH + w] = -rows[EDGE * WIDTH + w]
        rows[UNDER_LOAD * WIDTH + w] = 0.0
    for rib in range(first, last):
        here, right_m = (
            ribs[rib * RECORD * WIDTH : (rib + 1) * RECORD * WIDTH],
            (rib + 1) * body.rib_m - arc_m,
        )
        for w in range(WIDTH):
            place = min(max(right_m * rows[PER_PATCH * WIDTH + w] - rows[MIDDLE * WIDTH + w], -1.0), 1.0)
            share = place * (0.75 - 0.25 * (place * place))
            bears = share - rows[EDGE * WIDTH + w]
            rows[EDGE * WIDTH + w] = share
            here[BEARS * WIDTH + w] = bears
            rows[UNDER_LOAD * WIDTH + w] += bears * (here[5 * WIDTH + w] + here[6 * WIDTH + w])


@contracted
def _set_ribs(ribs: Floats, rows: Floats, spell: Floats, body: Body, shares: Shares) -> None:
    """Share bending out over all ribs, and set what air, sky and sun give to each."""
    arc_m, contact_m = body.half_arc_m, spell[BENT]
    air_w_k = spell[AIR] * body.rib_m2 * shares.open_share
    radiating = shares.emissivity * STEFAN_BOLTZMANN * body.rib_m2
    air_c, sun_w, per_surface = spell[TREAD_AIR], spell[SUN] * body.rib_m2, 1.0 / body.surface_w_k
    for w in range(WIDTH):
        middle_m = min(max(contact_m * rows[CROWN * WIDTH + w], -arc_m), arc_m)
        per = rows[PER_FLEX * WIDTH + w]
        rows[MIDDLE * WIDTH + w] = middle_m * per
        place = min(max((-arc_m - middle_m) * per, -1.0), 1.0)
        rows[EDGE * WIDTH + w] = place * (0.75 - 0.25 * (place * place))
        rows[ON_BEND * WIDTH + w] = -rows[EDGE * WIDTH + w]
    for rib in range(RIBS):
        here, right_m = (
            ribs[rib * RECORD * WIDTH : (rib + 1) * RECORD * WIDTH],
            (rib + 1) * body.rib_m - arc_m,
        )
        for w in range(WIDTH):
            place = min(max(right_m * rows[PER_FLEX * WIDTH + w] - rows[MIDDLE * WIDTH + w], -1.0), 1.0)
            share = place * (0.75 - 0.25 * (place * place))
            here[BENDS * WIDTH + w] = share - rows[EDGE * WIDTH + w]
            rows[EDGE * WIDTH + w] = share
            around_c = air_c + rows[AIR_K * WIDTH + w]
            around_k, skin_k = around_c + KELVIN, here[w] + KELVIN
            sky_w_k = radiating * (skin_k * skin_k + around_k * around_k) * (skin_k + around_k)
            open_w_k = air_w_k * rows[WIND * WIDTH + w] + sky_w_k
            here[OPEN * WIDTH + w] = open_w_k * per_surface
            here[COMES * WIDTH + w] = open_w_k * around_c + sun_w * rows[SUNLIT * WIDTH + w]
    for w in range(width(rows)):
        rows[ON_BEND * WIDTH + w] = 1.0 / (rows[ON_BEND * WIDTH + w] + rows[EDGE * WIDTH + w])


@contracted
def _set_gas(ribs: Floats, rows: Floats, lasts_s: float, body: Body, shares: Shares) -> None:
    """Set the gas's temperature in the middle of a spell, and its sums to nothing."""
    liner, wall_w_k, rim_w_k = (
        liner_w_k(body, shares),
        shares.gas_w_m2k * body.wall_m2,
        shares.gas_w_m2k * body.rim_m2,
    )
    per_heat = 0.5 * lasts_s / body.heat_j_k[WALL_NODES + 3]
    keep = 1.0 / (1.0 + per_heat * (RIBS * liner + 2.0 * wall_w_k + rim_w_k))
    for w in range(WIDTH):
        total = 0.0
        for rib in range(RIBS):
            total += ribs[(rib * RECORD + LINER) * WIDTH + w]
        walls = rows[LEFT * WIDTH + w] + rows[RIGHT * WIDTH + w]
        come = liner * total + wall_w_k * walls + rim_w_k * rows[RIM * WIDTH + w]
        rows[GAS_MID * WIDTH + w] = keep * (per_heat * come + rows[GAS * WIDTH + w])
        rows[LINER_S * WIDTH + w] = 0.0
        rows[ROLLED * WIDTH + w] = 0.0
        rows[ROLLED_RIGHT * WIDTH + w] = 0.0


@contracted
def _set_beat(rows: Floats, beat: Floats, factors: Floats, body: Body, shares: Shares) -> None:
    """Set what a beat puts into tread, surface, carcass and walls of each member."""
    contact, rolling_w, road, road_heat = beat[CONTACT], beat[ROLLING], beat[ROAD], beat[ROAD_HEAT]
    bulk_w, bulk_spin_w, skin_w, skin_spin_w = beat[BULK], beat[BULK_SPIN], beat[SKIN], beat[SKIN_SPIN]
    step, gas, per_k, ref_c = factors[STEP], factors[LINER_GAS], shares.rolling_per_k, shares.rolling_ref_c
    tread, per_arc, per_surface = shares.tread, 1.0 / body.half_arc_m, 1.0 / body.surface_w_k
    bend = (1.0 - shares.tread - shares.wall) / CARCASS_LAYERS
    for w in range(WIDTH):
        on, scrub = 1.0 / (rows[ON_LOAD * WIDTH + w] + rows[EDGE * WIDTH + w]), rows[SCRUB * WIDTH + w]
        # exp by its series for an eighth of the exponent: within 1e-7 up to an exponent of 1.2
        x = (0.5 * on * rows[UNDER_LOAD * WIDTH + w] - ref_c) * (-0.125 * per_k)
        e = 1.0 + x * (1.0 + x * (1.0 / 2.0 + x * (1.0 / 6.0 + x * (1.0 / 24.0 + x * (1.0 / 120.0)))))
        e = e * e
        e = e * e
        rolled = rolling_w * rows[LOSS * WIDTH + w] * (e * e)
        touch = rows[TOUCH * WIDTH + w] * on
        side = min(max(contact * rows[CROWN * WIDTH + w] * per_arc, -1.0), 1.0)
        rows[IN_TREAD * WIDTH + w] = on * (tread * rolled + (bulk_w + scrub * bulk_spin_w))
        rows[TO_ROAD * WIDTH + w] = touch * (road * per_surface)
        from_road = touch * (road_heat + road * rows[ROAD_K * WIDTH + w])
        rows[AT_SURFACE * WIDTH + w] = on * (skin_w + scrub * skin_spin_w) + from_road
        rows[IN_CARCASS * WIDTH + w] = bend * rolled * rows[ON_BEND * WIDTH + w]
        rows[FROM_GAS * WIDTH + w] = gas * rows[GAS_MID * WIDTH + w]
        rows[ROLLED * WIDTH + w] += step * rolled
        rows[ROLLED_RIGHT * WIDTH + w] += step * rolled * (0.5 + 0.5 * side)


@contracted
def _set_quiet(rows: Floats, factors: Floats, shares: Shares) -> None:
    """Set what a spell puts into the carcass of ribs that bear no load."""
    bend = (1.0 - shares.tread - shares.wall) / CARCASS_LAYERS / factors[STEP]
    gas = factors[LINER_GAS]
    for w in range(width(rows)):
        rows[IN_CARCASS * WIDTH + w] = bend * rows[ROLLED * WIDTH + w] * rows[ON_BEND * WIDTH + w]
        rows[FROM_GAS * WIDTH + w] = gas * rows[GAS_MID * WIDTH + w]


@contracted
def _move_wheel(ribs: Floats, rows: Floats, spell: Floats, body: Body, shares: Shares) -> None:
    """Move walls, rim and gas on by a spell: the middle of it first, from there the whole."""
    lasts_s, around_c, brake_w, air = spell[LASTS], spell[WALL_AIR], spell[BRAKE], spell[AIR]
    liner, wall_gas, rim_gas = (
        liner_w_k(body, shares),
        shares.gas_w_m2k * body.wall_m2,
        shares.gas_w_m2k * body.rim_m2,
    )
    per_wall, per_right = lasts_s / body.heat_j_k[WALL_NODES], lasts_s / body.heat_j_k[WALL_NODES + 1]
    per_rim, per_gas = lasts_s / body.heat_j_k[WALL_NODES + 2], 1.0 / body.heat_j_k[WALL_NODES + 3]
    edge_w_k, bead = body.wall_w_k / CARCASS_LAYERS, body.bead_w_k
    per5, per6 = lasts_s * edge_w_k / body.heat_j_k[5 * RIBS], lasts_s * edge_w_k / body.heat_j_k[6 * RIBS]
    wall_air, rim_air = air * shares.wall_air * body.wall_m2, air * shares.rim_air * body.rim_m2
    radiating = shares.emissivity * STEFAN_BOLTZMANN * 4.0 * body.wall_m2
    heat_w = shares.wall / lasts_s
    far = (RIBS - 1) * RECORD
    for w in range(WIDTH):
        air_c, gas_c, wind = (
            around_c + rows[AIR_K * WIDTH + w],
            rows[GAS_MID * WIDTH + w],
            rows[WIND * WIDTH + w],
        )
        left, right, rim = rows[LEFT * WIDTH + w], rows[RIGHT * WIDTH + w], rows[RIM * WIDTH + w]
        left5, left6 = ribs[5 * WIDTH + w], ribs[6 * WIDTH + w]
        right5, right6 = ribs[(far + 5) * WIDTH + w], ribs[(far + 6) * WIDTH + w]
        left_k, right_k = 0.5 * (left + air_c) + KELVIN, 0.5 * (right + air_c) + KELVIN
        left_w_k = wall_air * wind + radiating * (left_k * left_k * left_k)
        right_w_k = wall_air * wind + radiating * (right_k * right_k * right_k)
        rolled_right = heat_w * rows[ROLLED_RIGHT * WIDTH + w]
        into_left = edge_w_k * (left5 + left6 - 2.0 * left) + heat_w * rows[ROLLED * WIDTH + w] - rolled_right
        into_right = edge_w_k * (right5 + right6 - 2.0 * right) + rolled_right
        from_left = bead * (left - rim) + wall_gas * (left - gas_c) + left_w_k * (left - air_c)
        from_right = bead * (right - rim) + wall_gas * (right - gas_c) + right_w_k * (right - air_c)
        into_rim = (
            bead * (left + right - 2.0 * rim) - rim_gas * (rim - gas_c) - rim_air * wind * (rim - air_c)
        )
        mid_left = left + 0.5 * per_wall * (into_left - from_left)
        mid_right = right + 0.5 * per_right * (into_right - from_right)
        mid_rim = rim + 0.5 * per_rim * (brake_w + into_rim)
        from_left = (
            bead * (mid_left - mid_rim) + wall_gas * (mid_left - gas_c) + left_w_k * (mid_left - air_c)
        )
        from_right = (
            bead * (mid_right - mid_rim) + wall_gas * (mid_right - gas_c) + right_w_k * (mid_right - air_c)
        )
        into_rim = bead * (mid_left + mid_right - 2.0 * mid_rim) - rim_gas * (mid_rim - gas_c)
        rows[LEFT * WIDTH + w] = left + per_wall * (into_left - from_left)
        rows[RIGHT * WIDTH + w] = right + per_right * (into_right - from_right)
        rows[RIM * WIDTH + w] = rim + per_rim * (brake_w + into_rim - rim_air * wind * (mid_rim - air_c))
        into_gas = liner * (rows[LINER_S * WIDTH + w] - RIBS * lasts_s * gas_c)
        into_gas += lasts_s * (wall_gas * (mid_left + mid_right - 2.0 * gas_c) + rim_gas * (mid_rim - gas_c))
        rows[GAS * WIDTH + w] += per_gas * into_gas
        ribs[5 * WIDTH + w], ribs[6 * WIDTH + w] = (
            left5 - per5 * (left5 - left),
            left6 - per6 * (left6 - left),
        )
        ribs[(far + 5) * WIDTH + w] = right5 - per5 * (right5 - right)
        ribs[(far + 6) * WIDTH + w] = right6 - per6 * (right6 - right)


@contracted
def _touched(spell: Floats, crowns: Floats, half_m: float, body: Body) -> tuple[int, int]:
    """Return the ribs, first to last - 1, that the load of any member touches in a spell.

    crowns (2,) [-], least and most of the members'; half_m [m] the widest load's. Mirrored, it is the same.
    """
    arc_m = body.half_arc_m
    left_m = min(max(min(spell[LEAST] * crowns[0], spell[LEAST] * crowns[1]), -arc_m), arc_m)
    right_m = min(max(spell[MOST] * crowns[0], spell[MOST] * crowns[1], -arc_m), arc_m)
    first = math.floor((left_m - half_m + arc_m) / body.rib_m)
    last = RIBS - math.floor((arc_m - right_m - half_m) / body.rib_m)
    return max(first, 0), min(last, RIBS)


@contracted
def _keep(ribs: Floats, kept: Floats, body: Body) -> None:
    """Keep the outer 2 mm's means, (ribs, WIDTH)."""
    for rib in range(RIBS):
        here = ribs[rib * RECORD * WIDTH : (rib + 1) * RECORD * WIDTH]
        for w in range(WIDTH):
            under = body.outer_share[1] * here[WIDTH + w] + body.outer_share[2] * here[2 * WIDTH + w]
            kept[rib, w] = body.outer_share[0] * here[w] + under


@folded
def _ride_spell(
    ribs: Floats, rows: Floats, number: int, cut: Cut, first: int, last: int, body: Body, shares: Shares
) -> None:
    """Take a block through a spell; ribs first to last - 1 bear the load in it."""
    spell, factors = cut.spells[number], cut.spell_factors[number]
    if spell[BEFORE] > 0.0:
        flow_across(ribs, rows, spell[BEFORE], body)
    _set_gas(ribs, rows, spell[LASTS], body, shares)
    _set_ribs(ribs, rows, spell, body, shares)
    for beat in range(cut.first[number], cut.first[number + 1]):
        _bear(ribs, rows, first, last, cut.beats[beat, CONTACT], body)
        _set_beat(rows, cut.beats[beat], cut.beat_factors[beat], body, shares)
        move_loaded(ribs, rows, first, last, cut.beat_factors[beat])
    _set_quiet(rows, factors, shares)
    move_quiet(ribs, rows, 0, first, factors)
    move_quiet(ribs, rows, last, RIBS, factors)
    _move_wheel(ribs, rows, spell, body, shares)
    if spell[AFTER] > 0.0:
        flow_across(ribs, rows, spell[AFTER], body)


@folded
def ride_block(
    ribs: Floats,
    rows: Floats,
    kept: Floats,
    cut: Cut,
    crowns: Floats,
    half_m: float,
    body: Body,
    shares: Shares,
) -> None:
    """Take a block, rows (ROWS x WIDTH,), through a ride; fill kept (marks, RIBS, WIDTH) [degC].

    crowns (2,) [-], least and most of all members'; half_m [m], the widest of their loads' half-widths.
    """
    mark, marks = 0, cut.marked.size
    for number in range(cut.spells.shape[0]):
        while mark < marks and cut.marked[mark] <= number:
            _keep(ribs, kept[mark], body)
            mark += 1
        first, last = _touched(cut.spells[number], crowns, half_m, body)
        _ride_spell(ribs, rows, number, cut, first, last, body, shares)
    while mark < marks:
        _keep(ribs, kept[mark], body)
        mark += 1
