"""What stands where there is no number: why, what to do, and when to go back to numbers."""

from __future__ import annotations

from typing import Literal

from leanladder.domain.day import DayLadder
from leanladder.domain.sentence import Sentence

Kind = Literal["wet", "drying"]
# Refusals that a worded procedure answers: the road is or may be wet.
_PROCEDURE: dict[str, Kind] = {"wet_or_damp": "wet", "near_dew_point": "wet", "drying": "drying"}


def why(entry: DayLadder) -> tuple[Sentence, ...]:
    """Return why an entry has no number."""
    return () if entry.refusal is None else (Sentence(entry.refusal.code),)


def steps(entry: DayLadder) -> tuple[Sentence, ...]:
    """Return what to do in place of a number: the worded procedure, else the refusal's remedy."""
    return _remedy(entry)


def back(entry: DayLadder) -> tuple[Sentence, ...]:
    """Return when to go back to numbers; nothing beyond the remedy where the road is not wet."""
    return ()


def kind_of(entry: DayLadder) -> Kind | None:
    """Return which worded procedure answers an entry's refusal, None for any other."""
    return None if entry.refusal is None else _PROCEDURE.get(entry.refusal.code)


def _remedy(entry: DayLadder) -> tuple[Sentence, ...]:
    return () if entry.refusal is None else (Sentence(f"remedy.{entry.refusal.code}"),)
