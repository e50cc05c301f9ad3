"""leanladder.day-plan/1 and leanladder.day-check/1: a day's ladders, and what they assume, as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from leanladder.domain.chance import Chance
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder
from leanladder.domain.ladder import Notice
from leanladder.interchange.chance import CauseSaid, chance_object
from leanladder.interchange.envelope import envelope
from leanladder.interchange.ladder import ladder_object

SCHEMA = "leanladder.day-plan/1"
CHECK_SCHEMA = "leanladder.day-check/1"


class Said(Protocol):
    """One assumption in words: what it is about, by kind and name, a code and its text."""

    @property
    def about(self) -> str:
        """What it is about: day, session, machine or rider."""

    @property
    def name(self) -> str | None:
        """The name of what it is about, None for the day."""

    @property
    def code(self) -> str:
        """A stable code."""


@dataclass(frozen=True, slots=True)
class PlanEntry:
    """One combination with what is said beside it: its cautions, warnings and remarks in words.

    coaches: who leads its group; usual_deg [deg, bike lean], in the order of its riders: their own usual
    lean, counted at most the level's.
    """

    entry: DayLadder
    cautions: Sequence[Notice]
    warnings: Sequence[Notice]
    remarks: Sequence[Notice]
    coaches: Sequence[str]
    usual_deg: Sequence[float]


def day_plan_object(  # noqa: PLR0913  # what a plan is made of, each by name
    day: Day,
    circuit: Circuit,
    entries: Iterable[PlanEntry],
    *,
    parameters: str,
    cautions: Sequence[Notice],
    said: CauseSaid,
    chance: Chance,
    band: BandEnd = "likely",
    fields: Sequence[Mapping[str, Any]] = (),
) -> dict[str, Any]:
    """Return the leanladder.day-plan/1 object; each session's combinations in order.

    said words a cause by its code. chance and band, the end of the air's band, are those that it was made
    for; fields: its sessions' fields as objects.
    """
    ladders = [_entry(each, said) for each in entries]
    return envelope(
        SCHEMA,
        parameters=parameters,
        inputs=day_inputs(day, circuit) | {"band": band} | chance_object(chance),
        cautions=cautions,
        warnings=(),
        body={"ladders": ladders, "fields": list(fields)},
    )


def day_check_object(day: Day, circuit: Circuit, said: Iterable[tuple[Said, str]]) -> dict[str, Any]:
    """Return the leanladder.day-check/1 object of assumptions with their texts."""
    listed = [
        {"about": each.about, "name": each.name, "code": each.code, "text": text} for each, text in said
    ]
    return envelope(
        CHECK_SCHEMA,
        parameters=None,
        inputs=day_inputs(day, circuit),
        cautions=(),
        warnings=(),
        body={"assumptions": listed},
    )


def day_inputs(day: Day, circuit: Circuit) -> dict[str, Any]:
    """Return what a day is, without its riders: date, school, circuit, sessions by local time."""
    return {
        "date": day.date.isoformat(),
        "school": day.school,
        "circuit": {"name": circuit.name, "source": circuit.source, "zone": circuit.zone},
        "sessions": [{"name": run.name, "group": run.group, "at": f"{run.at:%H:%M}"} for run in day.sessions],
    }


def _entry(told: PlanEntry, said: CauseSaid) -> dict[str, Any]:
    """One ladder/1 object with who it is for; where there is none, the refusal in place of it."""
    entry = told.entry
    who: dict[str, Any] = {
        "session": entry.session.name,
        "riders": list(entry.riders),
        "usual_deg": list(told.usual_deg),
        "coaches": list(told.coaches),
        "machines": list(entry.machines),
        "machine": entry.machine,
        "after": entry.after,
        "coach_pace": entry.coach_pace,
        "remarks": [{"code": remark.code, "text": remark.text} for remark in told.remarks],
    }
    if entry.ladder is not None:
        ladder = ladder_object(entry.ladder, cautions=told.cautions, warnings=told.warnings, said=said)
        return ladder | who | {"refusal": None}
    tyres = dict(zip(("front", "rear"), entry.tyres, strict=True))
    return who | {"level": entry.level, "tyres": tyres, "refusal": _refusal(entry)}


def _refusal(entry: DayLadder) -> Mapping[str, str | None] | None:
    refusal = entry.refusal
    if refusal is None:
        return None
    fault = refusal.fault
    return {
        "code": refusal.code,
        "text": refusal.message,
        "value": fault.value,
        "allowed": fault.allowed,
        "remedy": fault.remedy,
    }
