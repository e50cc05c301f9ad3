"""What a day still wants before it is planned, in the order in which it is done."""

from __future__ import annotations

from typing import NamedTuple

from leanladder.domain.errors import LeanladderError, OutsideModelError
from leanladder.records import days, stable
from leanladder.records.models import Circuit
from leanladder.web.days.looked import Looked
from leanladder.web.days.page import address


class Step(NamedTuple):
    """One step: its code, where it is taken, whether it is done, and whether it is the next."""

    code: str
    where: str
    done: bool
    is_next: bool = False


def steps_of(day_pk: int, looked: Looked) -> list[Step]:
    """Return the steps of a day; done ones too, so that the way there is seen."""
    day = days.day(day_pk)
    not_closed = isinstance(looked.fault, OutsideModelError)
    return _with_next([
        Step("weather", address("day_weather", day_pk), bool(day.weather)),
        Step("groups", address("day_groups", day_pk), bool(days.places(day_pk))),
        Step("sessions", address("day_sessions", day_pk), bool(days.runs(day_pk))),
        Step("closed", address("circuit", day.circuit_id), not not_closed),
    ])  # fmt: skip


def fault_of(day_pk: int, looked: Looked) -> LeanladderError | None:
    """Return what is wrong with a day beyond steps that are not done yet: those say it better."""
    return None if any(not step.done for step in steps_of(day_pk, looked)) else looked.fault


def first_steps() -> list[Step]:
    """Return the steps to a first day of one's own."""
    machines, riders = bool(stable.machines()), bool(stable.riders())
    return _with_next([
        Step("circuit", address("circuit_new"), Circuit.objects.exists()),
        Step("machines", address("machine_new"), machines),
        Step("riders", address("riders_paste") or address("rider_new"), riders),
        Step("day", address("day_new"), done=False),
    ])  # fmt: skip


def _with_next(steps: list[Step]) -> list[Step]:
    ahead = next((at for at, step in enumerate(steps) if not step.done), None)
    return [step._replace(is_next=at == ahead) for at, step in enumerate(steps)]
