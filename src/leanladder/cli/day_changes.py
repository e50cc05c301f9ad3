"""What flags say in place of a day's file: checked, and put into the day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any, get_args

from leanladder import catalogue
from leanladder.cli import asked as ask
from leanladder.domain.chance import Chance
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayMachine
from leanladder.domain.errors import Fault, InputError
from leanladder.domain.session import ColdPressure, Start
from leanladder.domain.weather import Weather
from leanladder.interchange.nearest import nearest
from leanladder.planning.day_weather import weather_at
from leanladder.planning.weather_checks import check_weather

# Options that measure something: that holds for one session alone.
_WEATHER = {
    "air": "air_c",
    "track": "track_c",
    "humidity": "humidity_pct",
    "wind": "wind_mps",
    "cloud": "cloud",
    "seen_dry": "seen_dry",
}
# Options about who and what goes out: for all riders of one session.
_RIDING = ("rider", "tyre", "front", "rear", "cold_pressure", "start")
_DAY = ("session", "band", "laps", "closed_course", "chance", "seed", "odds", "as_json")
# What to do instead, where more is to be said than that it belongs into the file.
_REMEDIES = {
    "hot_pressure": "Give hot under the machine in the day's file: its lists then say the cold ones.",
    "machine": "Name it under the machine in the day's file.",
    "states": "Leave DAY out: temperatures through the tyre are printed for one ladder.",
    "at": "Change the session's time in the day's file.",
}


@dataclass(frozen=True, slots=True)
class Changes:
    """What flags say in place of the day's file; None and {} where they say nothing.

    For one session: weather by field, level, front and rear tyre, cold pressures, start. For it or all:
    laps. For the day: closed_course, band, chance. odds: whether what is not known is to be told too.
    options: those of them about one session, as typed.
    """

    session: str | None
    weather: Mapping[str, Any]
    laps: int | None
    closed_course: bool
    band: BandEnd = "likely"
    level: str | None = None
    front: str | None = None
    rear: str | None = None
    cold: ColdPressure | None = None
    start: Start | None = None
    chance: Chance = Chance()  # noqa: RUF009  # frozen
    odds: bool = False
    options: tuple[str, ...] = ()


def changes(given: Mapping[str, object]) -> Changes:
    """Return the changes that the options given beside a DAY ask for, by their parameters' names.

    Raises InputError for an option that a day does not take, for one about a session without its name, and
    for values that cannot be used.
    """
    _check_taken(given)
    typed = {name: str(value) for name, value in given.items() if name in _RIDING}
    laps, session = given.get("laps"), given.get("session")
    front, rear = (typed.get(end, typed.get("tyre")) for end in ("front", "rear"))
    for name in typed.keys() & {"tyre", "front", "rear"}:
        with _in_option(name):
            catalogue.tyre_family(typed[name])
    with _in_option("rider"):
        level = catalogue.level(typed["rider"]).name if "rider" in typed else None
    return Changes(
        session if isinstance(session, str) else None,
        {field: given[name] for name, field in _WEATHER.items() if name in given},
        int(ask.within("--laps", laps, ask.LAPS)) if isinstance(laps, int) else None,
        bool(given.get("closed_course")),
        next((end for end in get_args(BandEnd) if end == given.get("band")), "likely"),
        level,
        front,
        rear,
        ask.cold_pressure(typed["cold_pressure"]) if "cold_pressure" in typed else None,
        ask.start(typed["start"]) if "start" in typed else None,
        _chance(given),
        bool(given.get("odds")),
        tuple(_option(name) for name in given if name not in _DAY),
    )


def _chance(given: Mapping[str, object]) -> Chance:
    usual = Chance()
    of_100, seed = given.get("chance", usual.of_100), given.get("seed", usual.seed)
    if not isinstance(of_100, float) or not isinstance(seed, int):
        raise TypeError("a chance is a number and a seed a whole one")
    return ask.chance(of_100, seed)


def _check_taken(given: Mapping[str, object]) -> None:
    for name in given:
        if name not in {*_WEATHER, *_RIDING, *_DAY}:
            remedy = _REMEDIES.get(name, "Put it into the day's file, or leave DAY out.")
            raise InputError("this does not go with a DAY.", Fault(field=_option(name), remedy=remedy))
    first = next((name for name in given if name not in _DAY), None)
    if first is not None and given.get("session") is None:
        remedy = "Name it with --session; for the whole day, change the day's file."
        raise InputError("this is for one session.", Fault(field=_option(first), remedy=remedy))


def cut(day: Day, changed: Changes) -> Day:
    """Leave out sessions after the one asked for, and give those asked for their laps and start.

    Raises InputError for a session that the day does not have.
    """
    names = [run.name for run in day.sessions]
    if changed.session is not None and changed.session not in names:
        close = nearest(changed.session, names)
        remedy = f"Did you mean {close}?" if close else None
        fault = Fault(None, None, "--session", changed.session, ", ".join(names), remedy)
        raise InputError("the day has no session of this name.", fault)
    last = len(names) if changed.session is None else names.index(changed.session) + 1
    runs = day.sessions[:last]
    if changed.laps is not None:
        runs = tuple(
            replace(run, laps=changed.laps, minutes=None) if changed.session in {None, run.name} else run
            for run in runs
        )
    if changed.start is not None:
        runs = (*runs[:-1], replace(runs[-1], start=changed.start))
    return replace(day, sessions=runs)


def weathers(day: Day, circuit: Circuit, changed: Changes) -> dict[str, Weather]:
    """Return the weather of the session that flags speak of, by its name; none without such flags."""
    if not changed.weather or changed.session is None:
        return {}
    run = next(run for run in day.sessions if run.name == changed.session)
    weather = replace(weather_at(day, circuit, run.at, band=changed.band), **changed.weather)
    with ask.in_options():
        check_weather(weather)
    return {run.name: weather}


def instead(day: Day, changed: Changes) -> dict[str, Day]:
    """Return the day as flags have it for the session that they speak of, by its name.

    They hold for all riders of that session, and for their machines. Tyres put on by a flag are ones that
    nobody looked at, and the maker's minimum that was typed in is not theirs.
    """
    asked = (changed.level, changed.front, changed.rear, changed.cold)
    if changed.session is None or all(value is None for value in asked):
        return {}
    group = next(run.group for run in day.sessions if run.name == changed.session)
    ridden = {rider.machine for rider in day.riders if rider.group == group}
    riders = tuple(
        replace(rider, level=changed.level or rider.level) if rider.group == group else rider
        for rider in day.riders
    )
    machines = tuple(
        _changed(machine, changed) if machine.name in ridden else machine for machine in day.machines
    )
    return {changed.session: replace(day, riders=riders, machines=machines)}


def _changed(machine: DayMachine, changed: Changes) -> DayMachine:
    made = replace(machine, cold=changed.cold or machine.cold)
    if changed.front is not None:
        made = replace(made, front=changed.front, front_state=None, minimum=None)
    if changed.rear is not None:
        made = replace(made, rear=changed.rear, rear_state=None, minimum=None)
    return made


@contextmanager
def _in_option(name: str) -> Iterator[None]:
    """Name the option in an error about its value, unless that names a file."""
    try:
        yield
    except InputError as error:
        if error.fault.file is None:
            error.fault = replace(error.fault, field=_option(name))
        raise


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"
