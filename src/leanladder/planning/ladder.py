"""Session in, Ladder out: the main job."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import NamedTuple

import numpy as np

from leanladder import catalogue, wording
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.domain.ladder import Ladder, Lap, Notice, Rubber, Rung, TyreEnd
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.engine import ENGINE, cornering, pace
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import Body, base_c, read_c, third_c
from leanladder.planning import rubber as rubber_module
from leanladder.planning import scrubbing, starts
from leanladder.planning.condition import check_fit
from leanladder.planning.course import Course, course
from leanladder.planning.forcing import pressure_bar
from leanladder.planning.limits import limit_of, plan_limit_of
from leanladder.planning.notices import notices
from leanladder.planning.riding import GAS, RIM, Caps, Orders, Ridden, Wheels, ride_lap
from leanladder.planning.scrubbing import Scrubbed
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import Remark, Tables, shipped_tables

MOST_LAPS = 40
MOST_MIN = 180.0
SAME_LEAN = 1e-9  # rad
# No rubber, rim or gas is ridden beyond these [degC]: only a sum that ran away gets there.
COLDEST_C, HOTTEST_C = -60.0, 400.0
RIBS = rubber_module.RIBS


class Step(NamedTuple):
    """A ridden lap with the way it was ridden on, the minute it began and how it was to be ridden.

    scrubbed: how far it leaves the tyres scrubbed; most_deg (2,) [deg], the most lean on the crown, left
    and right.
    """

    way: Course
    ridden: Ridden
    minute: float
    orders: Orders
    scrubbed: Scrubbed
    most_deg: Floats


class Followed(NamedTuple):
    """A ladder, and both tyres as the last of its laps left them: their heat, how far they are scrubbed.

    most_deg (2,) [deg]: the most lean on the crown, left and right, of all its laps.
    """

    ladder: Ladder
    left: Wheels
    scrubbed: Scrubbed
    most_deg: Floats


def plan(session: Session, tables: Tables | None = None) -> Ladder:
    """Return the ladder that answers a session.

    Raises InputError for more than 40 laps or 3 h, OutsideModelError where there is no number:
    rubber below 0 degC, for which the caution card has none.
    """
    return follow(session, tables).ladder


def follow(
    session: Session,
    tables: Tables | None = None,
    *,
    begin: Callable[[Setting], Wheels] | None = None,
    minutes: float | None = None,
) -> Followed:
    """Return the ladder that answers a session, and how it leaves the tyres.

    begin makes the tyres as they start, where the session's own start does not say it; minutes [min], where
    given, asks for the laps begun within them, up to the session's laps. Raises as plan does.
    """
    tables = shipped_tables() if tables is None else tables
    _check(session)
    check_fit(session, tables.condition)
    place = setting(session, tables)
    steps = _ridden(place, (begin or started)(place), minutes)
    _check_followed(steps)
    if minutes is not None:
        session = replace(session, laps=sum(step.minute < minutes for step in steps))
        place = replace(place, session=session)
    session_laps = tuple(_lap(place, number, step) for number, step in enumerate(steps, 1))
    laps, asked = session_laps[: session.laps], steps[: session.laps]
    _check_brittle(laps)
    said = [_warning(remark) for remark in notices(place, laps, session_laps)]
    ladder = Ladder(
        session=session,
        laps=laps,
        warnings=tuple(said),
        cautions=wording.cautions(
            warming=any(straights_code(place, step.orders) == "straights_early" for step in asked)
        ),
        engine=ENGINE,
        parameters=_digest(session),
    )
    most_deg = np.max([step.most_deg for step in asked], axis=0)
    return Followed(ladder, asked[-1].ridden.heated.end, asked[-1].scrubbed, most_deg)


def _digest(session: Session) -> str:
    """A short name of every figure the plan counts on."""
    return catalogue.digest(
        session.front.tyre,
        session.rear.tyre,
        session.motorcycle,
        session.level,
        session.surface,
        _tables_digest(),
    )


@cache
def _tables_digest() -> str:
    return catalogue.digest(*(catalogue.parameters(name) for name in catalogue.table_names()))


def _check(session: Session) -> None:
    if not 1 <= session.laps <= MOST_LAPS:
        fault = Fault(field="laps", value=str(session.laps), allowed=f"1 to {MOST_LAPS}")
        raise InputError(f"{session.laps} laps are not planned at once.", fault)
    if session.weather.air_c < 0.0 and session.start.kind != "warmers":
        raise _brittle(f"{session.weather.air_c:g} degC")


def _brittle(value: str) -> OutsideModelError:
    code = "rubber_below_zero"
    remedy = wording.text(f"remedy.{code}")
    fault = Fault(field="air", value=value, allowed="rubber of 0 degC and above", remedy=remedy)
    return OutsideModelError(code, wording.text(code), fault)


def _check_brittle(laps: Iterable[Lap]) -> None:
    """Raise OutsideModelError where a shoulder leaned on is below 0 degC: the card has no number there."""
    for lap in laps:
        for rung in lap.rungs:
            shoulder_c = min(getattr(tyre, f"{rung.side}_c") for tyre in (rung.front, rung.rear))
            if shoulder_c < 0.0:
                raise _brittle(f"{shoulder_c:.1f} degC at turn {rung.number} of lap {lap.lap}")


def started(place: Setting) -> Wheels:
    """Return both tyres as they are when the wheels roll."""
    start = place.session.start
    cold = starts.soaked(place.session.weather.air_c)
    if start.kind == "cold":
        return Wheels(cold, cold.copy())
    if start.kind == "warmers":
        return Wheels(starts.off_warmers(place.front, place), starts.off_warmers(place.rear, place))
    warm = _warmed_up(place, Wheels(cold, cold.copy()))
    stood = [
        starts.stood(state, tyre, place, start.off_min, start.in_sun)
        for state, tyre in zip(warm, (place.front, place.rear), strict=True)
    ]
    return Wheels(*stood)


def _warmed_up(place: Setting, cold: Wheels) -> Wheels:
    """The tyres after a session of the same riders on the same road from cold."""
    return next(step.ridden.heated.end for step in ride(place, cold, MOST_LAPS) if _warm(place, step))


def _warm(place: Setting, step: Step) -> bool:
    """Whether a lap ends what counts as a warmed-up session."""
    return step.minute + step.ridden.heated.time_s / 60.0 >= place.tables.margin["warm_session_min"]


def _ridden(place: Setting, start: Wheels, minutes: float | None) -> list[Step]:
    """The laps asked for, and after few of them as many more as a session takes.

    What a tyre will never reach, and which side stays cold, shows only then.
    """
    steps = []
    for step in ride(place, start, MOST_LAPS):
        steps.append(step)
        over = minutes is not None and step.minute + step.ridden.heated.time_s / 60.0 >= minutes
        if (over or len(steps) >= place.session.laps) and _warm(place, step):
            break
    return steps


def ride(place: Setting, start: Wheels, laps: int) -> Iterator[Step]:
    """Yield lap after lap; the first from a standstill at the pit exit, or at the line without one.

    Raises InputError once the laps take more than 3 h.
    """
    circuit, margin = place.session.circuit, place.tables.margin
    first = course(circuit, circuit.pit_exit_m or 0.0, margin["arrival_m"])
    whole = course(circuit, 0.0, margin["arrival_m"])
    minute, entry, state = 0.0, pace.SLOWEST_MPS, start
    before: Caps | None = None
    scrubbed = scrubbing.at_start(place.session, place.tables.condition)
    for number in range(1, laps + 1):
        way = first if number == 1 else whole
        asked = orders(place, number, entry, before, state, scrubbing.limits_deg(place, scrubbed))
        ridden = ride_lap(place, way, state, asked)
        leaned = scrubbing.leaned_deg(place, way, ridden.speeds)
        scrubbed = scrubbing.after_lap(place, way, leaned, scrubbed)
        yield Step(way, ridden, minute, asked, scrubbed, leaned.max(axis=1))
        minute += ridden.heated.time_s / 60.0
        if minute > MOST_MIN and number < laps:
            fault = Fault(field="laps", value=str(laps), allowed="3 h of riding at most")
            raise InputError(f"{laps} laps would take more than 3 h.", fault)
        entry, state, before = float(ridden.speeds[way.lap_steps]), ridden.heated.end, ridden.caps


def orders(
    place: Setting, number: int, entry_mps: float, before: Caps | None, start: Wheels, scrubbed_deg: Floats
) -> Orders:
    """Return how lap number is to be ridden from tyres that start it as given, warm and scrubbed.

    On the early laps, and until the rubber under the upright machine is in its range, at most half the grip
    is for upright drive and braking; where the level may not be told to warm tyres by them, or the circuit
    does not allow it, those laps keep to the coach's pace.
    """
    level = place.session.level
    early = number <= place.tables.margin["early_laps"] or not _centre_in(place, start)
    hard = level.warming and place.session.circuit.hard_upright_allowed
    coach = not hard and (early or number <= level.coach_laps)
    return Orders(
        entry_mps,
        level.coach_drive_mps2.value if coach else level.drive_mps2.value,
        level.coach_brake_mps2.value if coach else level.brake_mps2.value,
        early,
        coach,
        before,
        scrubbed_deg,
    )


def _centre_in(place: Setting, start: Wheels) -> bool:
    """Whether the outer 2 mm under the upright machine are in their range on both tyres."""
    share, session = place.front.crown.outer_share, place.session
    fitted = zip(start, (session.front, session.rear), strict=True)
    return all(third_c(state, RIBS, 1, share) >= tyre.tyre.working_low_c.value for state, tyre in fitted)


def straights_code(place: Setting, asked: Orders) -> str:
    """Return the wording code of how to ride the straights of a lap."""
    if asked.coach or not place.session.level.warming:
        return "straights_coach"
    return "straights_early" if asked.early else "straights_usual"


def _check_followed(steps: Iterable[Step]) -> None:
    """Raise InputError where the heat kernel's steps ran away: figures that only together are no tyre's."""
    for step in steps:
        ends = np.stack([step.ridden.heated.end[0], step.ridden.heated.end[1]])
        if not np.all((ends > COLDEST_C) & (ends < HOTTEST_C)):
            remedy = "Check the figures in the tyre's and the machine's files against the shipped ones."
            raise InputError("the heat in these tyres cannot be followed.", Fault(remedy=remedy))


def _warning(remark: Remark) -> Notice:
    told = Sentence(remark.said or remark.code, remark.figures)
    return Notice(remark.code, wording.text(told.code, "en", **told.figures), told)


def _lap(place: Setting, number: int, step: Step) -> Lap:
    ridden, way = step.ridden, step.way
    heated = ridden.heated
    fronts = _readings(place.front.body, heated.front, heated.load_s[0])
    rears = _readings(place.rear.body, heated.rear, heated.load_s[1])
    rungs = tuple(_rung(place, step, index, fronts[index], rears[index]) for index in way.ridden)
    least = min(rungs, key=_margin_order).number if rungs else 0
    return Lap(
        lap=number,
        time_s=ridden.heated.time_s,
        minute=step.minute,
        straights=wording.text(straights_code(place, step.orders)),
        least_margin=least,
        rungs=rungs,
        front_end=_end(place, ridden, 0),
        rear_end=_end(place, ridden, 1),
    )


def _end(place: Setting, ridden: Ridden, which: int) -> TyreEnd:
    state, load_s = ridden.heated.end[which], ridden.heated.load_s[which]
    body = (place.front, place.rear)[which].body
    _, outer, _ = read_c(state, body)
    return TyreEnd(
        rubber=_readings(body, state[None, :], load_s)[0],
        loaded_c=loaded(outer, load_s),
        base_c=loaded(base_c(state, RIBS), load_s),
        gas_c=float(state[GAS]),
        rim_c=float(state[RIM]),
        pressure_bar=pressure_bar(place, which == 1, float(state[GAS])),
    )


def loaded(ribs_c: Floats, load_s: Floats) -> float:
    """Return the mean [degC] of ribs (RIBS,), each weighted by how long it bore the load (RIBS,) [s]."""
    return float(ribs_c @ load_s / load_s.sum())


def _readings(body: Body, states: Floats, load_s: Floats) -> list[Rubber]:
    """States (n, NODES) as a probe and a gun would read them, and the carcass under the load."""
    skin, outer, carcass = np.moveaxis(read_c(states, body), 1, 0)
    thirds = [layer.reshape(len(states), 3, RIBS // 3).mean(axis=2) for layer in (outer, skin)]
    under = (carcass * load_s).sum(axis=1) / load_s.sum()
    return [Rubber(*row) for row in np.column_stack([*thirds, under]).tolist()]


def _rung(place: Setting, step: Step, index: int, front: Rubber, rear: Rubber) -> Rung:
    ridden, corner = step.ridden, place.session.circuit.corners[index]
    caps, level, stance = ridden.caps, place.session.level, place.stance
    cap_bike = float(caps.cap[index])
    cap_lean = math.degrees(
        cornering.lean_of_bike_lean(math.radians(cap_bike), stance.crown_m, stance.cg_height_m)
    )
    physics = float(min(caps.front[index], caps.rear[index]))
    point, lean = _fastest(step, index)
    lean_deg = min(math.degrees(lean), cap_lean)
    bike_deg = math.degrees(
        cornering.bike_lean_of_lean(math.radians(lean_deg), stance.crown_m, stance.cg_height_m)
    )
    limit = limit_of(place, caps, index)
    reached = cap_lean - lean_deg <= place.tables.margin["reached_deg"]
    shoulders = {
        "front_grip": getattr(front, f"{corner.side}_c"),
        "rear_grip": getattr(rear, f"{corner.side}_c"),
    }
    told = shoulders.get(limit, min(shoulders.values()))
    return Rung(
        number=corner.number,
        side=corner.side,
        cap_lean_deg=cap_lean,
        cap_bike_deg=cap_bike,
        physics_bike_deg=physics,
        card_bike_deg=float(caps.card[index]),
        plan_lean_deg=lean_deg,
        plan_bike_deg=min(bike_deg, cap_bike),
        cap_reached=reached,
        speed_kmh=_held_mps(float(ridden.speeds[point]), lean, math.radians(lean_deg)) * 3.6,
        limited_by=limit,
        plan_limited_by=limit if reached else plan_limit_of(int(ridden.codes[point]), limit),
        reason=wording.text(limit, rubber_c=math.floor(told), side=corner.side),
        grip=float(caps.grip[index]),
        margin_deg=cap_bike - level.usual_lean_deg.value,
        shoulder_in=_shoulder_in(place, shoulders),
        front=front,
        rear=rear,
        scrubbed_bike_deg=_finite(float(caps.scrubbed[index])),
    )


def _finite(value_deg: float) -> float | None:
    return value_deg if math.isfinite(value_deg) else None


def _margin_order(rung: Rung) -> tuple[float, float, int]:
    """Least margin first: by the cap, and where caps are alike by what grip alone would carry."""
    return rung.margin_deg, rung.physics_bike_deg, rung.number


def _held_mps(speed_mps: float, lean: float, held: float) -> float:
    """The speed on the same radius at a lean [rad] that the cap may have held to a hair less."""
    return speed_mps if held >= lean else speed_mps * math.sqrt(math.tan(held) / math.tan(lean))


def _shoulder_in(place: Setting, shoulders: Mapping[str, float]) -> bool:
    """Whether the shoulder leaned on has reached its working range on both tyres."""
    session = place.session
    return (
        shoulders["front_grip"] >= session.front.tyre.working_low_c.value
        and shoulders["rear_grip"] >= session.rear.tyre.working_low_c.value
    )


def _fastest(step: Step, index: int) -> tuple[int, float]:
    """The point of a corner at which the planned lap leans most, and that lean [rad]."""
    way, speeds = step.way, step.ridden.speeds
    start, stop = way.ranges[index]
    points = np.arange(start, min(stop, way.points.size))
    leans = cornering.leans_of_speeds(speeds[points], np.abs(way.curvature_per_m[points]))
    # a corner held at its cap leans alike at many points: of those, the tightest, whatever the last bits say
    held = leans >= leans.max() - SAME_LEAN
    best = int(np.argmax(np.where(held, np.abs(way.curvature_per_m[points]), -1.0)))
    return int(points[best]), float(leans.max())
