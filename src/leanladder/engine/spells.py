"""A lap cut in time for members: beats of some tenths of a second, gathered in spells of about one.

In a beat the lap does what it does in the mean, so that no heat is lost. In a spell ribs that bear no load
take one step, and so do walls, rim and gas; the others go beat by beat. What flows from rib to rib is moved
between spells. The cuts are the plan's, the same for every member.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import compiled, contracted, inlined
from leanladder.engine.tyre_thermal import (
    LAYER_CARCASS,
    LAYERS,
    LONGEST_S,
    OUTER_LAYERS,
    Body,
    Floats,
    Forcing,
    Shares,
)

Places = NDArray[np.int64]

# The longest [s] of each, how far the load may move within it, of its half-width, and how far a beat's heat
# could warm the outer 2 mm under the load [K].
BEAT_S, BEAT_MOVE, BEAT_K = 0.45, 0.1, 1.6
SPELL_S, SPELL_MOVE = 1.2, 0.4
ACROSS_S = 4.0
STANDING_S = 1.0  # a step without a road is cut above it, on the road above LONGEST_S

GOES_ON, BEAT_BEGINS, SPELL_BEGINS, MARK_STANDS = range(4)
# What a beat holds, means over it.
CONTACT, ROLLING, BULK, BULK_SPIN, SKIN, SKIN_SPIN, ROAD, ROAD_HEAT = range(8)
BEAT_PARTS = 8
# What a spell holds: its length, where the load goes in it, where the carcass bends in the mean, means over
# it, and for how long heat flows from rib to rib just before it and just after.
LASTS, LEAST, MOST, BENT, AIR, TREAD_AIR, WALL_AIR, BRAKE, SUN, BEFORE, AFTER = range(11)
SPELL_PARTS = 11
# Factors of a step: its length, the skin's, the gas's, then some for each layer under the skin.
STEP, SKIN_TAKE, SKIN_UNDER, SKIN_HEAT, SKIN_OWN, SKIN_OUT, LINER_GAS, UNDER = range(8)
KEEP, INNER, TAKE, FOLLOW = range(4)
FACTORS = UNDER + 4 * (LAYERS - 1)


class Cut(NamedTuple):
    """A lap as cut for members.

    beats (beats, BEAT_PARTS), spells (spells, SPELL_PARTS); first (spells + 1,) beat of each spell; marked
    (marks,) spell before which each mark stands; beat_factors, spell_factors (.., FACTORS) as step_factors
    fills them.
    """

    beats: Floats
    spells: Floats
    first: Places
    marked: Places
    beat_factors: Floats
    spell_factors: Floats


class _Ticks(NamedTuple):
    """Steps and, of long ones, equal parts, (ticks,): how long [s], of which step, what begins with it."""

    dt_s: Floats
    step: Places
    begins: Places


@contracted
def liner_w_k(body: Body, shares: Shares) -> float:
    """Return the conductance [W/K] from the innermost layer's middle to the gas, of a rib."""
    return body.rib_m2 * shares.gas_w_m2k * body.liner_w_m2k / (shares.gas_w_m2k + body.liner_w_m2k)


@contracted
def step_factors(factors: Floats, dt_s: float, body: Body, shares: Shares) -> None:
    """Fill factors (FACTORS,) of an implicit midpoint step of dt_s [s] through the layers of a rib.

    From the liner outwards a layer's midpoint is a sum: KEEP of what it was, INNER of the layer within, TAKE
    of the heat that arises in it [W], FOLLOW of the layer without. So the skin alone is left to be solved
    for. Holds for layers that are alike from rib to rib.
    """
    half_s, follow, inward_w_k = 0.5 * dt_s, 0.0, liner_w_k(body, shares)
    for layer in range(LAYERS - 1, 0, -1):
        per_heat = half_s / body.heat_j_k[layer * body.ribs]
        outward, inward = per_heat * body.layer_w_k[layer - 1], per_heat * inward_w_k
        keep = 1.0 / (1.0 + outward + inward * (1.0 - follow))
        at = UNDER + 4 * (layer - 1)
        share = body.depth_share[layer] if layer < LAYER_CARCASS else 1.0
        factors[at + KEEP], factors[at + INNER] = keep, keep * inward
        factors[at + TAKE], factors[at + FOLLOW] = keep * per_heat * share, keep * outward
        follow, inward_w_k = keep * outward, body.layer_w_k[layer - 1]
    per_heat = half_s / body.heat_j_k[0]
    own = 1.0 + per_heat * inward_w_k * (1.0 - follow)
    factors[STEP], factors[LINER_GAS] = dt_s, factors[UNDER + 4 * (LAYERS - 2) + INNER]
    factors[SKIN_TAKE], factors[SKIN_UNDER] = per_heat * body.depth_share[0], per_heat * inward_w_k
    factors[SKIN_HEAT], factors[SKIN_OWN] = per_heat, own
    factors[SKIN_OUT] = own + per_heat * body.surface_w_k


@inlined
def _parts(dt_s: float, road_w_k: float) -> int:
    """Return into how many ticks a step is cut."""
    return math.ceil(dt_s / (LONGEST_S if road_w_k > 0.0 else STANDING_S))


@contracted
def _ticks(forcing: Forcing, marks: Places, body: Body, shares: Shares) -> _Ticks:
    """Return the ticks of a ride and what begins with each."""
    half_m, outer_j_k = body.patch_half_m, 0.0
    for layer in range(OUTER_LAYERS):
        outer_j_k += body.heat_j_k[layer * body.ribs] * 2.0 * half_m / body.rib_m
    steps, count = forcing.dt_s.size, 0
    for step in range(steps):
        count += _parts(forcing.dt_s[step], forcing.road_w_k[step])
    dt_s, of, begins = np.empty(count), np.empty(count, np.int64), np.zeros(count, np.int64)
    tick, mark = 0, 0
    beat_s, beat_k, beat_least, beat_most, spell_s, least, most = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for step in range(steps):
        parts, contact_m = _parts(forcing.dt_s[step], forcing.road_w_k[step]), forcing.contact_m[step]
        warms_w = shares.tread * forcing.rolling_w[step] + forcing.bulk_w[step] + forcing.skin_w[step]
        for part in range(parts):
            lasts_s = forcing.dt_s[step] / parts
            dt_s[tick], of[tick] = lasts_s, step
            warms_k = warms_w * lasts_s / outer_j_k
            while part == 0 and mark < marks.size and marks[mark] <= step:
                mark += 1
                begins[tick] = MARK_STANDS
            far_m = max(most, contact_m) - min(least, contact_m)
            spell_ends = spell_s + lasts_s > SPELL_S or far_m > SPELL_MOVE * half_m
            far_m = max(beat_most, contact_m) - min(beat_least, contact_m)
            beat_ends = beat_s + lasts_s > BEAT_S or beat_k + warms_k > BEAT_K or far_m > BEAT_MOVE * half_m
            if begins[tick] == GOES_ON and (tick == 0 or spell_ends):
                begins[tick] = SPELL_BEGINS
            elif begins[tick] == GOES_ON and beat_ends:
                begins[tick] = BEAT_BEGINS
            if begins[tick] >= SPELL_BEGINS:
                spell_s, least, most = 0.0, contact_m, contact_m
            if begins[tick] >= BEAT_BEGINS:
                beat_s, beat_k, beat_least, beat_most = 0.0, 0.0, contact_m, contact_m
            beat_s, beat_k, spell_s = beat_s + lasts_s, beat_k + warms_k, spell_s + lasts_s
            least, most = min(least, contact_m), max(most, contact_m)
            beat_least, beat_most = min(beat_least, contact_m), max(beat_most, contact_m)
            tick += 1
    return _Ticks(dt_s, of, begins)


@contracted
def _beats(ticks: _Ticks, forcing: Forcing, spin_part: Floats) -> tuple[Floats, Floats]:
    """Return the beats' means (beats, BEAT_PARTS) and lengths (beats,) [s]."""
    count = 0
    for begins in ticks.begins:
        count += begins >= BEAT_BEGINS
    beats, lasts_s, beat = np.zeros((count, BEAT_PARTS)), np.zeros(count), -1
    for tick in range(ticks.dt_s.size):
        beat += ticks.begins[tick] >= BEAT_BEGINS
        dt_s, step = ticks.dt_s[tick], ticks.step[tick]
        spun, sums = dt_s * spin_part[step], beats[beat]
        lasts_s[beat] += dt_s
        sums[CONTACT] += dt_s * forcing.contact_m[step]
        sums[ROLLING] += dt_s * forcing.rolling_w[step]
        sums[BULK] += (dt_s - spun) * forcing.bulk_w[step]
        sums[BULK_SPIN] += spun * forcing.bulk_w[step]
        sums[SKIN] += (dt_s - spun) * forcing.skin_w[step]
        sums[SKIN_SPIN] += spun * forcing.skin_w[step]
        sums[ROAD] += dt_s * forcing.road_w_k[step]
        sums[ROAD_HEAT] += dt_s * forcing.road_w_k[step] * forcing.road_c[step]
    for beat in range(count):
        for part in range(BEAT_PARTS):
            beats[beat, part] /= lasts_s[beat]
    return beats, lasts_s


@contracted
def _spells(ticks: _Ticks, forcing: Forcing) -> Floats:
    """Return the spells' means (spells, SPELL_PARTS), without what flows across."""
    count = 0
    for begins in ticks.begins:
        count += begins >= SPELL_BEGINS
    spells, rolled_j, spell = np.zeros((count, SPELL_PARTS)), np.zeros(count), -1
    for tick in range(ticks.dt_s.size):
        dt_s, step = ticks.dt_s[tick], ticks.step[tick]
        contact_m, rolled = forcing.contact_m[step], dt_s * forcing.rolling_w[step]
        if ticks.begins[tick] >= SPELL_BEGINS:
            spell += 1
            spells[spell, LEAST], spells[spell, MOST] = contact_m, contact_m
        sums = spells[spell]
        rolled_j[spell] += rolled
        sums[LASTS] += dt_s
        sums[LEAST], sums[MOST] = min(sums[LEAST], contact_m), max(sums[MOST], contact_m)
        sums[BENT] += rolled * contact_m
        sums[AIR] += dt_s * forcing.air_w_m2k[step]
        sums[TREAD_AIR] += dt_s * forcing.tread_air_c[step]
        sums[WALL_AIR] += dt_s * forcing.wall_air_c[step]
        sums[BRAKE] += dt_s * forcing.brake_w[step]
        sums[SUN] += dt_s * forcing.sun_w_m2[step]
    for spell in range(count):
        spells[spell, BENT] = spells[spell, BENT] / rolled_j[spell] if rolled_j[spell] > 0.0 else 0.0
        for part in range(AIR, BEFORE):
            spells[spell, part] /= spells[spell, LASTS]
    return spells


@contracted
def _number(ticks: _Ticks, marks: Places, spells: int) -> tuple[Places, Places]:
    """Return the first beat of each of some spells (spells + 1,), and before which spell each mark stands."""
    first, marked = np.zeros(spells + 1, np.int64), np.full(marks.size, spells, np.int64)
    beat, spell, mark = 0, 0, 0
    for tick in range(ticks.begins.size):
        if ticks.begins[tick] == MARK_STANDS:
            while mark < marks.size and marks[mark] <= ticks.step[tick]:
                marked[mark] = spell
                mark += 1
        if ticks.begins[tick] >= SPELL_BEGINS:
            first[spell] = beat
            spell += 1
        beat += ticks.begins[tick] >= BEAT_BEGINS
    first[spells] = beat
    return first, marked


@contracted
def _set_across(spells: Floats, marked: Places) -> None:
    """Set for how long heat flows across: half of what some spells last before them and half after."""
    begun, lasts_s, mark = 0, 0.0, 0
    count = spells.shape[0]
    for spell in range(count):
        lasts_s += spells[spell, LASTS]
        while mark < marked.size and marked[mark] <= spell:
            mark += 1
        ends = spell + 1 == count or (mark < marked.size and marked[mark] == spell + 1)
        if ends or lasts_s + spells[spell + 1, LASTS] > ACROSS_S:
            spells[begun, BEFORE] += 0.5 * lasts_s
            after, place = (
                (spell, AFTER) if ends else (spell + 1, BEFORE)
            )  # at once where no mark stands between
            spells[after, place] += 0.5 * lasts_s
            begun, lasts_s = spell + 1, 0.0


@compiled
def cut(forcing: Forcing, spin_part: Floats, marks: Places, body: Body, shares: Shares) -> Cut:
    """Return a ride as cut for members; forcing, spin_part and marks as ride_members takes them."""
    ticks = _ticks(forcing, marks, body, shares)
    beats, lasts_s = _beats(ticks, forcing, spin_part)
    spells = _spells(ticks, forcing)
    first, marked = _number(ticks, marks, spells.shape[0])
    _set_across(spells, marked)
    beat_factors, spell_factors = np.empty((lasts_s.size, FACTORS)), np.empty((spells.shape[0], FACTORS))
    for beat in range(lasts_s.size):
        step_factors(beat_factors[beat], lasts_s[beat], body, shares)
    for spell in range(spells.shape[0]):
        step_factors(spell_factors[spell], spells[spell, LASTS], body, shares)
    return Cut(beats, spells, first, marked, beat_factors, spell_factors)
