"""The tyres of a day's machines: as stated, as each session leaves them, and what is to be said of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from leanladder.domain.circuit import Side
from leanladder.domain.condition import Condition
from leanladder.domain.day import Day, DayMachine
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.ladder import Ladder
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.planning.condition import age_years, at_coach_pace, cycle_loss, made_on
from leanladder.planning.ladder import Followed
from leanladder.planning.scrubbing import at_start
from leanladder.planning.tables import Tables, shipped_tables

SIDES: tuple[Side, ...] = ("left", "right")


@dataclass(frozen=True, slots=True)
class Tyres:
    """A machine's tyres after so many sessions of the day.

    front and rear: their condition by then, None before the first where nobody stated it; coach_pace, whether
    the next session is ridden at it for that reason; sessions, how many they rode.
    """

    front: Condition | None
    rear: Condition | None
    coach_pace: bool
    sessions: int = 0

    @property
    def alike(self) -> tuple[object, ...]:
        """What machines that share a ladder have in common."""
        return self.front, self.rear, self.coach_pace


def tyres_of(day: Day) -> dict[str, Tyres]:
    """Return the tyres of a day's machines as stated, by the machines' names.

    Raises InputError for a date code that no week has, or that lies after the day.
    """
    found = {}
    for machine in day.machines:
        states = (machine.front_state, machine.rear_state)
        for end, state in zip(("front", "rear"), states, strict=True):
            _check_date_code(day, f"machines, {machine.name}, {end}_state, date_code", state)
        found[machine.name] = Tyres(*states, coach_pace=None in states)
    return found


def _check_date_code(day: Day, field: str, state: Condition | None) -> None:
    if state is None or state.date_code is None:
        return
    made = made_on(state.date_code)
    if made is not None and made <= day.date:
        return
    allowed = f'"WWYY", week and year, not after {day.date:%Y-%m-%d}'
    fault = Fault(day.file, None, field, state.date_code, allowed, "Read the four digits on the wall again.")
    raise InputError("no tyre was made then." if made is None else "the tyre is younger than the day.", fault)


def is_scrubbed(machine: DayMachine) -> bool:
    """Return whether both tyres of a machine are stated to be scrubbed to their edges."""
    sides = (
        math.inf if state is None else getattr(state, f"scrubbed_{side}_deg")
        for state in (machine.front_state, machine.rear_state)
        for side in SIDES
    )
    return all(reached is None for reached in sides)


def unstated(state: Condition | None) -> tuple[str, ...]:
    """Return the codes of what a plan assumes of a tyre because nobody stated it."""
    if state is None:
        return ("condition_unknown",)
    asked = (("age_unknown", state.date_code), ("heat_cycles_unknown", state.heat_cycles))
    return tuple(code for code, stated in asked if stated is None)


def with_tyres(session: Session, tyres: Tyres, day: Day) -> Session:
    """Return a session on these tyres on the day's date; at the coach's pace where nobody looked at one."""
    fitted = replace(session, front_state=tyres.front, rear_state=tyres.rear, date=day.date)
    return at_coach_pace(fitted) if tyres.coach_pace else fitted


def after_session(tyres: Tyres, followed: Followed, tables: Tables | None = None) -> Tyres:
    """Return the tyres as a session leaves them: scrubbed further, a heat cycle older.

    One that nobody looked at counts as scrubbed to the leans ridden, else sound.
    """
    table = (shipped_tables() if tables is None else tables).condition
    sessions = tyres.sessions + 1
    leaned = Condition(*followed.most_deg.tolist())
    front, rear = (
        leaned if state is None else _ridden(state, opened)
        for state, opened in zip((tyres.front, tyres.rear), followed.scrubbed, strict=True)
    )
    still = tyres.coach_pace and sessions < table["unknown_sessions"]
    return Tyres(front, rear, still, sessions)


def _ridden(state: Condition, opened: tuple[float, float]) -> Condition:
    left, right = (side if math.isfinite(side) else None for side in opened)
    cycles = None if state.heat_cycles is None else state.heat_cycles + 1
    return replace(state, scrubbed_left_deg=left, scrubbed_right_deg=right, heat_cycles=cycles)


def remarks(
    stated: DayMachine, machines: tuple[str, ...], ladder: Ladder, tables: Tables | None = None
) -> tuple[Sentence, ...]:
    """Return what sheets must say of the tyres that a combination's machines, all alike, go out on.

    stated: one of them as the day has it. No remark names a lean.
    """
    names = ", ".join(dict.fromkeys(machines))
    tables = shipped_tables() if tables is None else tables
    return (
        *_unknown(stated, names, ladder.session),
        *_scrubbing(stated, names, ladder, tables),
        *_worn(names, ladder.session, tables),
    )


def _unstated(stated: DayMachine) -> list[str]:
    return [end for end in ("front", "rear") if getattr(stated, f"{end}_state") is None]


def _unknown(stated: DayMachine, names: str, session: Session) -> Iterator[Sentence]:
    ends = _unstated(stated)
    if ends:
        code = "condition.unknown" if session.coach_pace else "condition.unknown_ridden"
        yield Sentence(code, {"end": _named(ends), "machines": names})


def _scrubbing(stated: DayMachine, names: str, ladder: Ladder, tables: Tables) -> Iterator[Sentence]:
    """Sides whose limit scrubbing sets: opening by the lap, or still so on the last."""
    begun = at_start(ladder.session, tables.condition)._asdict()
    for place, side in enumerate(SIDES):
        turns = [[rung for rung in lap.rungs if rung.side == side] for lap in ladder.laps]
        held = [any(rung.limited_by == "scrubbing" for rung in lap) for lap in turns]
        least = min(sides[place] for sides in begun.values())
        ends = [end for end, sides in begun.items() if sides[place] == least and end not in _unstated(stated)]
        if any(held) and ends:
            code = "condition.stays_new" if held[-1] else "condition.opens"
            yield Sentence(code, {"end": _named(ends), "side": side, "machines": names})


def _named(ends: list[str]) -> str:
    return "both" if len(ends) > 1 else ends[0]


def _worn(names: str, session: Session, tables: Tables) -> Iterator[Sentence]:
    fitted = (
        ("front", session.front.tyre, session.front_state),
        ("rear", session.rear.tyre, session.rear_state),
    )
    for end, tyre, state in fitted:
        if state is None:
            continue
        figures: dict[str, object] = {"end": end, "machines": names}
        if state.crown != "round":
            yield Sentence(f"condition.{state.crown}", figures)
        years = age_years(state, session.date)
        if years is not None and years > tables.condition["age_from_years"]:
            yield Sentence("condition.old", figures | {"years": math.floor(years)})
        if cycle_loss(tyre, state, tables.condition) >= tables.condition["cycle_said_loss"]:
            yield Sentence("condition.cycles", figures)
