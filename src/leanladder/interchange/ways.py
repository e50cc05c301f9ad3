"""leanladder.ways/1: ways of warming a tyre, as JSON."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict
from typing import Any

from leanladder.domain.ladder import Notice
from leanladder.domain.sentence import Sentence
from leanladder.domain.way import Way, Ways
from leanladder.interchange.envelope import envelope
from leanladder.interchange.ladder import session_inputs

SCHEMA = "leanladder.ways/1"


def ways_object(
    ways: Ways, *, cautions: Sequence[Notice], warnings: Sequence[Notice], said: Callable[[Sentence], str]
) -> dict[str, Any]:
    """Return the leanladder.ways/1 object, no figure rounded; said words a sentence."""
    body: dict[str, Any] = {
        "laps": ways.session.laps,
        "time_s": ways.time_s,
        "speed_mps": ways.speed_mps,
        "paced_by": ways.paced_by,
        "steady_share": ways.steady_share,
        "held_share": ways.held_share,
        "settled": {
            "lap": ways.settled_lap,
            "within_deg": ways.settled_deg,
            "cap_deg": ways.settled_cap_deg,
        },
        "own_pace": {"speed_mps": ways.own_speed_mps, "ready_minute": ways.own_ready_minute},
        "ways": [_way(ways, way, said) for way in ways.ways],
    }
    return envelope(
        SCHEMA,
        parameters=ways.parameters,
        inputs=session_inputs(ways.session),
        cautions=cautions,
        warnings=warnings,
        body=body,
    )


def _way(ways: Ways, way: Way, said: Callable[[Sentence], str]) -> dict[str, Any]:
    return {
        "name": way.name,
        "allowed": way.allowed,
        "rank": way.rank,
        "skin_rise_c": asdict(way.skin_rise_c),
        "tread_rise_c": asdict(way.tread_rise_c),
        "carcass_rise_c": asdict(way.carcass_rise_c),
        "heat_j": way.heat_j,
        "peak_share": way.peak_share,
        "most_lean_deg": way.most_lean_deg,
        "over_card_deg": way.over_card_deg,
        "ready_minute": way.ready_minute,
        "ready_reason": said(never_ready(ways)) if way.ready_minute is None else None,
        "speed_mps": way.speed_mps,
        "sentence": said(way.says),
        "conditions": [said(condition) for condition in way.conditions],
    }


def never_ready(ways: Ways) -> Sentence:
    """Return why a way has no minute from which it is ready."""
    figures = {
        "settled_deg": f"{ways.settled_deg:g}",
        "lap": ways.settled_lap,
        "minutes": f"{ways.time_s / 60.0:.1f}",
    }
    return Sentence("ways.never_ready", figures)
