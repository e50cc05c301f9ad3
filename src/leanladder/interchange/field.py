"""A session's field as JSON, within leanladder.day-plan/1."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from leanladder.domain.field import Closing, FieldPlan, Pair, Part
from leanladder.domain.ladder import Notice


def field_object(
    field: FieldPlan, *, warnings: Sequence[Notice], order: Sequence[Notice], rules: Sequence[Notice]
) -> dict[str, Any]:
    """Return a session's field; its warnings, order and rules are given with their texts."""
    return {
        "session": field.session.name,
        "mixed": field.mixed,
        "separate": field.separate,
        "parts": [_part(part) for part in field.parts],
        "pairs": [_pair(pair) for pair in field.pairs],
        "closings": [_closing(closing) for closing in field.closings],
        "warnings": _said(warnings),
        "order": _said(order),
        "rules": _said(rules),
    }


def _part(part: Part) -> dict[str, Any]:
    return {
        "riders": list(part.riders),
        "machines": list(part.machines),
        "run": part.run,
        "after_s": part.after_s,
    }


def _pair(pair: Pair) -> dict[str, Any]:
    return {
        "ahead": list(pair.ahead),
        "behind": list(pair.behind),
        "differs": list(pair.differs),
        "closing_kmh": pair.closing_kmh,
        "gained_s": list(pair.gained_s),
        "together_lap": pair.together_lap,
        "behind_lap": pair.behind_lap,
        "round_lap": pair.round_lap,
    }


def _closing(closing: Closing) -> dict[str, Any]:
    return {
        "lap": closing.lap,
        "number": closing.number,
        "closing_kmh": closing.closing_kmh,
        "faster": list(closing.faster),
        "slower": list(closing.slower),
    }


def _said(notices: Sequence[Notice]) -> list[dict[str, str]]:
    return [{"code": notice.code, "text": notice.text} for notice in notices]
