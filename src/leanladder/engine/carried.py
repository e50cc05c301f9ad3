"""The lean that each member of an ensemble carries at each corner: caps.py's question, asked of many.

Members differ in grip and section, so each has its own crown, stance and grip curve. A curve is read off two
tables over glass temperature and rubber temperature: friction, and what one spread of the cold share adds.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.caps import Bend
from leanladder.engine.compiled import compiled, inlined
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.cornering import bike_lean_of_lean
from leanladder.engine.grip import TABLE_FROM_C, TABLE_LENGTH, TABLE_STEP_K

Floats = NDArray[np.float64]

# Glass temperatures of the tables, from the compound's own [K]; straight lines between them.
GLASS_STEP_K = 4.0
GLASS_ROWS = 9
GLASS_FROM_K = -0.5 * GLASS_STEP_K * (GLASS_ROWS - 1)
SCAN = math.radians(2.0)  # a patch is some 20 degrees of lean wide: friction has no detail finer than that
CLOSE = 1e-13  # [-] and rad: as near as numbers come, so that another processor finds the same lean
MOST_ROUNDS = 60
MOST = math.radians(65.0)
FIGURES = 5


class Curves(NamedTuple):
    """One tyre's friction over surface, glass and rubber temperature.

    friction and cold (surfaces, GLASS_ROWS, TABLE_LENGTH) [-]: friction, and what one spread of the cold
    shares adds to it; ribs; rib_m, half_arc_m [m] as in Crown.
    """

    friction: Floats
    cold: Floats
    ribs: int
    rib_m: float
    half_arc_m: float


class Own(NamedTuple):
    """What is each member's own of one tyre, (members,) each.

    level [-], factor on the friction; shift_k and glass_k [K] of the curve and its glass temperature; cold
    [-], spreads of the cold share; crown_radius_m, patch_half_m [m].
    """

    level: Floats
    shift_k: Floats
    glass_k: Floats
    cold: Floats
    crown_radius_m: Floats
    patch_half_m: Floats


class Stances(NamedTuple):
    """Each member's stance: crown_m, cg_height_m (members,) [m]; drag_n [s2/m2] and rolling [-] for all."""

    crown_m: Floats
    cg_height_m: Floats
    drag_n: float
    rolling: float


class Machines(NamedTuple):
    """All members' machines at a circuit: both tyres, stances, and each place's factor on both frictions.

    corner_level (corners, members) [-].
    """

    front: Curves
    rear: Curves
    front_own: Own
    rear_own: Own
    stances: Stances
    corner_level: Floats


class _One(NamedTuple):
    """One member at one corner on one tyre, ready for the search; bank_tan, the tangent of bank [rad]."""

    crown_radius_m: float
    patch_half_m: float
    rib_m: float
    half_arc_m: float
    crown_m: float
    cg_height_m: float
    drag: float
    rolling: float
    side: float
    bank: float
    bank_tan: float


@inlined
def _fill_grips(
    curves: Curves, own: Own, member: int, surface: int, level: float, outer_c: Floats, grips: Floats
) -> float:
    """Fill grips (ribs,) [-] of a member whose outer 2 mm are at outer_c (ribs,) [degC]; return the least.

    Held flat outside the tables, in either direction.
    """
    shift_k, cold = own.shift_k[member], own.cold[member]
    across = min(max((own.glass_k[member] - GLASS_FROM_K) / GLASS_STEP_K, 0.0), GLASS_ROWS - 1.000001)
    row = int(across)
    beside = across - row
    low, high = curves.friction[surface, row], curves.friction[surface, row + 1]
    low_cold, high_cold = curves.cold[surface, row], curves.cold[surface, row + 1]
    least = math.inf
    for rib in range(curves.ribs):
        place = (outer_c[rib] - shift_k - TABLE_FROM_C) / TABLE_STEP_K
        place = min(max(place, 0.0), TABLE_LENGTH - 1.000001)
        index = int(place)
        part = place - index
        lower = (1.0 - part) * low[index] + part * low[index + 1]
        higher = (1.0 - part) * high[index] + part * high[index + 1]
        lower += cold * ((1.0 - part) * low_cold[index] + part * low_cold[index + 1])
        higher += cold * ((1.0 - part) * high_cold[index] + part * high_cold[index + 1])
        grips[rib] = level * ((1.0 - beside) * lower + beside * higher)
        least = min(least, grips[rib])
    return least


@inlined
def _friction(bike_lean: float, one: _One, grips: Floats) -> float:
    """Return the patch's friction [-] at a bike lean [rad]: patch_grip's sum over the ribs that bear load."""
    half_arc_m, per_half = one.half_arc_m, 1.0 / one.patch_half_m
    contact_m = one.side * one.crown_radius_m * (bike_lean - one.bank)
    middle_m = min(max(contact_m, -half_arc_m), half_arc_m)
    from_m = max(middle_m - one.patch_half_m, -half_arc_m)
    upto_m = min(middle_m + one.patch_half_m, half_arc_m)
    first = min(max(int((from_m + half_arc_m) / one.rib_m), 0), grips.size - 1)
    last = min(int((upto_m + half_arc_m) / one.rib_m), grips.size - 1)
    begun = _below((from_m - middle_m) * per_half)
    below, total = begun, 0.0
    for rib in range(first, last):
        edge = _below(((rib + 1) * one.rib_m - half_arc_m - middle_m) * per_half)
        total += (edge - below) * grips[rib]
        below = edge
    ended = _below((upto_m - middle_m) * per_half)
    total += (ended - below) * grips[last]
    return float(total / (ended - begun))


@inlined
def _below(place: float) -> float:
    """Return the share of a parabola of load that lies below a place -1..1 of its half-width."""
    held = min(max(place, -1.0), 1.0)
    return 0.5 + held * (0.75 - 0.25 * held * held)


@inlined
def _demand(bike_lean: float, one: _One) -> float:
    """Return the friction [-] asked for at a bike lean [rad], as caps.py does, by tangents alone."""
    arm_m = one.cg_height_m - one.crown_m
    lean_tan = arm_m * math.sin(bike_lean) / (one.crown_m + arm_m * math.cos(bike_lean))
    across = (lean_tan - one.bank_tan) / (1.0 + lean_tan * one.bank_tan)
    along = one.rolling + one.drag * lean_tan
    return math.sqrt(across * across + along * along)


@inlined
def _short(bike_lean: float, one: _One, share: float, grips: Floats) -> float:
    """Return demand less usable friction [-] at a bike lean [rad]."""
    return _demand(bike_lean, one) - share * _friction(bike_lean, one, grips)


@inlined
def _least_lean(one: _One, usable: float) -> float:
    """Return a bike lean [rad] below which no patch can fall short, whose friction is usable [-] or more."""
    most = max(one.bank + math.atan(usable), 0.0)
    along = one.rolling + one.drag * math.tan(most)
    across = math.sqrt(max(usable * usable - along * along, 0.0))
    lean = max(one.bank + math.atan(across), 0.0)
    return max(bike_lean_of_lean(lean, one.crown_m, one.cg_height_m), one.bank, 0.0)


@inlined
def _carried(one: _One, share: float, least: float, grips: Floats) -> float:
    """Return the least bike lean [rad] at which demand passes share of the friction."""
    low = _least_lean(one, share * least)
    at_low = min(_short(low, one, share, grips), 0.0)
    high, at_high = low, at_low
    while True:
        high = low + SCAN
        if high > MOST:
            return MOST
        at_high = _short(high, one, share, grips)
        if at_high > 0.0:
            break
        low, at_low = high, at_high
    # false position with the Illinois halving, which keeps the root between both ends
    side = 0
    for _ in range(MOST_ROUNDS):
        place = (low * at_high - high * at_low) / (at_high - at_low)
        short = _short(place, one, share, grips)
        if abs(short) < CLOSE or high - low < CLOSE:
            return place
        if short > 0.0:
            high, at_high = place, short
            at_low *= 0.5 if side == 1 else 1.0
            side = 1
        else:
            low, at_low = place, short
            at_high *= 0.5 if side == -1 else 1.0
            side = -1
    return low


@inlined
def _one_of(bend: Bend, stances: Stances, member: int, own: Own, curves: Curves, driven: bool) -> _One:
    drag = stances.drag_n * GRAVITY_MPS2 * bend.radius_m if driven else 0.0
    return _One(
        own.crown_radius_m[member],
        own.patch_half_m[member],
        curves.rib_m,
        curves.half_arc_m,
        stances.crown_m[member],
        stances.cg_height_m[member],
        drag,
        stances.rolling if driven else 0.0,
        bend.side,
        bend.bank,
        math.tan(bend.bank),
    )


@compiled
def leans_carried(
    bends: Floats, share: float, machines: Machines, outer_front: Floats, outer_rear: Floats, first: int
) -> Floats:
    """Return what members carry at every corner, (corners, FIGURES, count).

    Bike lean [rad] of front and rear, friction [-] of each at the lesser of both, the lesser friction [-]
    upright on the first surface. bends (corners, 4) and share as corner_caps takes them; outer_front,
    outer_rear (corners, ribs, count) [degC] on arrival of count members from first on.
    """
    corners, ribs, count = outer_front.shape
    answer = np.empty((corners, FIGURES, count))
    front, rear, stances = machines.front, machines.rear, machines.stances
    own_front, own_rear = machines.front_own, machines.rear_own
    on_front, on_rear = np.empty(ribs), np.empty(ribs)
    at_front, at_rear = np.empty(ribs), np.empty(ribs)
    for corner in range(corners):
        bend = Bend(bends[corner, 0], bends[corner, 1], bends[corner, 2], int(bends[corner, 3]))
        for place in range(count):
            member = first + place
            level = machines.corner_level[corner, member]
            at_front[:] = outer_front[corner, :, place]
            at_rear[:] = outer_rear[corner, :, place]
            ahead = _one_of(bend, stances, member, own_front, front, False)
            behind = _one_of(bend, stances, member, own_rear, rear, True)
            front_level, rear_level = level * own_front.level[member], level * own_rear.level[member]
            least = _fill_grips(front, own_front, member, bend.surface, front_level, at_front, on_front)
            answer[corner, 0, place] = _carried(ahead, share, least, on_front)
            least = _fill_grips(rear, own_rear, member, bend.surface, rear_level, at_rear, on_rear)
            answer[corner, 1, place] = _carried(behind, share, least, on_rear)
            lean = min(answer[corner, 0, place], answer[corner, 1, place])
            answer[corner, 2, place] = _friction(lean, ahead, on_front)
            answer[corner, 3, place] = _friction(lean, behind, on_rear)
            if bend.surface != 0:
                _fill_grips(front, own_front, member, 0, front_level, at_front, on_front)
                _fill_grips(rear, own_rear, member, 0, rear_level, at_rear, on_rear)
            answer[corner, 4, place] = min(
                _friction(bend.bank, ahead, on_front), _friction(bend.bank, behind, on_rear)
            )
    return answer


@compiled
def asked_of(
    bends: Floats, bike_leans: Floats, machines: Machines, outer_front: Floats, outer_rear: Floats, first: int
) -> Floats:
    """Return friction and demand [-] at given bike leans (corners, count) [rad], (corners, 4, count).

    Friction of front and rear, then what the lean asks of each. The rest as leans_carried takes it.
    """
    corners, ribs, count = outer_front.shape
    answer = np.empty((corners, 4, count))
    grips, outer_c = np.empty(ribs), np.empty(ribs)
    for corner in range(corners):
        bend = Bend(bends[corner, 0], bends[corner, 1], bends[corner, 2], int(bends[corner, 3]))
        for place in range(count):
            member = first + place
            for end in range(2):
                curves = machines.front if end == 0 else machines.rear
                own = machines.front_own if end == 0 else machines.rear_own
                one = _one_of(bend, machines.stances, member, own, curves, end == 1)
                outer_c[:] = outer_front[corner, :, place] if end == 0 else outer_rear[corner, :, place]
                level = machines.corner_level[corner, member] * own.level[member]
                _fill_grips(curves, own, member, bend.surface, level, outer_c, grips)
                answer[corner, end, place] = _friction(bike_leans[corner, place], one, grips)
                answer[corner, 2 + end, place] = _demand(bike_leans[corner, place], one)
    return answer
