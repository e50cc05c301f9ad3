"""A day's machines made ready for planning: models, tyres, pressures; who rides in a session."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

from leanladder import catalogue
from leanladder.domain.day import Day, DayMachine, DaySession, Rider
from leanladder.domain.errors import InputError
from leanladder.domain.motorcycle import Motorcycle
from leanladder.domain.session import ColdPressure, FittedTyre, Start
from leanladder.planning.day_tyres import tyres_of


@dataclass(frozen=True, slots=True)
class Ready:
    """A machine of the day made ready: the model, its tyres, and pressures if they were stated."""

    motorcycle: Motorcycle
    front: FittedTyre
    rear: FittedTyre
    cold: ColdPressure | None


def checked(day: Day) -> dict[str, Ready]:
    """Return the day's machines made ready, by name; raises InputError for a name nothing is called by."""
    for rider in day.riders:
        with _named(day, f"riders, {rider.name}, level"):
            catalogue.level(rider.level)
    with _named(day, "surface"):
        catalogue.surface(day.surface or "ordinary")
    tyres_of(day)
    return {machine.name: made_ready(day, machine) for machine in day.machines}


def made_ready(day: Day, machine: DayMachine) -> Ready:
    """Return a machine of the day with what the catalogue knows of it; raises InputError naming it."""
    with _named(day, f"machines, {machine.name}"):
        front, rear = catalogue.tyre_family(machine.front), catalogue.tyre_family(machine.rear)
        motorcycle = catalogue.motorcycle(machine.machine)
    offset_bar = machine.gauge_offset_bar or 0.0
    cold = machine.cold
    if cold is not None:
        cold = replace(cold, front_bar=cold.front_bar - offset_bar, rear_bar=cold.rear_bar - offset_bar)
    least = machine.minimum
    tyres = (
        _with_minimum(FittedTyre(front.name, front.front), None if least is None else least.front_bar),
        _with_minimum(FittedTyre(rear.name, rear.rear), None if least is None else least.rear_bar),
    )
    return Ready(motorcycle, *tyres, cold)


def _with_minimum(fitted: FittedTyre, least_bar: float | None) -> FittedTyre:
    """Return a tyre with the maker's minimum as typed in for its machine, where it was."""
    if least_bar is None:
        return fitted
    return replace(fitted, tyre=replace(fitted.tyre, minimum_cold_bar=least_bar))


def start_of(session: DaySession, machine: DayMachine) -> Start | None:
    """Return how a machine starts a session: as the session says, else as the machine does."""
    return session.start or machine.start


def riders_of(day: Day, session: DaySession) -> tuple[Rider, ...]:
    """Return the riders of a session's group."""
    return tuple(rider for rider in day.riders if rider.group == session.group)


@contextmanager
def _named(day: Day, field: str) -> Iterator[None]:
    """Name the day's file and field in an error about a name of the catalogue."""
    try:
        yield
    except InputError as error:
        if error.fault.file is None:
            error.fault = replace(error.fault, file=day.file, field=field)
        raise
