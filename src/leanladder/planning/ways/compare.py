"""All ways of warming brought to one mean speed, ridden, and told apart."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from leanladder import wording
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.ladder import Notice
from leanladder.domain.session import Session
from leanladder.domain.way import EndsRise, Rise, Way, WayName, Ways
from leanladder.planning import scrubbing
from leanladder.planning.ladder import plan
from leanladder.planning.laps import MOST_LAPS, MOST_MIN
from leanladder.planning.riding import Caps, caps_on_arrival
from leanladder.planning.tables import Tables, shipped_tables
from leanladder.planning.ways import verdicts
from leanladder.planning.ways.base import Base, base
from leanladder.planning.ways.heating import Warmed, depths_c, heat_motion
from leanladder.planning.ways.motions import Ridden, seconds
from leanladder.planning.ways.pacing import NAMES, Laps, Paced, distance_m, paced
from leanladder.planning.ways.settling import Settled, ready_minute, settled, settled_cap_deg

CENTRE = 1
HOT = {"hot_end", "hot_track"}  # warnings of a ladder whose tyres are, or soon will be, past their range


def compare(session: Session, tables: Tables | None = None) -> Ways:
    """Return the ways of warming over the session's laps, all at the pace of the slowest.

    Each way has a pace of its own, the fastest it goes; all are brought to the mean speed of the slowest,
    so that they ride the same laps in the same time. A way is ready from the first corner of the busier side
    on after which no cap of that side is more than data/ways.toml's settled_deg below that of its
    settled_lap of the ladder's own riding. Raises as planning.ladder.plan does, and OutsideModelError where
    the ways cannot be ridden at one pace.
    """
    tables = shipped_tables() if tables is None else tables
    if not 1 <= session.laps <= MOST_LAPS:
        fault = Fault(field="laps", value=str(session.laps), allowed=f"1 to {MOST_LAPS}")
        raise InputError(f"{session.laps} laps are not compared at once.", fault)
    made = base(session, tables)
    going_to = settled(session, tables, made.ways)
    warnings = plan(session, tables).warnings
    at_one = paced(made)
    if seconds(at_one.laps["steady"]) > MOST_MIN * 60.0:
        fault = Fault(field="laps", value=str(session.laps), allowed="3 h of riding at most")
        raise InputError(f"{session.laps} laps would take more than 3 h.", fault)
    found = {name: _found(made, at_one.laps[name], going_to.caps_deg) for name in NAMES}
    return _ways(made, at_one, found, going_to, warnings)


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
    scrubbed = scrubbing.at_start(place.session, place.tables.condition)
    caps: list[Caps] = []
    for lap in laps:
        warmed = heat_motion(place, lap.way, lap.moves, wheels)
        caps.append(caps_on_arrival(place, *warmed.arrived, scrubbing.limits_deg(place, scrubbed)))
        heat_j, wheels = heat_j + warmed.heat_j, warmed.end
        left = np.degrees(lap.moves.bike_lean - lap.moves.bank)
        scrubbed = scrubbing.after_lap(place, lap.way, np.stack([left, -left]), scrubbed)
        peak = max(peak, float(warmed.used.max()))
        over = max(over, _over_card(lap, caps[-1]))
    lean = max(float(np.abs(lap.moves.bike_lean).max()) for lap in laps)
    return Found(
        _rises(made, warmed),
        heat_j,
        peak / place.session.level.grip_share.value,
        float(np.degrees(lean)),
        over,
        ready_minute(made, laps, caps, settled_deg),
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


def _ways(
    made: Base,
    at_one: Paced,
    found: Mapping[WayName, Found],
    going_to: Settled,
    warnings: tuple[Notice, ...],
) -> Ways:
    session = made.place.session
    turned = any(len(way.ridden) > 0 for way in made.laps)
    need = verdicts.Need(turned, any(warning.code in HOT for warning in warnings))
    said = verdicts.judge(session, found, need, made.ways)
    ways = tuple(
        _way(name, verdict, found[name], distance_m(made) / seconds(at_one.laps[name]))
        for name, verdict in said.items()
    )
    return Ways(
        session=session,
        ways=ways,
        paced_by=at_one.by,
        time_s=distance_m(made) / at_one.speed_mps,
        speed_mps=at_one.speed_mps,
        steady_share=verdicts.steady_share(found),
        settled_lap=going_to.lap,
        settled_deg=made.ways["settled_deg"],
        settled_cap_deg=settled_cap_deg(session, going_to.caps_deg),
        own_speed_mps=distance_m(made) / seconds(at_one.growing_own),
        own_ready_minute=_found(made, at_one.growing_own, going_to.caps_deg).ready_minute,
        held_share=made.place.tables.margin["grip_held"],
        warnings=warnings,
        cautions=wording.cautions(warming=said["upright"].allowed),
        engine=going_to.engine,
        parameters=going_to.parameters,
    )


def _way(name: WayName, verdict: verdicts.Verdict, found: Found, speed_mps: float) -> Way:
    return Way(
        name,
        verdict.allowed,
        verdict.rank,
        *found.rises,
        heat_j=found.heat_j,
        peak_share=found.peak_share,
        most_lean_deg=found.most_lean_deg,
        over_card_deg=found.over_card_deg,
        ready_minute=found.ready_minute,
        speed_mps=speed_mps,
        says=verdict.says,
        conditions=verdict.conditions,
    )
