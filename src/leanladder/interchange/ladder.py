"""leanladder.ladder/1: a ladder as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from leanladder.domain.condition import Condition
from leanladder.domain.ladder import ColdAdvice, Ladder, Lap, Notice, Rubber, Rung, TyreEnd
from leanladder.domain.session import Session, Start
from leanladder.interchange.chance import CauseSaid, chance_object, doubt_object, fall_odds_object
from leanladder.interchange.circuit import circuit_body
from leanladder.interchange.envelope import envelope

SCHEMA = "leanladder.ladder/1"


def ladder_object(
    ladder: Ladder,
    *,
    cautions: Sequence[Notice],
    warnings: Sequence[Notice],
    said: CauseSaid,
    advice: Sequence[ColdAdvice] = (),
) -> dict[str, Any]:
    """Return the leanladder.ladder/1 object of a ladder; figures as they are, none rounded.

    cautions and warnings are given with their texts: what a ladder holds may be codes alone. said words a
    cause by its code. advice, if asked for, adds the cold pressures for wanted hot ones.
    """
    chance = chance_object(ladder.session.chance)
    body: dict[str, Any] = {
        "circuit": circuit_body(ladder.session.circuit),
        **chance,
        "members": ladder.members,
        "fall_odds": fall_odds_object(ladder.fall_odds),
        "laps": [_lap(lap, said) for lap in ladder.laps],
    }
    if advice:
        body["cold_for_hot"] = {each.end: _advice(each) for each in advice}
    return envelope(
        SCHEMA,
        parameters=ladder.parameters,
        inputs=session_inputs(ladder.session) | chance,
        cautions=cautions,
        warnings=warnings,
        body=body,
    )


def session_inputs(session: Session) -> dict[str, Any]:
    """Return what a session was planned from, the circuit by its name and source alone.

    Without its chance, which not all that is made of a session counts on.
    """
    circuit = session.circuit
    return {
        "circuit": {
            "name": circuit.name,
            "source": circuit.source,
            "closed_course": circuit.closed_course,
            "zone": circuit.zone,
        },
        "tyres": {"front": session.front.family, "rear": session.rear.family},
        "machine": session.motorcycle.name,
        "level": session.level.name,
        "start": _start(session.start),
        "laps": session.laps,
        "surface": asdict(session.surface),
        "weather": asdict(session.weather),
        "road": asdict(session.road),
        "cold_pressure": asdict(session.cold_pressure),
        "front_state": _condition(session.front_state),
        "rear_state": _condition(session.rear_state),
        "date": None if session.date is None else session.date.isoformat(),
        "coach_pace": session.coach_pace,
    }


def _condition(state: Condition | None) -> dict[str, Any] | None:
    """A tyre's condition as the session begins, null where not stated: scrubbed to its edges and sound."""
    return None if state is None else asdict(state)


def _advice(advice: ColdAdvice) -> dict[str, Any]:
    return {
        "hot_bar": advice.hot_bar,
        "cold_bar": advice.cold_bar,
        "minimum_bar": advice.minimum_bar,
        "set_c": advice.set_c,
        "lap": advice.lap,
    }


def _start(start: Start) -> dict[str, Any]:
    return {
        "kind": start.kind,
        "warmers_c": start.warmers_c,
        "on_min": start.on_min if start.kind == "warmers" else None,
        "off_min": None if start.kind == "cold" else start.off_min,
        "in_sun": start.in_sun if start.kind == "stopped" else None,
    }


def _lap(lap: Lap, said: CauseSaid) -> dict[str, Any]:
    return {
        "lap": lap.lap,
        "time_s": lap.time_s,
        "minute": lap.minute,
        "straights": lap.straights,
        "least_margin": lap.least_margin,
        "corners": [rung_object(rung, said) for rung in lap.rungs],
        "end": {"front": _tyre_end(lap.front_end), "rear": _tyre_end(lap.rear_end)},
    }


def rung_object(rung: Rung, said: CauseSaid) -> dict[str, Any]:
    """Return one corner on one lap, figures as they are; said words a cause by its code."""
    return {
        "number": rung.number,
        "side": rung.side,
        "cap_lean_deg": rung.cap_lean_deg,
        "cap_bike_deg": rung.cap_bike_deg,
        "physics_bike_deg": rung.physics_bike_deg,
        "card_bike_deg": rung.card_bike_deg,
        "scrubbed_bike_deg": rung.scrubbed_bike_deg,
        "plan_lean_deg": rung.plan_lean_deg,
        "plan_bike_deg": rung.plan_bike_deg,
        "cap_reached": rung.cap_reached,
        "speed_kmh": rung.speed_kmh,
        "limited_by": rung.limited_by,
        "plan_limited_by": rung.plan_limited_by,
        "reason": rung.reason,
        "grip": rung.grip,
        "margin_deg": rung.margin_deg,
        "shoulder_in": rung.shoulder_in,
        "front": rubber_object(rung.front),
        "rear": rubber_object(rung.rear),
        **doubt_object(rung.doubt, said),
    }


def rubber_object(rubber: Rubber) -> dict[str, float]:
    """Return one tyre's temperatures [degC] by third of the crown."""
    return {
        "left_c": rubber.left_c,
        "centre_c": rubber.centre_c,
        "right_c": rubber.right_c,
        "skin_left_c": rubber.skin_left_c,
        "skin_centre_c": rubber.skin_centre_c,
        "skin_right_c": rubber.skin_right_c,
        "carcass_c": rubber.carcass_c,
    }


def _tyre_end(end: TyreEnd) -> dict[str, float]:
    rest = {
        "loaded_c": end.loaded_c,
        "base_c": end.base_c,
        "gas_c": end.gas_c,
        "rim_c": end.rim_c,
        "pressure_bar": end.pressure_bar,
    }
    return rubber_object(end.rubber) | rest
