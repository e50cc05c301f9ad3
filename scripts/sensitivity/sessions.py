"""The sessions that figures are tried on, and a session with one figure changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import UTC, datetime
from functools import cache
from importlib.resources import as_file, files
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from leanladder import catalogue
from leanladder.domain.circuit import Circuit
from leanladder.domain.parameter import Parameter
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start, Surface
from leanladder.domain.weather import Weather
from leanladder.importers import read_outline
from leanladder.interchange.notes import read_notes
from leanladder.planning.circuits import build
from leanladder.planning.laps import ride, started
from leanladder.planning.limits import limit_of
from leanladder.planning.morning import settle_road
from leanladder.planning.setting import setting
from leanladder.planning.tables import Tables, shipped_tables

FAMILY, MACHINE, SURFACE = "sport-road", "middleweight-sport", "ordinary"
PLACE_DEG = (52.0, -1.0)  # invented, as the demo circuit is
GRIP_LIMITS = ("front_grip", "rear_grip")
COLD = Start("cold")
WARMERS = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=10.0)
STOPPED = Start("stopped", off_min=20.0, in_sun=True)

Object = TypeVar("Object")
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Case:
    """One session: its name, air [degC], relative humidity [%], cloud [0..1], time, start, level and laps."""

    name: str
    air_c: float
    humidity_pct: float
    cloud: float
    at: datetime
    start: Start
    level: str
    laps: int = 8


APRIL = datetime(2026, 4, 18, 9, 0, tzinfo=UTC)
MAY = datetime(2026, 5, 23, 10, 0, tzinfo=UTC)
JULY = datetime(2026, 7, 18, 12, 0, tzinfo=UTC)

CASES = (
    Case("cool morning, cold tyres", 9.0, 60.0, 0.5, APRIL, COLD, "new"),
    Case("cool morning, off warmers", 9.0, 60.0, 0.5, APRIL, WARMERS, "experienced"),
    Case("mild morning, cold tyres", 17.0, 55.0, 0.5, MAY, COLD, "experienced"),
    Case("mild morning, off warmers", 17.0, 55.0, 0.5, MAY, WARMERS, "experienced"),
    Case("hot noon, cold tyres", 30.0, 40.0, 0.2, JULY, COLD, "regular"),
    Case("hot noon, after 20 min in the sun", 30.0, 40.0, 0.2, JULY, STOPPED, "experienced"),
)


@dataclass(frozen=True, slots=True)
class Change:
    """A figure by its name and the value it takes instead."""

    name: str
    value: float


@dataclass(frozen=True, slots=True)
class Caps:
    """A session's rungs: physical caps and caps handed out [deg bike lean], exact, and what limits each.

    road_c [degC] in the open.
    """

    physics_deg: Floats
    handed_deg: Floats
    limits: tuple[str, ...]
    road_c: float


@cache
def demo_circuit() -> Circuit:
    """Return the demo circuit as it ships."""
    folder = files("leanladder").joinpath("data", "example")
    with (
        as_file(folder.joinpath("circuit.csv")) as line,
        as_file(folder.joinpath("circuit-notes.toml")) as notes,
    ):
        return build(read_outline(line), read_notes(notes))


def caps(case: Case, change: Change | None = None) -> Caps:
    """Return the caps of a session's every rung, with one figure changed where one is given."""
    asked, tables = _session(case, change), _tables(change)
    place = setting(asked, tables)
    found: list[float] = []
    handed: list[float] = []
    limits: list[str] = []
    for step in ride(place, started(place), case.laps):
        own = step.ridden.caps
        found += np.minimum(own.front, own.rear).tolist()
        handed += own.cap.tolist()
        limits += [limit_of(place, own, index) for index in range(own.cap.size)]
    return Caps(np.array(found), np.array(handed), tuple(limits), asked.road.open_c)


def takes_part(name: str) -> bool:
    """Return whether a figure of this name is counted on in these sessions at all."""
    prefixes = ("heat.", "grip.", "road.", "planning.card.", "planning.margin.", f"surfaces.{SURFACE}.")
    levels = tuple(f"levels.{case.level}." for case in CASES)
    return name.startswith((*prefixes, *levels, f"tyres/{FAMILY}.", f"machines/{MACHINE}."))


def _session(case: Case, change: Change | None) -> Session:
    family = _changed(catalogue.tyre_family(FAMILY), f"tyres/{FAMILY}.", change)
    machine = _changed(catalogue.motorcycle(MACHINE), f"machines/{MACHINE}.", change)
    weather = Weather(
        air_c=case.air_c, humidity_pct=case.humidity_pct, cloud=case.cloud, at=case.at,
        latitude_deg=PLACE_DEG[0], longitude_deg=PLACE_DEG[1],
    )  # fmt: skip
    circuit = demo_circuit()
    road, _ = settle_road(weather, _figures("road", change), has_shade=bool(circuit.shaded.any()))
    return Session(
        circuit=circuit,
        weather=weather,
        road=road,
        front=FittedTyre(family.name, family.front),
        rear=FittedTyre(family.name, family.rear),
        motorcycle=machine,
        level=_changed(catalogue.level(case.level), f"levels.{case.level}.", change),
        start=case.start,
        surface=_surface(change),
        laps=case.laps,
        cold_pressure=ColdPressure(machine.front.cold_bar.value, machine.rear.cold_bar.value, case.air_c),
    )


def _figures(table: str, change: Change | None) -> Mapping[str, Parameter]:
    figures = dict(catalogue.parameters(table))
    if change is not None and change.name.startswith(f"{table}."):
        name = change.name.removeprefix(f"{table}.")
        figures[name] = replace(figures[name], value=change.value)
    return figures


def _tables(change: Change | None) -> Tables:
    shipped = shipped_tables()
    known = {"heat": "heat", "grip": "grip", "card": "planning.card", "margin": "planning.margin"}
    return replace(
        shipped,
        **{
            field: {name: figure.value for name, figure in _figures(table, change).items()}
            for field, table in known.items()
        },
    )


def _surface(change: Change | None) -> Surface:
    surface = catalogue.surface(SURFACE)
    prefix = f"surfaces.{SURFACE}."
    if change is None or not change.name.startswith(prefix):
        return surface
    if change.name == prefix + "polish":
        return replace(surface, polish=change.value)
    return replace(surface, texture_mm=change.value)


def _changed(item: Object, prefix: str, change: Change | None) -> Object:
    """Return a domain object with the figure changed that the change's name leads to, if it leads there."""
    if change is None or not change.name.startswith(prefix):
        return item
    return _at(item, change.name.removeprefix(prefix).split("."), change.value)


def _at(item: Object, path: list[str], value: float) -> Object:
    if not is_dataclass(item) or path[0] not in {field.name for field in fields(item)}:
        raise KeyError(path[0])
    inner: Any = getattr(item, path[0])
    new = replace(inner, value=value) if len(path) == 1 else _at(inner, path[1:], value)
    return replace(item, **{path[0]: new})  # type: ignore[type-var]
