"""Groups in turn: the runs of a day from a first time, minutes each and how many rounds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from leanladder.domain.errors import Fault, InputError

DAY_MIN = 24 * 60
MOST_RUNS = 60


@dataclass(frozen=True, slots=True)
class Rotation:
    """Who rides when: groups in turn, first at a time, each for minutes with a pause, so many rounds.

    first_min and break_min [min of the day]; minutes, between_min and break_for_min [min]; a run that would
    roll within the break, or into it, waits for its end. break_min None: no break.
    """

    groups: Sequence[str]
    first_min: int
    minutes: float
    between_min: float
    rounds: int
    break_min: int | None = None
    break_for_min: float = 0.0


def minute_of(text: str, field: str) -> int:
    """Return a typed time of day as minutes since midnight; raises InputError."""
    try:
        hour, minute = (int(part) for part in text.split(":")[:2])
    except ValueError:
        raise InputError("this is no time of day.", Fault(field=field, value=text, allowed="HH:MM")) from None
    return hour * 60 + minute


def runs_of(rotation: Rotation, there: Sequence[str] = ()) -> list[dict[str, Any]]:
    """Return the runs of a rotation as a day's file writes them, named by group and count.

    Names that are there already are passed over. Raises InputError for a day that ends before they do.
    """
    _check(rotation)
    found: list[dict[str, Any]] = []
    counts = dict.fromkeys(rotation.groups, 0)
    at_min = float(rotation.first_min)
    for _ in range(rotation.rounds):
        for group in rotation.groups:
            at_min = _after_break(rotation, at_min)
            if at_min >= DAY_MIN:
                raise InputError(
                    "the day ends before the last session.", Fault(field="rounds", value=str(rotation.rounds))
                )
            name = _name(group, counts, there)
            at = f"{int(at_min) // 60:02}:{int(at_min) % 60:02}"
            found.append({"name": name, "group": group, "at": at, "minutes": rotation.minutes})
            at_min += rotation.minutes + rotation.between_min
    return found


def _check(rotation: Rotation) -> None:
    if not rotation.groups:
        raise InputError("no group is chosen.", Fault(field="groups", remedy="Choose who goes out in turn."))
    runs = len(rotation.groups) * rotation.rounds
    if rotation.rounds < 1 or runs > MOST_RUNS:
        fault = Fault(field="rounds", value=str(rotation.rounds), allowed=f"1 to {MOST_RUNS} sessions in all")
        raise InputError("this is no number of rounds.", fault)
    if rotation.minutes + rotation.between_min < 1:
        raise InputError("a session takes time.", Fault(field="minutes", value=f"{rotation.minutes:g}"))


def _after_break(rotation: Rotation, at_min: float) -> float:
    if rotation.break_min is None:
        return at_min
    end_min = rotation.break_min + rotation.break_for_min
    reaches_in = at_min + rotation.minutes > rotation.break_min
    return end_min if reaches_in and at_min < end_min else at_min


def _name(group: str, counts: dict[str, int], there: Sequence[str]) -> str:
    counts[group] += 1
    while f"{group} {counts[group]}" in there:
        counts[group] += 1
    return f"{group} {counts[group]}"
