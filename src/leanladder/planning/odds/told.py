"""A lap whose caps hold with a stated chance, and what its members tell."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.domain.chance import Doubt
from leanladder.engine import cornering
from leanladder.engine.falls import Planned
from leanladder.engine.grip import Floats
from leanladder.planning.course import Course
from leanladder.planning.odds import falls
from leanladder.planning.odds.causes import Explained, explained, main_causes
from leanladder.planning.odds.counting import seldom, sure
from leanladder.planning.odds.crowd import (
    NEARBY_DEG,
    Arrived,
    Carried,
    Crowd,
    Plannable,
    Standing,
    asked,
    at_once,
    carried,
    follow_lap,
    followed_nearby,
    leans,
    plannable,
    standard_at,
    upheld,
)
from leanladder.planning.riding import (
    SETTLED_DEG,
    Caps,
    Offsets,
    Orders,
    Ridden,
    Wheels,
    caps_on_arrival,
    check_followed,
    ride_lap,
)
from leanladder.planning.setting import Setting

MOST_RIDES = 3  # of a lap, each with members counted anew unless it agrees with the last count
SAME_LEAN = 1e-9  # rad
BAND = (0.05, 0.5, 0.95)


class Counted(NamedTuple):
    """What was counted of a lap.

    caps that hold with the session's chance; offsets, how they differ from those of the plan's own figures
    with nothing held back; leans, what members may plan for; held_back (corners,), where grip would carry
    more by the chance but falls would be too many.
    """

    caps: Caps
    offsets: Offsets
    leans: Plannable
    held_back: NDArray[np.bool_]


class Told(NamedTuple):
    """What members tell of a lap.

    doubts, by corner; counted, the last count; now: members' tyres at the line; kept_front, kept_rear
    (NODES, members): logarithm of the odds that no rung of the lap is a fall; rides, how many it took.
    """

    doubts: tuple[Doubt, ...]
    counted: Counted
    now: Standing
    kept_front: Floats
    kept_rear: Floats
    rides: int


def no_offsets(place: Setting) -> Offsets:
    """Return the offsets of a plan that holds nothing back."""
    nothing, all_of_it = np.zeros(place.bends.shape[0]), np.ones(place.bends.shape[0])
    return Offsets(nothing, nothing, all_of_it, all_of_it)


def count(crowd: Crowd, arrived: Arrived, own: tuple[Floats, Floats], scrubbed: Floats, lap: int) -> Counted:
    """Return what members that arrived at every corner carry, counted into caps.

    own: the plan's own states on arrival, front and rear (corners, NODES); scrubbed (corners,) [deg].
    """
    place = crowd.place
    found = carried(crowd, arrived)
    nominal = caps_on_arrival(place, *own, scrubbed, no_offsets(place))
    leans = plannable(crowd, found, lap)
    surely = sure(leans.lesser, place.session.chance.of_100)
    rarely = _seldom_falls(crowd, found, leans)
    offsets = _offsets(crowd, found, leans, (nominal, np.minimum(surely, rarely)))
    return Counted(caps_on_arrival(place, *own, scrubbed, offsets), offsets, leans, rarely < surely)


def count_still(crowd: Crowd, start: Wheels, scrubbed: Floats) -> Counted:
    """Return what members would carry had all tyres kept all along the temperatures they start with."""
    corners = crowd.place.bends.shape[0]
    front, rear = (np.tile(state, (corners, 1)) for state in start)
    return count(crowd, at_once(crowd, corners), (front, rear), scrubbed, 1)


def ride_sure(crowd: Crowd, way: Course, start: Wheels, orders: Orders, lap: int) -> tuple[Ridden, Told]:
    """Return a lap by its number that is ridden within caps which hold with the session's chance.

    The plan's own tyres ride the lap until its caps repeat, offset as members were last counted, on the first
    with a fixed share held back; then all members follow its speeds and are counted anew, until what was
    counted and what is ridden agree within SETTLED_DEG. Where three rides do not suffice, the lesser of the
    last two caps holds.
    """
    place = crowd.place

    def ride_with(offsets: Offsets | None) -> Ridden:
        ridden = ride_lap(place, way, start, orders._replace(offsets=offsets))
        check_followed(ridden.heated.end)
        return ridden

    def counted_on(followed: _Followed) -> Counted:
        own = (followed.ridden.heated.front, followed.ridden.heated.rear)
        return count(crowd, followed.arrived, own, orders.scrubbed, lap)

    ridden = ride_with(orders.offsets)
    followed = _followed(crowd, way, ridden, start, None)
    counted, rides = counted_on(followed), 1
    caps, agree = counted.caps, _agree(counted.caps, ridden.caps)
    while not agree and rides < MOST_RIDES:
        ridden, rides = ride_with(counted.offsets), rides + 1
        followed = _followed(crowd, way, ridden, start, followed)
        # where caps repeat, members moved with the plan's own tyres, and less than a count could tell
        caps, agree = ridden.caps, _agree(counted.caps, ridden.caps)
        if not agree:
            counted = counted_on(followed)
            caps, agree = counted.caps, _agree(counted.caps, ridden.caps)
    if not agree:
        caps = caps._replace(cap=np.minimum(caps.cap, ridden.caps.cap))
    ridden = Ridden(caps, ridden.heated, ridden.speeds, ridden.codes, ridden.passes)
    doubts, kept = _doubts(crowd, way, ridden, (followed.arrived, counted), lap)
    return ridden, Told(doubts, counted, followed.now, *kept, rides)


def _agree(caps: Caps, others: Caps) -> bool:
    return _apart_deg(caps, others) < SETTLED_DEG


class _Followed(NamedTuple):
    """Members' tyres on a lap, and that lap."""

    arrived: Arrived
    now: Standing
    ridden: Ridden


def _followed(crowd: Crowd, way: Course, ridden: Ridden, start: Wheels, last: _Followed | None) -> _Followed:
    """Members' tyres on a lap: followed step by step, or from one near it that was followed before."""
    if last is None or _apart_deg(ridden.caps, last.ridden.caps) > NEARBY_DEG:
        return _Followed(*follow_lap(crowd, way, ridden.speeds, start), ridden)
    members = (last.arrived, last.now)
    return _Followed(*followed_nearby(crowd.place, members, last.ridden.heated, ridden.heated), ridden)


def _apart_deg(caps: Caps, others: Caps) -> float:
    """How far caps lie apart at most."""
    return float(np.max(np.abs(caps.cap - others.cap), initial=0.0))


def _seldom_falls(crowd: Crowd, found: Carried, leans: Plannable) -> Floats:
    """The bike lean [deg] at each corner that falls no more often than the level's sessions may."""
    place, stance, sizes = crowd.place, crowd.place.stance, crowd.members.sizes
    of_rung = place.session.level.most_falls.value / place.tables.margin["session_rungs"]
    about = np.radians(np.median(leans.lesser, axis=-1))
    # a tyre's own level blurs as the line does: once more on top of its draws, for what lies between members
    blurred = float(np.hypot(sizes["line_scatter"], max(sizes["front_level"], sizes["rear_level"])))
    scatter = falls.scatter_rad(about, sizes["lean_scatter"], blurred)
    lean = seldom(upheld(crowd, found), scatter, of_rung)
    return np.degrees(cornering.bike_leans(lean, stance.crown_m, stance.cg_height_m))


def _offsets(crowd: Crowd, found: Carried, leans: Plannable, own: tuple[Caps, Floats]) -> Offsets:
    """How counted caps differ from the plan's own; the lesser tyre's is that of both together.

    own: the plan's own caps, and the lean that both tyres hold with the chance and without too many falls.
    """
    of_100, (nominal, both) = crowd.place.session.chance.of_100, own
    every = (leans.front, leans.rear, found.grip, found.upright)
    front, rear, grip, upright = (sure(values, of_100) for values in every)
    ahead = front <= rear
    return Offsets(
        np.where(ahead, both, front) - nominal.front,
        np.where(ahead, rear, both) - nominal.rear,
        grip / nominal.grip,
        upright / nominal.upright,
    )


def fastest(way: Course, speeds: Floats, index: int) -> tuple[int, float]:
    """Return the point of a corner at which a lap at speeds [m/s] leans most, and that lean [rad]."""
    start, stop = way.ranges[index]
    points = np.arange(start, min(stop, way.points.size))
    leans = cornering.leans_of_speeds(speeds[points], np.abs(way.curvature_per_m[points]))
    # a corner held at its cap leans alike at many points: of those, the tightest, whatever the last bits say
    held = leans >= leans.max() - SAME_LEAN
    best = int(np.argmax(np.where(held, np.abs(way.curvature_per_m[points]), -1.0)))
    return int(points[best]), float(leans.max())


def _planned_deg(place: Setting, way: Course, ridden: Ridden) -> Floats:
    """The bike lean [deg] that the lap reaches at each corner, at most its cap; 0 where it is not ridden."""
    leans = np.zeros(place.bends.shape[0])
    for index in way.ridden:
        leans[index] = fastest(way, ridden.speeds, index)[1]
    bike = np.degrees(cornering.bike_leans(leans, place.stance.crown_m, place.stance.cg_height_m))
    return np.minimum(bike, ridden.caps.cap)


def _doubts(
    crowd: Crowd, way: Course, ridden: Ridden, counted: tuple[Arrived, Counted], lap: int
) -> tuple[tuple[Doubt, ...], tuple[Floats, Floats]]:
    arrived, found = counted
    of_rungs, kept = _falls(crowd, arrived, _planned_deg(crowd.place, way, ridden), way)
    planned = found.leans.lesser
    causes = _causes(crowd, planned, lap)
    low, middle, high = np.quantile(planned, BAND, axis=1)
    doubts = tuple(
        _doubt(crowd.place, (low[index], middle[index], high[index]), float(of_rungs[index]), causes, index)
        for index in range(of_rungs.size)
    )
    return doubts, kept


def _doubt(
    place: Setting, bike: tuple[float, float, float], fall_odds: float, causes: Explained, index: int
) -> Doubt:
    stance = place.stance

    def lean(bike_deg: float) -> float:
        there = cornering.lean_of_bike_lean(math.radians(bike_deg), stance.crown_m, stance.cg_height_m)
        return math.degrees(there)

    low, middle, high = (float(each) for each in bike)
    return Doubt(
        lean_p50_deg=lean(middle),
        lean_band_deg=(lean(low), lean(high)),
        bike_p50_deg=middle,
        bike_band_deg=(low, high),
        fall_odds=min(fall_odds, 1.0),
        main_causes=main_causes(causes, index),
    )


def _causes(crowd: Crowd, planned: Floats, lap: int) -> Explained:
    draws = crowd.members.draws
    own = dict(draws.corners)
    own |= {code: standard_at(crowd, lap, code) for code in ("lean_scatter", "line_scatter")}
    return explained(planned, draws.common, own)


def _falls(
    crowd: Crowd, arrived: Arrived, bike_deg: Floats, way: Course
) -> tuple[Floats, tuple[Floats, Floats]]:
    """The odds of a fall at every corner by either tyre, and what front and rear keep up over the lap."""
    members, bank = crowd.members, crowd.place.bends[:, 1]
    bike = np.broadcast_to(np.radians(bike_deg)[:, None], (bike_deg.size, members.count))
    lean, found = leans(members.machines.stances, bike), asked(crowd, arrived, bike)
    sizes, ridden = members.sizes, list(way.ridden)
    scatter = falls.scatter_rad(lean.mean(axis=1), sizes["lean_scatter"], sizes["line_scatter"])
    odds, kept = np.zeros(bike_deg.size), []
    for end, tyre in enumerate((members.front, members.rear)):
        friction = found[:, end] / tyre.own_level
        rows = (friction[ridden], found[ridden, 2 + end], lean[ridden])
        at, up = falls.of_lap(Planned(*rows, bank[ridden], scatter[ridden]), tyre.level_spread)
        odds[ridden] += at
        kept.append(up)
    return odds, (kept[0], kept[1])
