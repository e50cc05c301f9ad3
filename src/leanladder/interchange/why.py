"""leanladder.why/1: why one rung's cap is what it is, as JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from leanladder.domain.circuit import Corner
from leanladder.domain.ladder import Notice
from leanladder.domain.why import CapLimit, Change, GripParts, HeatBudget, TyreWhy, Why
from leanladder.interchange.chance import CauseSaid, chance_object
from leanladder.interchange.envelope import envelope
from leanladder.interchange.ladder import rung_object, session_inputs

SCHEMA = "leanladder.why/1"


def why_object(
    answer: Why,
    *,
    sentences: Sequence[Notice],
    changes: Sequence[tuple[str, str | None]],
    cautions: Sequence[Notice],
    warnings: Sequence[Notice],
    said: CauseSaid,
) -> dict[str, Any]:
    """Return the leanladder.why/1 object of an answer; figures as they are, none rounded.

    sentences, cautions and warnings are given with their texts; changes with what each is and, where it does
    not apply, why not, in words; said words a cause by its code.
    """
    session = answer.ladder.session
    asked = {"lap": answer.lap.lap, "corner": answer.corner.number}
    why = {"sentences": [{"code": each.code, "text": each.text} for each in sentences]}
    changed = [_change(change, *words) for change, words in zip(answer.changes, changes, strict=True)]
    return envelope(
        SCHEMA,
        parameters=answer.ladder.parameters,
        inputs=session_inputs(session) | chance_object(session.chance) | asked,
        cautions=cautions,
        warnings=warnings,
        body=_where(answer) | why | _behind(answer, said) | {"changes": changed},
    )


def _where(answer: Why) -> dict[str, Any]:
    lap = answer.lap
    return {
        "lap": {"lap": lap.lap, "minute": lap.minute, "time_s": lap.time_s},
        "corner": _corner(answer.corner),
    }


def _behind(answer: Why, said: CauseSaid) -> dict[str, Any]:
    """The rung, and what stands behind it."""
    return {
        "rung": rung_object(answer.rung, said),
        "limits": [_limit(limit) for limit in answer.limits],
        "card": asdict(answer.card) | {"side": answer.side},
        "level_share": answer.level_share,
        "held_share": answer.held_share,
        "tyres": {"front": _tyre(answer.front), "rear": _tyre(answer.rear)},
    }


def _corner(corner: Corner) -> dict[str, Any]:
    return {
        "number": corner.number,
        "name": corner.name,
        "side": corner.side,
        "radius_m": corner.radius_m,
        "apex_m": corner.apex_m,
        "same_side_gap_m": corner.same_side_gap_m,
    }


def _limit(limit: CapLimit) -> dict[str, Any]:
    return {
        "limit": limit.limit,
        "bike_lean_deg": limit.bike_lean_deg,
        "lean_deg": limit.lean_deg,
        "sets": limit.sets,
    }


def _tyre(tyre: TyreWhy) -> dict[str, Any]:
    return {
        "ribs": [asdict(rib) for rib in tyre.ribs],
        "heat": {
            "since_rolling": _budget(tyre.since_rolling),
            "last_lap": None if tyre.last_lap is None else _budget(tyre.last_lap),
        },
        "grip": {"at_cap": _grip(tyre.cap_grip), "at_usual": _grip(tyre.usual_grip)},
    }


def _budget(heat: HeatBudget) -> dict[str, Any]:
    return {
        "minutes": heat.minutes,
        "in_kj": _kj(heat.heat_in_j),
        "out_kj": _kj(heat.heat_out_j),
        "stored_kj": _kj(heat.stored_j),
        "in_sum_kj": sum(heat.heat_in_j.values()) / 1000.0,
        "out_sum_kj": sum(heat.heat_out_j.values()) / 1000.0,
        "stored_sum_kj": sum(heat.stored_j.values()) / 1000.0,
    }


def _kj(flows: Mapping[str, float]) -> dict[str, float]:
    return {name: joule / 1000.0 for name, joule in flows.items()}


def _grip(parts: GripParts) -> dict[str, Any]:
    return asdict(parts)


def _change(change: Change, what: str, why_not: str | None) -> dict[str, Any]:
    return {
        "change": change.kind,
        "what": what,
        "applies": change.why_not is None,
        "why_not": why_not,
        "lap": change.lap,
        "cap_bike_deg": change.cap_bike_deg,
        "cap_lean_deg": change.cap_lean_deg,
        "difference_deg": change.difference_deg,
        "limited_by": change.limited_by,
    }
