"""A day at the circuit, before anyone rides: its weather, groups, riders, machines and sessions."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date as calendar_date
from datetime import time
from pathlib import Path
from typing import Literal

from leanladder.domain.condition import Condition
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.ladder import Ladder
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import ColdPressure, Start

BandEnd = Literal["cold", "likely", "mild"]
# The evening's sets of cards: a for a cold day, b for the likely one, c for a mild one.
SetName = Literal["a", "b", "c"]
RoadState = Literal["dry", "damp", "wet", "drying"]


@dataclass(frozen=True, slots=True)
class Band:
    """What the air may turn out to be: cold_c, likely_c and mild_c [degC], rising."""

    cold_c: float
    likely_c: float
    mild_c: float


@dataclass(frozen=True, slots=True)
class HourWeather:
    """The weather at a local time; None is what was not stated.

    air, a band; track_c [degC] if measured then; cloud [0..1]; wind_mps [m/s] at 2 m; humidity_pct [%];
    road: as someone saw it, or expects it; it stands until an hour that says otherwise.
    """

    at: time
    air: Band
    track_c: float | None = None
    cloud: float | None = None
    wind_mps: float | None = None
    humidity_pct: float | None = None
    road: RoadState | None = None


@dataclass(frozen=True, slots=True)
class Coach:
    """Someone who leads a group, and the language of their sheets."""

    name: str
    language: str = "en"


@dataclass(frozen=True, slots=True)
class Group:
    """Riders who go out together, and the names of the coaches who lead them."""

    name: str
    coaches: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PressurePair:
    """Gauge pressures front_bar and rear_bar [bar]."""

    front_bar: float
    rear_bar: float


@dataclass(frozen=True, slots=True)
class DayMachine:
    """One machine of the day by its name or number.

    machine, front and rear are names of the catalogue or paths of files. cold is what its gauge read
    when the pressures were set; gauge_offset_bar [bar] how much too high that gauge reads. front_state,
    rear_state: the tyres as someone looked at them. start: how its tyres start where a session does not say.
    minimum: the tyre maker's least cold pressures; hot: those wanted hot; home: those for the ride home.
    None where not stated.
    """

    name: str
    machine: str
    front: str
    rear: str
    cold: ColdPressure | None = None
    gauge_offset_bar: float | None = None
    front_state: Condition | None = None
    rear_state: Condition | None = None
    start: Start | None = None
    minimum: PressurePair | None = None
    hot: PressurePair | None = None
    home: PressurePair | None = None


@dataclass(frozen=True, slots=True)
class Rider:
    """One rider by name or number: group, level and machine by their names.

    usual_lean_deg [deg, bike lean] is their own where stated; hang_off, whether they hang off, which
    never raises a cap; language, that of their card; large_print, whether they need one.
    """

    name: str
    group: str
    level: str
    machine: str
    usual_lean_deg: float | None = None
    hang_off: bool = False
    language: str = "en"
    large_print: bool = False


@dataclass(frozen=True, slots=True)
class DaySession:
    """One run of a group: it rolls at a local time, for so many minutes [min] or laps, never both.

    start None: not stated; the tyres are then as the machine's session before left them, else cold.
    """

    name: str
    group: str
    at: time
    minutes: float | None = None
    laps: int | None = None
    start: Start | None = None


@dataclass(frozen=True, slots=True)
class Day:
    """All that is known of a day before it begins.

    circuit and notes are paths; latitude_deg, longitude_deg [deg] and altitude_m [m] where stated;
    weather by rising time; sessions by rising time; head: the head instructor; file, where all this was
    written.
    """

    date: calendar_date
    school: str
    circuit: Path
    notes: Path | None
    weather: tuple[HourWeather, ...]
    coaches: tuple[Coach, ...]
    groups: tuple[Group, ...]
    machines: tuple[DayMachine, ...]
    riders: tuple[Rider, ...]
    sessions: tuple[DaySession, ...]
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    altitude_m: float | None = None
    surface: str | None = None
    head: str | None = None
    file: str | None = None


@dataclass(frozen=True, slots=True)
class DayLadder:
    """One combination of a session: who rides it on what, and its ladder, or why there is none.

    riders and machines by their names of the day; machine, the model's name; road_codes, what to warn of
    about the road. after names the session that the tyres come from, None where none. remarks: what
    sheets must say of the tyres; coach_pace: all of the run at the coach's pace.
    """

    session: DaySession
    riders: tuple[str, ...]
    machines: tuple[str, ...]
    machine: str
    level: str
    tyres: tuple[str, str]
    ladder: Ladder | None
    refusal: OutsideModelError | None
    road_codes: tuple[str, ...] = ()
    after: str | None = None
    remarks: tuple[Sentence, ...] = ()
    coach_pace: bool = False
