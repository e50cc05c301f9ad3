"""One lap, planned: caps, pace and heat brought into agreement.

Caps depend on the rubber on arrival, that on how the lap is ridden, the lap on the caps. The
lap is ridden again with the caps it gave until they no longer move; since a corner only sees
what was ridden before it, few passes are needed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from leanladder.domain.errors import Fault, InputError
from leanladder.engine import cornering, pace, ride
from leanladder.engine.caps import corner_caps
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.pace import Codes, Going
from leanladder.engine.pool import each
from leanladder.engine.tyre_thermal import FLOW_COUNT, Forcing, heat_ride, third_c
from leanladder.planning.card import card_bike_deg
from leanladder.planning.course import Course
from leanladder.planning.forcing import motion, rolling_forcing
from leanladder.planning.rubber import NODES, RIBS, Rubber
from leanladder.planning.setting import Setting

SETTLED_DEG = 0.05  # between the caps of two passes; leaves them within 0.015 of where they would end
MOST_PASSES = 12
GAS = NODES - 1
RIM = NODES - 2
# No rubber, rim or gas is ridden beyond these [degC]: only a sum that ran away gets there.
COLDEST_C, HOTTEST_C = -60.0, 400.0


class Wheels(NamedTuple):
    """Both tyres' states, (NODES,) [degC]."""

    front: Floats
    rear: Floats


class Caps(NamedTuple):
    """Bike leans [deg] and friction [-] by corner, (corners,).

    front and rear: what each tyre's grip carries; card; scrubbed: how far both tyres are; cap: the least of
    these, the level's top and clearance; grip: friction of the lesser tyre; upright: friction upright, of
    the lesser tyre; held, held_upright: what of these two may be counted on.
    """

    front: Floats
    rear: Floats
    card: Floats
    scrubbed: Floats
    cap: Floats
    grip: Floats
    upright: Floats
    held: Floats
    held_upright: Floats


class Offsets(NamedTuple):
    """How caps that hold with a chance differ from those of the plan's own figures, by corner (corners,).

    front, rear [deg], to be added to the lean that all of the friction would carry; grip, upright [-], what
    may be counted on over what there is.
    """

    front: Floats
    rear: Floats
    grip: Floats
    upright: Floats


class Heated(NamedTuple):
    """What a lap made of the tyres.

    front and rear: states on arrival (corners, NODES) [degC]; end: states at the line; time_s
    [s]; load_s (2, RIBS) [s]: how long each rib bore the load; heat_j (2, FLOW_COUNT) [J].
    """

    front: Floats
    rear: Floats
    end: Wheels
    time_s: float
    load_s: Floats
    heat_j: Floats


@dataclass(frozen=True, slots=True)
class Ridden:
    """A lap in agreement with its caps.

    speeds [m/s] and codes at the course's points; passes, how many it took.
    """

    caps: Caps
    heated: Heated
    speeds: Floats
    codes: Codes
    passes: int


class Orders(NamedTuple):
    """How a lap is to be ridden.

    entry_mps [m/s]; drive_mps2, brake_mps2 [m/s2] upright; early, whether at most half the grip
    may be used for them; coach, whether at the coach's pace; before, the caps of the lap before, None on
    the first; scrubbed (corners,) [deg, bike lean], how far both tyres are scrubbed when the lap begins;
    offsets, where the caps are to hold with a chance: without them a fixed share of the grip is held back.
    """

    entry_mps: float
    drive_mps2: float
    brake_mps2: float
    early: bool
    coach: bool
    before: Caps | None
    scrubbed: Floats
    offsets: Offsets | None = None


def caps_on_arrival(
    place: Setting,
    front: Floats,
    rear: Floats,
    scrubbed: Floats | None = None,
    offsets: Offsets | None = None,
) -> Caps:
    """Return every corner's caps from the states on arrival, (corners, NODES) each.

    scrubbed (corners,) [deg, bike lean], how far the tyres are; without it to their edges. Without offsets a
    fixed share of the grip is held back.
    """
    held = place.tables.margin["grip_held"] if offsets is None else 1.0
    share = place.session.level.grip_share.value * held
    found = corner_caps(place.bends, share, place.front.crown, place.rear.crown, place.stance, front, rear)
    front_deg, rear_deg = np.degrees(found[:, 0]), np.degrees(found[:, 1])
    grip, upright = np.minimum(found[:, 2], found[:, 3]), found[:, 4]
    if offsets is None:
        sure = (front_deg, rear_deg, grip * held, upright * held)
    else:
        leans = (front_deg + offsets.front, rear_deg + offsets.rear)
        sure = (*leans, grip * offsets.grip, upright * offsets.upright)
    card = np.array(
        [
            _card(place, int(side), *states)
            for side, *states in zip(place.bends[:, 0], front, rear, strict=True)
        ]
    )
    top = np.full(card.size, place.session.level.top_lean_deg.value)
    edge = np.full(card.size, math.inf) if scrubbed is None else scrubbed
    cap = np.maximum(np.minimum.reduce([sure[0], sure[1], card, edge, top, place.clearance]), 0.0)
    return Caps(sure[0], sure[1], card, edge, cap, grip, upright, sure[2], sure[3])


def _card(place: Setting, side: int, front: Floats, rear: Floats) -> float:
    """The card at the colder tyre's third, on the cold side of what is known of the road."""
    third = 0 if side < 0 else 2
    share = place.front.crown.outer_share
    colder = min(third_c(front, RIBS, third, share), third_c(rear, RIBS, third, share))
    cold_side = max(colder - place.session.road.spread_k, min(colder, 0.0))
    bike = card_bike_deg(cold_side, place.session.level.card_factor.value * place.kept, place.tables)
    return 0.0 if bike is None else bike


def check_followed(end: Wheels) -> None:
    """Raise InputError where the heat kernel's steps ran away: figures that only together are no tyre's."""
    both = np.stack([end.front, end.rear])
    if not np.all((both > COLDEST_C) & (both < HOTTEST_C)):
        remedy = "Check the figures in the tyre's and the machine's files against the shipped ones."
        raise InputError("the heat in these tyres cannot be followed.", Fault(remedy=remedy))


def speeds_within(place: Setting, way: Course, orders: Orders, caps: Caps) -> Floats:
    """Return the speeds (points,) [m/s] of a lap ridden as ordered within caps that are given."""
    return _speeds(place, way, orders, caps)[0]


def ride_lap(place: Setting, way: Course, start: Wheels, orders: Orders) -> Ridden:
    """Return the lap that starts from the states given and is ridden within its own caps.

    Speeds are those of caps that the lap's own repeat within SETTLED_DEG.
    """
    corners = place.bends.shape[0]
    caps = orders.before
    if caps is None:
        front, rear = (np.tile(state, (corners, 1)) for state in start)
        caps = caps_on_arrival(place, front, rear, orders.scrubbed, orders.offsets)
    for passes in range(1, MOST_PASSES + 1):
        lap = _pass(place, way, start, orders, caps, passes)
        moved = float(np.max(np.abs(lap.caps.cap - caps.cap), initial=0.0))
        if moved < SETTLED_DEG:
            break
        caps = lap.caps
    return lap


def _pass(place: Setting, way: Course, start: Wheels, orders: Orders, caps: Caps, passes: int) -> Ridden:
    speeds, codes = _speeds(place, way, orders, caps)
    heated = heat_lap(place, way, start, speeds)
    own = caps_on_arrival(place, heated.front, heated.rear, orders.scrubbed, orders.offsets)
    return Ridden(own, heated, speeds, codes, passes)


def _speeds(place: Setting, way: Course, orders: Orders, caps: Caps) -> tuple[Floats, Codes]:
    going = _going(place, way, orders, caps)
    straight_mps = place.session.level.straight_mps.value
    return pace.lap_speeds(going, place.machine, straight_mps, orders.entry_mps)


def heat_lap(place: Setting, way: Course, start: Wheels, speeds: Floats) -> Heated:
    """Return what a lap at speeds (points,) [m/s] makes of tyres that start as given.

    The two tyres share nothing but the lap, and the kernel holds no lock: they are heated side by side. What
    the lap does to them is worked out before on one thread: short sums on two would wait for each other.
    """
    moves = motion(way, speeds, place.stance)
    forces = ride.wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])
    tyres, shaded = (place.front, place.rear), way.shaded[: way.lap_steps]
    forcing = [
        rolling_forcing(moves, force, tyre, place, float(state[GAS]), shaded)
        for tyre, force, state in zip(tyres, forces, start, strict=True)
    ]
    warmed: dict[int, _Warmed] = {}

    def heat(end: int) -> None:
        warmed[end] = _heat_tyre(tyres[end], way, forcing[end], start[end])

    each(heat, len(tyres))
    front, rear = warmed[0], warmed[1]
    return Heated(
        front.arrived,
        rear.arrived,
        Wheels(front.end, rear.end),
        float(moves.dt_s.sum()),
        np.stack([front.load_s, rear.load_s]),
        np.stack([front.heat_j, rear.heat_j]),
    )


class _Warmed(NamedTuple):
    """One tyre of a lap: states on arrival (corners, NODES), at the line, load_s and heat_j."""

    arrived: Floats
    end: Floats
    load_s: Floats
    heat_j: Floats


def _heat_tyre(tyre: Rubber, way: Course, forcing: Forcing, at_start: Floats) -> _Warmed:
    end, load_s, heat_j = at_start.copy(), np.zeros(RIBS), np.zeros(FLOW_COUNT)
    order = np.argsort(way.arrivals, kind="stable")
    arrived = np.empty((order.size, NODES))
    arrived[order] = heat_ride(end, tyre.body, tyre.rolling, forcing, way.arrivals[order], heat_j, load_s)
    return _Warmed(arrived, end, load_s, heat_j)


def _going(place: Setting, way: Course, orders: Orders, caps: Caps) -> Going:
    """The lap's bounds at each point, from the caps."""
    share = place.session.level.grip_share.value
    limits = np.radians(_lean_limits(place, way, orders, caps))
    upright = float(np.min(caps.held_upright, initial=10.0))
    held = caps.held[way.corner_of] if caps.held.size else 1.0
    grip = np.where(way.corner_of >= 0, held, upright) * share
    most = place.tables.margin["early_grip_share"] * upright * GRAVITY_MPS2 if orders.early else math.inf
    size = way.points.size
    return Going(
        way.curvature_per_m,
        way.slope,
        limits,
        np.asarray(grip),
        np.full(size, min(orders.drive_mps2, most)),
        np.full(size, min(orders.brake_mps2, most)),
        way.step_m,
    )


def _lean_limits(place: Setting, way: Course, orders: Orders, caps: Caps) -> Floats:
    """Lean [deg] at each point: the corner's cap, or between corners the least cap of that side."""
    stance = place.stance

    def leans(bike_deg: Floats) -> Floats:
        bike = np.radians(bike_deg)
        return np.degrees(cornering.leans_of_bike_leans(bike, stance.crown_m, stance.cg_height_m))

    if not caps.cap.size:
        return np.full(way.points.size, math.degrees(math.atan(place.session.level.grip_share.value)))
    own = leans(caps.cap)
    carried = own if orders.before is None else np.minimum(own, leans(orders.before.cap))
    lefts = place.bends[:, 0] < 0
    least = float(own.min())
    least_left = float(own[lefts].min()) if lefts.any() else least
    least_right = float(own[~lefts].min()) if (~lefts).any() else least
    between = np.where(way.curvature_per_m > 0, least_left, least_right)
    at = np.where(way.carried, carried[way.corner_of], own[way.corner_of])
    return np.where(way.corner_of >= 0, at, between)
