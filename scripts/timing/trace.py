"""The ride that is timed: ten laps of 4 km, and what each of them does to either tyre."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder import catalogue
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start
from leanladder.domain.weather import Weather
from leanladder.engine import ride as forces_of
from leanladder.engine.tyre_thermal import Body, Forcing, Shares
from leanladder.importers import read_outline
from leanladder.planning import circuits, laps
from leanladder.planning.forcing import forcing_and_spin, motion
from leanladder.planning.morning import settle_road
from leanladder.planning.riding import GAS
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables

Floats = NDArray[np.float64]

EXAMPLE = Path(catalogue.__file__).resolve().parent.parent / "data" / "example"
LENGTH_M = 4000.0
LAPS = 10


class Lap(NamedTuple):
    """What one lap does to one tyre, and the steps (corners,) at whose start riders arrive at a corner."""

    forcing: Forcing
    spin_part: Floats
    marks: NDArray[np.int64]


class Tyre(NamedTuple):
    """One tyre of the ride: what the kernel wants of it, its state at the start (n,) [degC], its laps."""

    body: Body
    shares: Shares
    at_start: Floats
    laps: tuple[Lap, ...]


class Trace(NamedTuple):
    """A ride as planned: the session made ready, and front and rear tyre."""

    place: Setting
    tyres: tuple[Tyre, Tyre]

    def first(self, count: int) -> Trace:
        """Return the ride's first laps."""
        front, rear = (tyre._replace(laps=tyre.laps[:count]) for tyre in self.tyres)
        return Trace(self.place, (front, rear))


def session() -> Session:
    """Return ten laps, `experienced`, on the demo's line drawn out to 4 km."""
    outline = read_outline(EXAMPLE / "circuit.csv")
    drawn_m = circuits.build(outline, closed_course=True).length_m
    circuit = circuits.build(
        replace(outline, points=outline.points * (LENGTH_M / drawn_m)), closed_course=True
    )
    weather = Weather(air_c=15.0, track_c=18.0, humidity_pct=60.0)
    road, _ = settle_road(weather)
    family = catalogue.tyre_family("sport-road")
    return Session(
        circuit=circuit,
        weather=weather,
        road=road,
        front=FittedTyre(family.name, family.front),
        rear=FittedTyre(family.name, family.rear),
        motorcycle=catalogue.motorcycle("middleweight-sport"),
        level=catalogue.level("experienced"),
        start=Start("cold"),
        surface=catalogue.surface("ordinary"),
        laps=LAPS,
        cold_pressure=ColdPressure(2.1, 1.9, 15.0),
    )


def nominal_laps(asked: Session, count: int = LAPS) -> tuple[Setting, list[laps.Step]]:
    """Return the session made ready and its first laps, each in agreement with its caps: no members."""
    place = setting(asked, shipped_tables())
    return place, list(laps.ride(place, laps.started(place), count))


def traced(asked: Session, count: int = LAPS) -> Trace:
    """Return both tyres as the planned laps heat them."""
    place, steps = nominal_laps(asked, count)
    front, rear = (_tyre(place, steps, which) for which in (0, 1))
    return Trace(place, (front, rear))


def _tyre(place: Setting, steps: list[laps.Step], which: int) -> Tyre:
    own = (place.front, place.rear)[which]
    at_start = laps.started(place)[which]
    state, heated = at_start, []
    for step in steps:
        heated.append(_lap(place, step, which, float(state[GAS])))
        state = step.ridden.heated.end[which]
    return Tyre(own.body, own.rolling, at_start, tuple(heated))


def _lap(place: Setting, step: laps.Step, which: int, gas_now_c: float) -> Lap:
    way, own = step.way, (place.front, place.rear)[which]
    moves = motion(way, step.ridden.speeds, place.stance)
    forces = forces_of.wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])[which]
    forcing, spin = forcing_and_spin(moves, forces, own, place, gas_now_c, way.shaded[: way.lap_steps])
    return Lap(forcing, spin, np.sort(way.arrivals))
