"""What holds if a stopped run rolls again now: fans turn by turn, and which lap that is like."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from django.utils.safestring import mark_safe

from leanladder import drawing, wording
from leanladder.domain.circuit import Side
from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder, Lap, Rung
from leanladder.records.models import Given, Standing
from leanladder.web.handing import Ready
from leanladder.web.live.cooling import entries_of, rolled_min

SIDES: tuple[Side, ...] = ("left", "right")


class Told(NamedTuple):
    """A restart on the page: fans as drawings, sentences above them, why there is no number where none is."""

    fans: tuple[str, ...]
    like: tuple[str, ...]
    refusals: tuple[str, ...]


class Turn(NamedTuple):
    """A turn's side and least cap [deg, bike lean] over combinations on one lap."""

    side: Side
    cap_deg: float


def told(what: Ready, given: Given | None, stop: Standing, language: str) -> Told:
    """Return a restart as the page tells it, beside what held at the flag."""
    run_name = what.entries[0].session.name
    ladders = _ladders(what.entries)
    refusals = _refusals(what.entries, language)
    if not ladders:
        return Told((), (), refusals)
    was = entries_of(what.found.pk, run_name, given)
    rolled = rolled_min(what.found.pk, run_name, stop, given)
    now, flag = first_caps(ladders), flag_caps(_ladders(was), rolled)
    least = ladders[0].laps[0].least_margin
    fans = tuple(
        _fan(number, turn, flag.get(number, turn), language, least=number == least)
        for number, turn in sorted(now.items())
    )
    return Told(fans, tuple(_like(paired(what.entries, was), language)), refusals)


def _ladders(entries: Iterable[DayLadder]) -> list[Ladder]:
    return [each.ladder for each in entries if each.ladder is not None]


def _refusals(entries: Iterable[DayLadder], language: str) -> tuple[str, ...]:
    found = [each.refusal for each in entries if each.refusal is not None]
    known = wording.codes(language)
    return tuple(
        wording.text(each.code, language) if f"refusal.{each.code}" in known else each.message
        for each in found
    )


def first_caps(ladders: Sequence[Ladder]) -> dict[int, Turn]:
    """Return each turn's least cap on the first lap that rides it, of all combinations."""
    found: dict[int, Turn] = {}
    for ladder in ladders:
        seen: set[int] = set()
        for lap in ladder.laps:
            fresh = [rung for rung in lap.rungs if rung.number not in seen]
            seen |= {rung.number for rung in fresh}
            _keep_least(found, fresh)
    return found


def flag_caps(ladders: Sequence[Ladder], rolled: float) -> dict[int, Turn]:
    """Return each turn's least cap on the lap that was ridden at the flag, rolled [min] after rolling."""
    found: dict[int, Turn] = {}
    for ladder in ladders:
        _keep_least(found, _lap_at(ladder.laps, rolled).rungs)
    return found


def _lap_at(laps: Sequence[Lap], minute: float) -> Lap:
    return next((lap for lap in reversed(laps) if lap.minute <= minute), laps[0])


def _keep_least(found: dict[int, Turn], rungs: Iterable[Rung]) -> None:
    for rung in rungs:
        turn = Turn(rung.side, rung.cap_bike_deg)
        found[rung.number] = min(found.get(rung.number, turn), turn, key=lambda each: each.cap_deg)


def as_lap(pairs: Sequence[tuple[Ladder, Ladder]], side: Side) -> int:
    """Return the latest lap given out none of whose limits to a side stands above those now; 0 for none.

    pairs: each combination's ladder now and as given out; limits in whole degrees, as they are told.
    """
    return min((_as_lap(now, was, side) for now, was in pairs), default=0)


def _as_lap(now: Ladder, was: Ladder, side: Side) -> int:
    first, reached = first_caps([now]), 0
    for lap in was.laps:
        rungs = [rung for rung in lap.rungs if rung.side == side and rung.number in first]
        if any(math.floor(rung.cap_bike_deg) > math.floor(first[rung.number].cap_deg) for rung in rungs):
            break
        reached = lap.lap
    return reached


def paired(now: Sequence[DayLadder], was: Sequence[DayLadder]) -> list[tuple[Ladder, Ladder]]:
    """Return the ladders of combinations now beside those of the same riders as given out."""
    found = []
    for entry in now:
        other = next((each for each in was if set(each.riders) & set(entry.riders)), None)
        if entry.ladder is not None and other is not None and other.ladder is not None:
            found.append((entry.ladder, other.ladder))
    return found


def _like(pairs: Sequence[tuple[Ladder, Ladder]], language: str) -> Iterable[str]:
    turns = first_caps([now for now, _ in pairs]).values()
    for side in SIDES:
        if any(turn.side == side for turn in turns):
            lap = as_lap(pairs, side)
            yield wording.text(f"live.like_{side}" if lap else f"live.below_{side}", language, lap=lap)


def _fan(number: int, now: Turn, flag: Turn, language: str, *, least: bool) -> str:
    shown = drawing.Restart(number, now.side, math.floor(now.cap_deg), math.floor(flag.cap_deg), least)
    title = wording.unmarked(
        "live.fan", language, number=number, now_deg=shown.now_deg, flag_deg=shown.flag_deg,
        side=wording.unmarked(f"side.{now.side}", language),
    )  # fmt: skip
    return mark_safe(drawing.restart_fan(shown, drawing.Name(title, f"again-{number}")))  # noqa: S308  # ours
