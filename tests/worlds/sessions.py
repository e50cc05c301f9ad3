"""Sessions to plan: circuits, tyres, starts and mornings of the proof, with and without the judged limits."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import as_file, files

from leanladder import catalogue
from leanladder.domain.chance import Chance
from leanladder.domain.circuit import Circuit
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.importers import read_outline
from leanladder.interchange.notes import read_notes
from leanladder.planning.circuits import build

LONG_M = 4000.0
OUT_OF_THE_WAY_DEG = 89.0
ANY_FALLS = 400.0  # rider-sessions of which as many as like may fall
CARD_OUT_OF_THE_WAY = 20.0
STARTS = {"cold": Start("cold"), "warmers": Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)}
FAMILIES = ("sport-road", "track-day", "race")


@dataclass(frozen=True)
class Track:
    """A circuit of the proof, the machine ridden there, and how many laps."""

    folder: str
    line: str
    machine: str
    laps: int
    drawn_m: float | None = None


TRACKS = {
    "demo": Track("example", "circuit.csv", "middleweight-sport", 4),
    "kart": Track("example-kart", "circuit.csv", "supermoto", 6),
    "mini": Track("example-mini", "circuit.geojson", "mini-bike", 6),
    "long": Track("example", "circuit.csv", "middleweight-sport", 4, LONG_M),
}


@dataclass(frozen=True)
class Morning:
    """Air, road in the open and in shade [degC], sun on a level surface [W/m2]."""

    air_c: float
    open_c: float
    shaded_c: float
    sun_w_m2: float


MORNINGS = {"cool": Morning(8.0, 9.0, 7.0, 250.0), "hot": Morning(26.0, 38.0, 28.0, 700.0)}


@cache
def circuit(name: str) -> Circuit:
    """Return a circuit of the proof as its files say; one drawn out to a length has no notes."""
    track = TRACKS[name]
    with as_file(files("leanladder") / "data" / track.folder) as folder:
        outline = read_outline(folder / track.line)
        if track.drawn_m is None:
            return build(outline, read_notes(folder / "circuit-notes.toml"))
        stretch = track.drawn_m / build(outline, closed_course=True).length_m
        return build(replace(outline, points=outline.points * stretch), closed_course=True)


@dataclass(frozen=True)
class Asked:
    """What is planned: names of what a session has; judged, whether card and level's top hold;
    laps, where not as many as the track has.
    """

    track: str = "demo"
    family: str = "sport-road"
    start: str = "cold"
    morning: str = "cool"
    level: str = "experienced"
    judged: bool = False
    of_100: float = 95.0
    laps: int | None = None

    def __str__(self) -> str:
        limits = "all limits" if self.judged else "grip alone"
        named = f"{self.track}, {self.family}, {self.start}, {self.morning}, {self.level}, {limits}"
        return named if self.laps is None else f"{named}, {self.laps} laps"


def session(asked: Asked, seed: int = 1) -> Session:
    """Return the session that is asked for, its ladder drawn by seed."""
    track, morning = TRACKS[asked.track], MORNINGS[asked.morning]
    family, machine = catalogue.tyre_family(asked.family), catalogue.motorcycle(track.machine)
    cold_bar = (machine.front.cold_bar.value, machine.rear.cold_bar.value)
    full = Session(
        circuit=circuit(asked.track),
        weather=Weather(morning.air_c, morning.open_c, 60.0, 2.0, 0.5),
        road=Road(morning.open_c, morning.shaded_c, "measured", 1.5, morning.sun_w_m2),
        front=FittedTyre(asked.family, family.front),
        rear=FittedTyre(asked.family, family.rear),
        motorcycle=machine,
        level=catalogue.level(asked.level),
        start=STARTS[asked.start],
        surface=catalogue.surface("ordinary"),
        laps=asked.laps or track.laps,
        cold_pressure=ColdPressure(*cold_bar, morning.air_c),
        chance=Chance(asked.of_100, seed),
    )
    return full if asked.judged else by_grip_alone(full)


def by_grip_alone(full: Session) -> Session:
    """Return a session with card, level's top, falls and clearance out of the way: chance sets its caps."""
    level, machine = full.level, full.motorcycle
    freed = replace(
        level,
        card_factor=replace(level.card_factor, value=CARD_OUT_OF_THE_WAY),
        top_lean_deg=replace(level.top_lean_deg, value=OUT_OF_THE_WAY_DEG),
        most_falls=replace(level.most_falls, value=ANY_FALLS),
    )
    lifted = replace(
        machine,
        clearance_left_deg=replace(machine.clearance_left_deg, value=OUT_OF_THE_WAY_DEG),
        clearance_right_deg=replace(machine.clearance_right_deg, value=OUT_OF_THE_WAY_DEG),
    )
    return replace(full, level=freed, motorcycle=lifted)
