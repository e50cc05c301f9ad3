"""What stands where there is no number: why, what to do, and when to go back to numbers."""

from __future__ import annotations

from typing import Literal

from leanladder.domain.day import DayLadder
from leanladder.domain.sentence import Sentence
from leanladder.planning import procedures

Kind = Literal["wet", "drying"]
# Refusals that a worded procedure answers: the road is wet, is drying, or may be damp.
_PROCEDURE: dict[str, Kind] = {"wet_or_damp": "wet", "near_dew_point": "wet", "drying": "drying"}
# Of these the remedy stands first: the road may turn out to be dry.
_MAY_BE_DRY = ("near_dew_point",)


def why(entry: DayLadder) -> tuple[Sentence, ...]:
    """Return why an entry has no number."""
    return () if entry.refusal is None else (Sentence(entry.refusal.code),)


def steps(entry: DayLadder) -> tuple[Sentence, ...]:
    """Return what coaches do in place of a number: the worded procedure, else the refusal's remedy."""
    kind = kind_of(entry)
    return _remedy(entry) if kind is None else (*_first(entry), *procedures.steps(kind))


def rider_steps(entry: DayLadder) -> tuple[Sentence, ...]:
    """Return what a rider does in place of a number."""
    kind = kind_of(entry)
    return _remedy(entry) if kind is None else procedures.rider_steps(kind)


def back(entry: DayLadder) -> tuple[Sentence, ...]:
    """Return when to go back to numbers; nothing beyond the remedy where the road is not wet."""
    kind = kind_of(entry)
    return () if kind is None else procedures.back(kind)


def kind_of(entry: DayLadder) -> Kind | None:
    """Return which worded procedure answers an entry's refusal, None for any other."""
    return None if entry.refusal is None else _PROCEDURE.get(entry.refusal.code)


def _first(entry: DayLadder) -> tuple[Sentence, ...]:
    may_be_dry = entry.refusal is not None and entry.refusal.code in _MAY_BE_DRY
    return _remedy(entry) if may_be_dry else ()


def _remedy(entry: DayLadder) -> tuple[Sentence, ...]:
    return () if entry.refusal is None else (Sentence(f"remedy.{entry.refusal.code}"),)
