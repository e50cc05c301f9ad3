"""What a tyre's condition does: who must not go out on it, what it keeps of its grip, the coach's pace."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from leanladder import catalogue, wording
from leanladder.domain.condition import Condition
from leanladder.domain.errors import Fault, OutsideModelError
from leanladder.domain.parameter import Parameter
from leanladder.domain.rider import Level
from leanladder.domain.session import Session
from leanladder.domain.tyre import Tyre

DAYS_A_YEAR = 365.25
MOST_CAREFUL = "new"
EVERY_LAP = 10_000


def made_on(date_code: str) -> date | None:
    """Return the Monday of a date code's week, such as "1025" for week 10 of 2025; None where there is none.

    Codes of four digits are of 2000 and later.
    """
    try:
        return date.fromisocalendar(2000 + int(date_code[2:]), int(date_code[:2]), 1)
    except ValueError:
        return None


def age_years(state: Condition | None, on: date | None) -> float | None:
    """Return a tyre's age [years] on a day, None where its date code or the day is not stated."""
    if state is None or state.date_code is None or on is None:
        return None
    made = made_on(state.date_code)
    return None if made is None else (on - made) / timedelta(days=DAYS_A_YEAR)


def grip_kept(tyre: Tyre, state: Condition | None, on: date | None, table: Mapping[str, float]) -> float:
    """Return the share [0..1] of its grip that a tyre in this condition keeps; all where not stated.

    Age past some years, a squared or worn crown and heat cycles each take a share; cycles the more, the
    shorter the life that the tyre's maker would state.
    """
    if state is None:
        return 1.0
    years = age_years(state, on) or 0.0
    aged = 1.0 - table["age_loss_per_year"] * max(years - table["age_from_years"], 0.0)
    crown = 1.0 if state.crown == "round" else table[f"{state.crown}_kept"]
    return max(aged, 0.0) * crown * (1.0 - cycle_loss(tyre, state, table))


def cycle_loss(tyre: Tyre, state: Condition, table: Mapping[str, float]) -> float:
    """Return the share [0..1] of its grip that heat cycles took from a tyre; none where not stated."""
    each = table["cycle_loss_laps"] / tyre.life_laps.value
    return min((state.heat_cycles or 0) * each, table["cycle_most_loss"])


def check_fit(session: Session, table: Mapping[str, float]) -> None:
    """Raise OutsideModelError where a tyre has a repair plug or is too old: nobody goes out on it."""
    found = unfit(session.front_state, session.rear_state, session.date, table)
    if found is not None:
        raise found


def unfit(
    front: Condition | None, rear: Condition | None, on: date | None, table: Mapping[str, float]
) -> OutsideModelError | None:
    """Return why nobody goes out on these tyres on a day, a plug or their age; None where they are fit."""
    for end, state in (("front", front), ("rear", rear)):
        if state is not None and state.plugged:
            return _unfit("plugged", f"{end}_state, plugged", "true", "no plug")
        years = age_years(state, on)
        if state is not None and years is not None and years > table["age_most_years"]:
            allowed = f"{table['age_most_years']:g} years at most"
            return _unfit("too_old", f"{end}_state, date_code", f"{years:.1f} years", allowed)
    return None


def _unfit(code: str, field: str, value: str, allowed: str) -> OutsideModelError:
    fault = Fault(field=field, value=value, allowed=allowed, remedy=wording.text(f"remedy.{code}"))
    return OutsideModelError(code, wording.text(code), fault)


def at_coach_pace(session: Session) -> Session:
    """Return a session ridden at the coach's pace throughout, within the limits of the new level."""
    return replace(session, level=coach_level(session.level), coach_pace=True)


def coach_level(own: Level) -> Level:
    """Return a level with the new level's share, card, top and coach's pace, nothing above its own.

    Its name and usual lean stay: what is usual for its riders does not change by tyres.
    """
    new = catalogue.level(MOST_CAREFUL)
    drive = _lesser(own.coach_drive_mps2, new.coach_drive_mps2)
    brake = _lesser(own.coach_brake_mps2, new.coach_brake_mps2)
    return replace(
        own,
        grip_share=_lesser(own.grip_share, new.grip_share),
        top_lean_deg=_lesser(own.top_lean_deg, new.top_lean_deg),
        card_factor=_lesser(own.card_factor, new.card_factor),
        drive_mps2=drive,
        brake_mps2=brake,
        coach_drive_mps2=drive,
        coach_brake_mps2=brake,
        straight_mps=_lesser(own.straight_mps, new.straight_mps),
        coach_laps=EVERY_LAP,
        warming=False,
    )


def _lesser(one: Parameter, other: Parameter) -> Parameter:
    return min(one, other, key=lambda figure: figure.value)
