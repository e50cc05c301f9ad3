"""All that is known before the wheels roll."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date as calendar_date
from typing import Literal

from leanladder.domain.chance import Chance
from leanladder.domain.circuit import Circuit
from leanladder.domain.condition import Condition
from leanladder.domain.motorcycle import Motorcycle
from leanladder.domain.rider import Level
from leanladder.domain.tyre import Tyre
from leanladder.domain.weather import Road, Weather


@dataclass(frozen=True, slots=True)
class Surface:
    """The road's surface: texture_mm [mm, mean profile depth] and polish [0 rough .. 1 polished]."""

    name: str
    texture_mm: float
    polish: float


@dataclass(frozen=True, slots=True)
class Start:
    """How the tyres are when the wheels roll.

    kind "cold": as the air. "warmers": held at warmers_c [degC] for on_min [min], then off for
    off_min [min]. "stopped": stood for off_min [min] after a warmed-up session, in_sun or not.
    """

    kind: Literal["cold", "warmers", "stopped"]
    warmers_c: float | None = None
    on_min: float = 0.0
    off_min: float = 0.0
    in_sun: bool = False


@dataclass(frozen=True, slots=True)
class ColdPressure:
    """Gauge pressures as set: front_bar, rear_bar [bar] at set_c [degC] of the tyre."""

    front_bar: float
    rear_bar: float
    set_c: float


@dataclass(frozen=True, slots=True)
class FittedTyre:
    """A tyre with the family it came from."""

    family: str
    tyre: Tyre


@dataclass(frozen=True, slots=True)
class Session:
    """One run of one kind of rider: the question that a Ladder answers.

    laps is how many laps are asked for, from 1 to 40 and no longer than 3 h. front_state, rear_state: the
    tyres as they are by then, scrubbed to their edges and sound where not stated; date, by which they
    age. coach_pace: all of the run at the coach's pace; level is then that pace of the rider's level.
    chance: how sure the physical caps are to be.
    """

    circuit: Circuit
    weather: Weather
    road: Road
    front: FittedTyre
    rear: FittedTyre
    motorcycle: Motorcycle
    level: Level
    start: Start
    surface: Surface
    laps: int
    cold_pressure: ColdPressure
    front_state: Condition | None = None
    rear_state: Condition | None = None
    date: calendar_date | None = None
    coach_pace: bool = False
    chance: Chance = field(default_factory=Chance)
