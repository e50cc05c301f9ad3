"""All ways of warming brought to one mean speed, ridden, and told apart."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq

from leanladder import wording
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.session import Session
from leanladder.domain.way import EndsRise, Rise, Way, WayName, Ways
from leanladder.planning.ladder import MOST_LAPS, MOST_MIN, follow
from leanladder.planning.riding import Caps, caps_on_arrival
from leanladder.planning.tables import Tables, shipped_tables
from leanladder.planning.ways import motions, verdicts
from leanladder.planning.ways.base import Base, base
from leanladder.planning.ways.heating import Warmed, depths_c, heat_motion
from leanladder.planning.ways.motions import Ridden, seconds

CENTRE = 1
SLOWEST_TOP_MPS = 3.0
CLOSE_MPS = 0.01  # of the speed that sets a way's pace; leaves mean speeds within a thousandth

Laps = list[Ridden]
Rode = Callable[[Base, float], Laps]


RIDDEN: Mapping[WayName, Rode] = {
    "growing_lean": motions.growing_lean,
    "upright": motions.upright,
    "steady": motions.steady,
    "weaving": motions.weaving,
    "slow_straights": motions.slow_straights,
}
NAMES = tuple(RIDDEN)


def compare(session: Session, tables: Tables | None = None) -> Ways:
    """Return the ways of warming over the session's laps, all at the pace of the slowest.

    Each way has a pace of its own, the fastest it goes; all are brought to the mean speed of the slowest,
    so that they ride the same laps in the same time. A way is ready from the first corner of the busier side
    on after which the caps of all that side's corners stay within data/ways.toml's settled_deg of those on
    its settled_lap of the ladder's own riding. Raises as planning.ladder.plan does.
    """
    tables = shipped_tables() if tables is None else tables
    if not 1 <= session.laps <= MOST_LAPS:
        fault = Fault(field="laps", value=str(session.laps), allowed=f"1 to {MOST_LAPS}")
        raise InputError(f"{session.laps} laps are not compared at once.", fault)
    made = base(session, tables)
    settled = _settled(session, tables, made)
    paced = _paced(made)
    laps = paced.laps
    if seconds(laps["steady"]) > MOST_MIN * 60.0:
        fault = Fault(field="laps", value=str(session.laps), allowed="3 h of riding at most")
        raise InputError(f"{session.laps} laps would take more than 3 h.", fault)
    found = {name: _found(made, laps[name], settled.caps_deg) for name in NAMES}
    return _ways(made, paced, found, settled)


class Settled(NamedTuple):
    """Where the caps are going to be: a lap of the ladder's own riding, its caps by corner [deg]."""

    lap: int
    caps_deg: Mapping[int, float]
    engine: str
    parameters: str


def _settled(session: Session, tables: Tables, made: Base) -> Settled:
    """The ladder's own riding until its caps are about where they are going to be; checks the session too."""
    ways = made.ways
    asked = replace(session, laps=int(ways["settled_lap"]))
    ladder = follow(asked, tables, minutes=ways["settled_min"]).ladder
    lap = ladder.laps[: asked.laps][-1]
    caps = {rung.number: rung.cap_bike_deg for rung in lap.rungs}
    return Settled(lap.lap, caps, ladder.engine, ladder.parameters)


class Paced(NamedTuple):
    """Every way's laps at one mean speed [m/s], the way whose own pace it is, the ladder's own laps."""

    laps: Mapping[WayName, Laps]
    speed_mps: float
    by: WayName
    growing_own: Laps


def _paced(made: Base) -> Paced:
    own = {name: RIDDEN[name](made, _fastest(made, name)) for name in NAMES}
    slowest = max(NAMES, key=lambda name: seconds(own[name]))
    time_s = seconds(own[slowest])
    laps = {name: own[name] if name == slowest else _slowed(made, name, time_s) for name in NAMES}
    return Paced(laps, distance_m(made) / time_s, slowest, own["growing_lean"])


def distance_m(made: Base) -> float:
    """Return how far all the laps go [m]."""
    return float(sum(way.lap_steps * way.step_m for way in made.laps))


def _fastest(made: Base, name: WayName) -> float:
    """The speed [m/s] that sets a way's pace, at its own."""
    level_mps = made.place.session.level.straight_mps.value
    return min(made.ways["steady_mps"], level_mps) if name in {"steady", "weaving"} else level_mps


def _slowed(made: Base, name: WayName, time_s: float) -> Laps:
    """A way's laps, brought to take time_s [s]."""
    ride = partial(RIDDEN[name], made)
    lowest, own = SLOWEST_TOP_MPS, _fastest(made, name)
    if name == "upright":
        lowest += 2.0 * made.ways["swing_mps"]
    if seconds(ride(own)) >= time_s:
        return ride(own)
    top = brentq(lambda speed: seconds(ride(speed)) - time_s, lowest, own, xtol=CLOSE_MPS)
    return ride(float(top))


class Found(NamedTuple):
    """What a way makes of the tyres, in the terms of domain.way.Way."""

    rises: tuple[EndsRise, EndsRise, EndsRise]
    heat_j: float
    peak_share: float
    most_lean_deg: float
    over_card_deg: float
    ready_minute: float | None


def _found(made: Base, laps: Laps, settled_deg: Mapping[int, float]) -> Found:
    place = made.place
    wheels, heat_j, peak, over = made.start, 0.0, 0.0, -np.inf
    caps: list[Caps] = []
    for lap in laps:
        warmed = heat_motion(place, lap.way, lap.moves, wheels)
        caps.append(caps_on_arrival(place, *warmed.arrived, made.caps.scrubbed))
        heat_j, wheels = heat_j + warmed.heat_j, warmed.end
        peak = max(peak, float(warmed.used.max()))
        over = max(over, _over_card(lap, caps[-1]))
    lean = max(float(np.abs(lap.moves.bike_lean).max()) for lap in laps)
    return Found(
        _rises(made, warmed),
        heat_j,
        peak / place.session.level.grip_share.value,
        float(np.degrees(lean)),
        over,
        _ready(made, laps, caps, settled_deg),
    )


def _over_card(lap: Ridden, caps: Caps) -> float:
    """How far the lean goes beyond the card at any corner of a lap [deg]; below it negative."""
    inside = lap.way.corner_of[: lap.way.lap_steps]
    bike = np.degrees(np.abs(lap.moves.bike_lean))
    corners = [index for index in lap.way.ridden if (inside == index).any()]
    return max((float(bike[inside == index].max() - caps.card[index]) for index in corners), default=0.0)


def _rises(made: Base, warmed: Warmed) -> tuple[EndsRise, EndsRise, EndsRise]:
    """Skin, outer 2 mm and carcass of both tyres above their start: on arrival, mean over a lap's corners."""
    place = made.place
    ends = []
    for tyre, arrived, end, start in zip(
        (place.front, place.rear), warmed.arrived, warmed.end, made.start, strict=True
    ):
        states = arrived if arrived.size else end[None, :]
        ends.append(depths_c(states, tyre.body).mean(axis=0) - depths_c(start, tyre.body))
    skin, tread, carcass = (
        EndsRise(*(Rise(float(end[depth, CENTRE]), float(end[depth, ::2].mean())) for end in ends))
        for depth in range(3)
    )
    return skin, tread, carcass


def _ready(made: Base, laps: Laps, caps: list[Caps], settled_deg: Mapping[int, float]) -> float | None:
    """The minute of the first corner after which the busier side's caps stay near to where they will be."""
    corners = made.place.session.circuit.corners
    rights = sum(corner.side == "right" for corner in corners)
    busier = "right" if 2 * rights >= len(corners) else "left"
    began_s, seen = 0.0, list[tuple[float, bool]]()
    for lap, found in zip(laps, caps, strict=True):
        passed = np.concatenate([[0.0], np.cumsum(lap.moves.dt_s)])
        for index in lap.way.ridden:
            corner = corners[index]
            if corner.side == busier and corner.number in settled_deg:
                near = abs(found.cap[index] - settled_deg[corner.number]) <= made.ways["settled_deg"]
                seen.append((began_s + float(passed[lap.way.arrivals[index]]), bool(near)))
        began_s += float(passed[-1])
    away = max((place for place, (_, near) in enumerate(seen) if not near), default=-1)
    return seen[away + 1][0] / 60.0 if away + 1 < len(seen) else None


def _ways(made: Base, paced: Paced, found: Mapping[WayName, Found], settled: Settled) -> Ways:
    said = verdicts.judge(made.place.session, found)
    ways = tuple(
        Way(
            name,
            verdict.allowed,
            verdict.rank,
            *found[name].rises,
            heat_j=found[name].heat_j,
            peak_share=found[name].peak_share,
            most_lean_deg=found[name].most_lean_deg,
            over_card_deg=found[name].over_card_deg,
            ready_minute=found[name].ready_minute,
            speed_mps=distance_m(made) / seconds(paced.laps[name]),
            says=verdict.says,
            conditions=verdict.conditions,
        )
        for name, verdict in said.items()
    )
    upright = next(way for way in ways if way.name == "upright")
    return Ways(
        session=made.place.session,
        ways=ways,
        paced_by=paced.by,
        time_s=distance_m(made) / paced.speed_mps,
        speed_mps=paced.speed_mps,
        steady_share=verdicts.steady_share(found),
        settled_lap=settled.lap,
        settled_deg=made.ways["settled_deg"],
        own_speed_mps=distance_m(made) / seconds(paced.growing_own),
        own_ready_minute=_found(made, paced.growing_own, settled.caps_deg).ready_minute,
        warnings=verdicts.doubts(found),
        cautions=wording.cautions(warming=upright.allowed),
        engine=settled.engine,
        parameters=settled.parameters,
    )
