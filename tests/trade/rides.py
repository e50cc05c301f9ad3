"""Rides that the trade facts are checked on: the demo circuit, sport-road tyres, cloud 0.5.

Common practice, no published source. Lean is bike lean, rider upright, unrounded; shoulders and
centre are means over that third of the crown, outer 2 mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import as_file, files

import numpy as np

from leanladder import catalogue
from leanladder.domain.circuit import Circuit
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import base_c, read_c, third_c
from leanladder.importers import read_outline
from leanladder.interchange.notes import read_notes
from leanladder.planning.circuits import build
from leanladder.planning.laps import Step, ride, started
from leanladder.planning.odds.crowd import Crowd, follow_lap, gather
from leanladder.planning.odds.told import count, count_still
from leanladder.planning.riding import Caps, Heated, Wheels, heat_lap
from leanladder.planning.rubber import RIBS
from leanladder.planning.rungs import loaded
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables

LEFT, CENTRE, RIGHT = 0, 1, 2
COLD = Start("cold")
WARMERS = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)
MILD_SUN_W_M2 = 350.0  # a level surface under half a sky of cloud, mid-morning: invented for these rides
HOT_SUN_W_M2 = 900.0


@cache
def demo_circuit() -> Circuit:
    """The demo circuit without its patch and shade: ten rights, one left, one surface."""
    folder = files("leanladder").joinpath("data", "example")
    with (
        as_file(folder.joinpath("circuit.csv")) as line,
        as_file(folder.joinpath("circuit-notes.toml")) as notes,
    ):
        circuit = build(read_outline(line), read_notes(notes))
    return replace(circuit, patches=(), shaded=np.zeros_like(circuit.shaded))


@dataclass(frozen=True)
class Morning:
    """Air and track [degC], sun on a level surface [W/m2], wind [m/s]."""

    air_c: float
    track_c: float
    sun_w_m2: float = MILD_SUN_W_M2
    wind_mps: float = 2.0


def session(
    morning: Morning, level: str, laps: int, start: Start = COLD, tyre: str = "sport-road"
) -> Session:
    """A session on the demo circuit; pressures are set cold at the air's temperature."""
    family = catalogue.tyre_family(tyre)
    machine = catalogue.motorcycle("middleweight-sport")
    return Session(
        circuit=demo_circuit(),
        weather=Weather(morning.air_c, morning.track_c, 60.0, morning.wind_mps, 0.5),
        road=Road(morning.track_c, morning.track_c, "measured", 1.5, morning.sun_w_m2),
        front=FittedTyre(tyre, family.front),
        rear=FittedTyre(tyre, family.rear),
        motorcycle=machine,
        level=catalogue.level(level),
        start=start,
        surface=catalogue.surface("ordinary"),
        laps=laps,
        cold_pressure=ColdPressure(machine.front.cold_bar.value, machine.rear.cold_bar.value, morning.air_c),
    )


@dataclass(frozen=True)
class Run:
    """A ridden session: the setting and its laps."""

    place: Setting
    steps: tuple[Step, ...]

    def rights(self) -> np.typing.NDArray[np.bool_]:
        return np.array([corner.side == "right" for corner in self.place.session.circuit.corners])

    def minutes(self, lap: int) -> Floats:
        """When each corner of a lap is reached [min since rolling]."""
        step = self.steps[lap]
        speeds = step.ridden.speeds
        passed = np.concatenate([[0.0], np.cumsum(2.0 * step.way.step_m / (speeds[1:] + speeds[:-1]))]) / 60.0
        return np.asarray(step.minute + passed[step.way.arrivals])


def run_plainly(asked: Session) -> Run:
    """Ride with a fixed share of the grip held back: for what the heat does, whatever the chance."""
    place = setting(asked, shipped_tables())
    return Run(place, tuple(ride(place, started(place), asked.laps)))


def run(asked: Session) -> Run:
    """Ride within caps that hold with the session's chance."""
    place = setting(asked, shipped_tables())
    start = started(place)
    return Run(place, tuple(ride(place, start, asked.laps, gather(place, start, carried_on=False))))


def physics(caps: Caps) -> Floats:
    """The physical cap: the lesser of front and rear grip [deg]."""
    return np.minimum(caps.front, caps.rear)


def outer(place: Setting, state: Floats, third: int) -> float:
    return third_c(state, RIBS, third, place.front.crown.outer_share)


def arrivals(place: Setting, heated: Heated, third: int) -> tuple[Floats, Floats]:
    """A third's temperature at every corner, front and rear [degC]."""
    front = np.array([outer(place, state, third) for state in heated.front])
    rear = np.array([outer(place, state, third) for state in heated.rear])
    return front, rear


def caps_of(place: Setting, wheels: Wheels) -> Caps:
    """Caps of tyres that arrive at every corner as given, after whatever left them so."""
    unscrubbed = np.full(len(place.session.circuit.corners), np.inf)
    return count_still(gather(place, wheels, carried_on=True), wheels, unscrubbed).caps


def caps_alike(place: Setting, step: Step, wheels: Wheels, crowd: Crowd) -> tuple[Caps, Heated, Crowd]:
    """Caps of other tyres, and their members, that follow the speeds of a step; both as they end."""
    heated = heat_lap(place, step.way, wheels, step.ridden.speeds)
    arrived, now = follow_lap(crowd, step.way, step.ridden.speeds, wheels)
    unscrubbed = np.full(len(place.session.circuit.corners), np.inf)
    counted = count(crowd, arrived, (heated.front, heated.rear), unscrubbed, 1)
    return counted.caps, heated, replace(crowd, now=now)


def depths(place: Setting, heated: Heated) -> Iterator[float]:
    """Carcass and tread base above the outer 2 mm, all weighted by load, front and rear [K]."""
    for state, load_s, tyre in zip(heated.end, heated.load_s, (place.front, place.rear), strict=True):
        _, outer_c, carcass_c = read_c(state, tyre.body)
        for inside in (carcass_c, base_c(state, RIBS)):
            yield loaded(inside, load_s) - loaded(outer_c, load_s)
