"""All members at once, lap by lap: they follow the one planned trace, and are counted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from leanladder import catalogue
from leanladder.domain.session import Start
from leanladder.engine import ride
from leanladder.engine.block_rows import WIDTH
from leanladder.engine.carried import FIGURES, Stances, asked_of, leans_carried
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.members import ride_members
from leanladder.engine.pool import each
from leanladder.engine.tyre_thermal import read_c
from leanladder.planning import starts
from leanladder.planning.course import Course
from leanladder.planning.forcing import forcing_and_spin, motion
from leanladder.planning.odds.counting import check_chance, members_for
from leanladder.planning.odds.draws import apply, draw
from leanladder.planning.odds.members import Members, enrol
from leanladder.planning.riding import GAS, Heated, Wheels
from leanladder.planning.rubber import Rubber
from leanladder.planning.setting import Setting

MORE_K, MORE_MIN = 5.0, 1.0  # differences by which a start's slopes are taken
NEARBY_DEG = 0.5  # between caps of two laps of which members follow one alone
OUTER = 1  # of what can be read: the outer 2 mm
PART = 1024  # members whose plain sums one thread does at once


class Standing(NamedTuple):
    """Both tyres of all members, (blocks, NODES, WIDTH) [degC]."""

    front: Floats
    rear: Floats


class Arrived(NamedTuple):
    """The outer 2 mm of both tyres on arrival, (blocks, corners, RIBS, WIDTH) [degC]."""

    front: Floats
    rear: Floats


class Carried(NamedTuple):
    """What members carry at every corner of a lap.

    front, rear (corners, members) [rad bike lean]: by each tyre, at the apex; grip, upright [-]: friction of
    the lesser tyre, leaned and upright.
    """

    front: Floats
    rear: Floats
    grip: Floats
    upright: Floats


class Plannable(NamedTuple):
    """The bike lean [deg] that may be planned for on a lap: riders' scatter stays within what is carried.

    front, rear (corners, members): by each tyre.
    """

    front: Floats
    rear: Floats

    @property
    def lesser(self) -> Floats:
        """By the lesser tyre, (corners, members)."""
        return np.minimum(self.front, self.rear)


@dataclass(frozen=True, slots=True)
class Crowd:
    """The members of a session, with how both tyres of each are now."""

    place: Setting
    members: Members
    now: Standing


def gather(place: Setting, start: Wheels, *, carried_on: bool, count: int | None = None) -> Crowd:
    """Return the members of a session whose tyres start as given, as far as their starts are known.

    carried_on: the tyres come from a run before, where the session's own start does not say how they are.
    count: how many members, a power of two, where other than the session's chance takes. Raises InputError
    for a chance or seed that no plan is made for.
    """
    chance = place.session.chance
    check_chance(chance)
    spreads, corners = catalogue.spreads(), place.bends.shape[0]
    count = members_for(chance) if count is None else count
    members = enrol(place, draw(spreads, corners, count, chance.seed))
    return Crowd(place, members, begun(place, members, start, carried_on=carried_on))


def begun(place: Setting, members: Members, start: Wheels, *, carried_on: bool) -> Standing:
    """Return how members' tyres start where the plan's start as given."""
    kind = "stopped" if carried_on else place.session.start.kind
    ends = zip(start, (place.front, place.rear), strict=True)
    return Standing(*(_begun(place, members, state, tyre, kind) for state, tyre in ends))


def _begun(place: Setting, members: Members, state: Floats, tyre: Rubber, kind: str) -> Floats:
    """One tyre of all members: with the air, and the more or less heat that warmers or a run before left."""
    air_c, values = place.session.weather.air_c, members.values
    excess = state[:, None] - air_c
    if kind == "stopped":
        excess = excess * values["left_heat"]
    elif kind == "warmers":
        by_k, by_min = _warmer_slopes(place, tyre, state)
        excess = excess + by_k[:, None] * values["warmers"] + by_min[:, None] * values["stood"]
    every = air_c + values["air"] + excess
    return np.ascontiguousarray(every.reshape(state.size, -1, WIDTH).transpose(1, 0, 2))


def _warmer_slopes(place: Setting, tyre: Rubber, state: Floats) -> tuple[Floats, Floats]:
    """How a tyre off warmers changes with their temperature [per K] and the time off them [K/min]."""
    start = place.session.start
    if start.warmers_c is None:
        return np.zeros_like(state), np.zeros_like(state)

    def off(changed: Start) -> Floats:
        return starts.off_warmers(tyre, replace(place, session=replace(place.session, start=changed)))

    hotter = off(replace(start, warmers_c=start.warmers_c + MORE_K))
    later = off(replace(start, off_min=start.off_min + MORE_MIN))
    return (hotter - state) / MORE_K, (later - state) / MORE_MIN


def follow_lap(crowd: Crowd, way: Course, speeds: Floats, start: Wheels) -> tuple[Arrived, Standing]:
    """Return members' tyres on arrival and at the line, after a lap at the plan's speeds (points,) [m/s].

    start: the plan's own tyres as the lap begins, whose gas sets the pressure.
    """
    place, members = crowd.place, crowd.members
    moves = motion(way, speeds, place.stance)
    forces = ride.wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])
    order = np.argsort(way.arrivals, kind="stable")
    back = np.argsort(order, kind="stable")
    in_order = bool(np.all(order[:-1] < order[1:]))
    arrived, ended = [], []
    for tyre, of_tyre, now, begins, force in zip(
        (place.front, place.rear), (members.front, members.rear), crowd.now, start, forces, strict=True
    ):
        shaded = way.shaded[: way.lap_steps]
        forcing, spin = forcing_and_spin(moves, force, tyre, place, float(begins[GAS]), shaded)
        states = now.copy()
        outer = ride_members(
            states, tyre.body, tyre.rolling, forcing, spin, of_tyre.differences, way.arrivals[order]
        )
        arrived.append(outer if in_order else np.ascontiguousarray(outer[:, back]))
        ended.append(states)
    return Arrived(*arrived), Standing(*ended)


def followed_nearby(
    place: Setting, followed: tuple[Arrived, Standing], before: Heated, after: Heated
) -> tuple[Arrived, Standing]:
    """Return members' tyres as the lap they followed would leave them, were it ridden a little otherwise.

    before, after: the plan's own tyres on both laps; every member's change as the plan's own did, to first
    order. Within 0.35 K, and 0.03 deg of lean carried, of following anew where all caps moved by NEARBY_DEG.
    """
    both = zip(
        *followed, (place.front, place.rear), before[:2], after[:2], before.end, after.end, strict=True
    )
    arrived, ended = [], []
    for outer, states, tyre, was, now, left, leaves in both:
        moved = read_c(now, tyre.body)[:, OUTER] - read_c(was, tyre.body)[:, OUTER]
        arrived.append(_warmer(outer, moved))
        ended.append(states + (leaves - left)[None, :, None])
    return Arrived(*arrived), Standing(*ended)


def _warmer(outer: Floats, by: Floats) -> Floats:
    """Temperatures (blocks, corners, RIBS, WIDTH), each warmer by what its rib at its corner is."""
    answer = np.empty_like(outer)

    def run(block: int) -> None:
        np.add(outer[block], by[:, :, None], out=answer[block])

    each(run, outer.shape[0])
    return answer


def at_once(crowd: Crowd, corners: int) -> Arrived:
    """Return members' tyres on arrival had they kept all along the temperatures that they have now."""
    both = []
    for tyre, now in zip((crowd.place.front, crowd.place.rear), crowd.now, strict=True):
        share = tyre.body.outer_share
        ribs = tyre.body.ribs
        layers = now[:, : share.size * ribs].reshape(now.shape[0], share.size, ribs, -1)
        outer = np.einsum("l,blrw->brw", share, layers)
        both.append(np.repeat(outer[:, None], corners, axis=1))
    return Arrived(*both)


def carried(crowd: Crowd, arrived: Arrived) -> Carried:
    """Return what members that arrived as given carry at every corner."""
    place, members = crowd.place, crowd.members
    share, corners = place.session.level.grip_share.value, place.bends.shape[0]
    found = np.empty((corners, FIGURES, members.count))

    def run(block: int) -> None:
        first = block * WIDTH
        found[:, :, first : first + WIDTH] = leans_carried(
            place.bends, share, members.machines, arrived.front[block], arrived.rear[block], first
        )

    each(run, members.count // WIDTH)
    return Carried(found[:, 0], found[:, 1], np.minimum(found[:, 2], found[:, 3]), found[:, 4])


def plannable(crowd: Crowd, found: Carried, lap: int) -> Plannable:
    """Return what may be planned for of leans carried, with the scatter that riders have on a lap."""
    lean, line = scatter(crowd, lap)
    planned = np.empty((2, *lean.shape))

    def run(stances: Stances, span: slice) -> None:
        for end, bike in enumerate((found.front, found.rear)):
            planned[end][:, span] = _planned(stances, bike[:, span], lean[:, span], line[:, span])

    _by_parts(crowd.members, run)
    return Plannable(*planned)


def upheld(crowd: Crowd, found: Carried) -> Floats:
    """Return the lean [rad] that asks for all of the lesser tyre's friction, (corners, members).

    With the friction found at the lean carried, and drive as upright against drag there.
    """
    place = crowd.place
    bank, lean = place.bends[:, 1:2], np.empty_like(found.front)

    def run(stances: Stances, span: slice) -> None:
        lesser = np.minimum(found.front[:, span], found.rear[:, span])
        drag = stances.drag_n * GRAVITY_MPS2 * place.bends[:, 2:3]
        along = stances.rolling + drag * _lean_tangents(stances, lesser)
        across = np.sqrt(np.maximum(found.grip[:, span] ** 2 - along**2, 0.0))
        lean[:, span] = bank + np.arctan(across)

    _by_parts(crowd.members, run)
    return lean


def _by_parts(members: Members, run: Callable[[Stances, slice], None]) -> None:
    """Call run with some members' stances and where they stand among all, until all have had their turn.

    Parts depend on the members alone, not on how many threads share them.
    """
    every = members.machines.stances

    def part(number: int) -> None:
        span = slice(number * PART, (number + 1) * PART)
        own = every._replace(crown_m=every.crown_m[span], cg_height_m=every.cg_height_m[span])
        run(own, span)

    each(part, -(-members.count // PART))


def scatter(crowd: Crowd, lap: int) -> tuple[Floats, Floats]:
    """Return riders' scatter on a lap, (corners, members): on leans [deg], on lines' curvature [-]."""
    spreads = {spread.code: spread for spread in catalogue.spreads()}
    members = crowd.members

    def drawn(code: str) -> Floats:
        standard = standard_at(crowd, lap, code)
        return apply(spreads[code].kind, members.sizes[code], standard)

    return drawn("lean_scatter"), drawn("line_scatter")


def standard_at(crowd: Crowd, lap: int, code: str) -> Floats:
    """Return the standard draws (corners, members) of an input that is drawn anew at every rung of a lap."""
    corners = range(crowd.place.bends.shape[0])
    rows = [crowd.members.draws.rung(lap, corner, code) for corner in corners]
    return np.array(rows).reshape(len(rows), crowd.members.count)


def _planned(stances: Stances, bike: Floats, lean_deg: Floats, line: Floats) -> Floats:
    """The bike lean [deg] that may be planned for, so that the lean ridden is one that the tyre carries."""
    lean = np.arctan(_lean_tangents(stances, bike) / line) - np.radians(lean_deg)
    return np.degrees(bike_leans(stances, lean))


def _lean_tangents(stances: Stances, bike_lean: Floats) -> Floats:
    """The tangents of leans at bike leans (..., members) [rad]."""
    arm_m = stances.cg_height_m - stances.crown_m
    return np.asarray(arm_m * np.sin(bike_lean) / (stances.crown_m + arm_m * np.cos(bike_lean)))


def leans(stances: Stances, bike_lean: Floats) -> Floats:
    """Return the lean [rad] at bike leans (..., members) [rad] below a right angle, of each member."""
    return np.asarray(np.arctan(_lean_tangents(stances, bike_lean)))


def bike_leans(stances: Stances, lean: Floats) -> Floats:
    """Return the bike lean [rad] at leans (..., members) [rad], of each member."""
    more = np.arcsin(stances.crown_m * np.sin(lean) / (stances.cg_height_m - stances.crown_m))
    return np.asarray(lean + more)


def asked(crowd: Crowd, arrived: Arrived, bike_lean: Floats) -> Floats:
    """Return friction of front and rear and demand on each [-] at bike leans (corners, members) [rad].

    (corners, 4, members): friction front, rear, demand front, rear.
    """
    place, members = crowd.place, crowd.members
    found = np.empty((bike_lean.shape[0], 4, members.count))

    def run(block: int) -> None:
        first = block * WIDTH
        span = slice(first, first + WIDTH)
        found[:, :, span] = asked_of(
            place.bends,
            bike_lean[:, span],
            members.machines,
            arrived.front[block],
            arrived.rear[block],
            first,
        )

    each(run, members.count // WIDTH)
    return found
