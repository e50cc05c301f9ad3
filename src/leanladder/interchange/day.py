"""day/1: a day at the circuit, as a school writes it, read to the domain's Day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, time
from itertools import pairwise
from pathlib import Path

from leanladder.domain import day as domain
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.session import ColdPressure
from leanladder.interchange.day_file import SCHEMA, UPGRADERS, DayFile, HourIn, MachineIn, SessionIn
from leanladder.interchange.lines import Key, line_of
from leanladder.interchange.nearest import nearest
from leanladder.interchange.reading import read_text, read_toml


def read_day(path: Path) -> domain.Day:
    """Return the day in a day/1 file, its paths seen from where the program runs; raises InputError."""
    written = read_toml(path, DayFile, SCHEMA, UPGRADERS)
    for place, message, value, names in _faults(written):
        close = nearest(value, names)
        remedy = f"Did you mean {close}?" if close else None
        field = ".".join(str(key) for key in place)
        line = line_of(read_text(path), place)
        raise InputError(message, Fault(str(path), line, field, value, ", ".join(names) or None, remedy))
    folder = path.parent
    return domain.Day(
        date=date.fromisoformat(written.date),
        school=written.school,
        circuit=folder / written.circuit,
        notes=None if written.notes is None else folder / written.notes,
        weather=tuple(_hour(hour) for hour in written.weather),
        coaches=tuple(domain.Coach(coach.name, coach.language) for coach in written.coaches),
        groups=tuple(domain.Group(group.name, group.coaches) for group in written.groups),
        machines=tuple(_machine(machine, folder) for machine in written.machines),
        riders=tuple(domain.Rider(**rider.model_dump()) for rider in written.riders),
        sessions=tuple(sorted((_session(each) for each in written.sessions), key=lambda run: run.at)),
        latitude_deg=written.latitude_deg,
        longitude_deg=written.longitude_deg,
        altitude_m=written.altitude_m,
        surface=written.surface,
        head=written.head,
        file=str(path),
    )


def _clock(text: str) -> time:
    hour, minute, *_ = text.split(":")
    return time(int(hour), int(minute))


def _hour(hour: HourIn) -> domain.HourWeather:
    return domain.HourWeather(
        _clock(hour.at), hour.band(), hour.track_c, hour.cloud, hour.wind_mps, hour.humidity_pct, hour.road
    )


def _machine(machine: MachineIn, folder: Path) -> domain.DayMachine:
    cold = machine.cold
    return domain.DayMachine(
        name=machine.name,
        machine=_beside(machine.machine, folder),
        front=_beside(machine.front or machine.tyre or "", folder),
        rear=_beside(machine.rear or machine.tyre or "", folder),
        cold=None if cold is None else ColdPressure(cold.front_bar, cold.rear_bar, cold.set_c),
        gauge_offset_bar=machine.gauge_offset_bar,
        front_state=None if machine.front_state is None else machine.front_state.condition(),
        rear_state=None if machine.rear_state is None else machine.rear_state.condition(),
        start=None if machine.start is None else machine.start.start(),
        minimum=None if machine.minimum is None else machine.minimum.pair(),
        hot=None if machine.hot is None else machine.hot.pair(),
        home=None if machine.home is None else machine.home.pair(),
    )


def _beside(name: str, folder: Path) -> str:
    """Return a file's path as seen from where the program runs; a name that ships as it is."""
    is_file = name.endswith(".toml") or "/" in name or "\\" in name
    return str(folder / Path(name).expanduser()) if is_file else name


def _session(run: SessionIn) -> domain.DaySession:
    start = None if run.start is None else run.start.start()
    return domain.DaySession(run.name, run.group, _clock(run.at), run.minutes, run.laps, start)


_Fault = tuple[tuple[Key, ...], str, str, Sequence[str]]


def _faults(day: DayFile) -> Iterator[_Fault]:
    """Yield what the tables say of each other that is not so: place, message, value, names known."""
    yield from _twice(day)
    coaches, groups, machines = (
        [each.name for each in table] for table in (day.coaches, day.groups, day.machines)
    )
    for at, group in enumerate(day.groups):
        for coach in group.coaches:
            if coach not in coaches:
                yield ("groups", at, "coaches"), f"there is no coach called {coach!r}.", coach, coaches
    for at, rider in enumerate(day.riders):
        if rider.group not in groups:
            yield ("riders", at, "group"), f"there is no group called {rider.group!r}.", rider.group, groups
        if rider.machine not in machines:
            message = f"there is no machine called {rider.machine!r}."
            yield ("riders", at, "machine"), message, rider.machine, machines
    for at, run in enumerate(day.sessions):
        if run.group not in groups:
            yield ("sessions", at, "group"), f"there is no group called {run.group!r}.", run.group, groups
    yield from _shared(day)


def _twice(day: DayFile) -> Iterator[_Fault]:
    for table in ("coaches", "groups", "machines", "riders", "sessions"):
        seen: set[str] = set()
        for at, each in enumerate(getattr(day, table)):
            if each.name in seen:
                yield (table, at, "name"), f"{each.name!r} stands twice among the {table}.", each.name, ()
            seen.add(each.name)
    for at, (before, after) in enumerate(pairwise(day.weather), 1):
        if _clock(after.at) <= _clock(before.at):
            yield ("weather", at, "at"), "the times of the weather do not rise.", after.at, ()


def _shared(day: DayFile) -> Iterator[_Fault]:
    """A machine carries one rider of a group."""
    on: dict[tuple[str, str], str] = {}
    for at, rider in enumerate(day.riders):
        other = on.setdefault((rider.group, rider.machine), rider.name)
        if other != rider.name:
            message = f"machine {rider.machine!r} carries {other!r} of the same group already."
            yield ("riders", at, "machine"), message, rider.machine, ()
