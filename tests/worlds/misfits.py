"""What was said is not how it is: truths beside what a ladder was planned for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray
from tests.worlds.drawing import Tilt, Tilts, everywhere
from tests.worlds.laid import Laid

from leanladder import catalogue
from leanladder.domain.condition import Condition, Crown
from leanladder.domain.session import FittedTyre, Session
from leanladder.domain.weather import Weather
from leanladder.planning.morning import settle_road
from leanladder.planning.odds.draws import Draws

Floats = NDArray[np.float64]
Truth = Callable[[Session], Session]
HALF = 0.5
COLDER_K = 5.0
OFF_BAR = 0.3
SUNNY = Weather(
    8.0, None, 50.0, 2.0, 0.0, 51.5, -1.0, datetime(2026, 3, 28, 10, 30, tzinfo=UTC), seen_dry=True
)


@dataclass(frozen=True)
class Misfit:
    """A mistake: what it is, how a session really is, how draws are moved."""

    what: str
    truth: Truth | None = None
    tilts: Tilts = field(default_factory=dict)


def wider() -> Misfit:
    """Return every spread half as much again as the planner believes."""
    return Misfit("every spread half as much again", tilts=everywhere(Tilt(wide=1.5)))


def shifted(code: str, side: float) -> Misfit:
    """Return the mean of an input half a spread to a side."""
    return Misfit(f"`{code}` half a spread to the bad side", tilts={code: Tilt(shift=HALF * side)})


def bad_sides(laid: Laid, used: Floats, draws: Draws) -> Mapping[str, float]:
    """Return how each input common to a world goes with what the counted rungs use: a mean correlation."""
    rungs = used[laid.counted]
    return {
        code: float(np.mean([np.corrcoef(values, rung)[0, 1] for rung in rungs]))
        for code, values in draws.common.items()
    }


def told_wrongly() -> tuple[Misfit, ...]:
    """Return mistakes in what was said of road, weather, tyres, pressure, start and rider."""
    return (
        Misfit("polished road, ordinary was said", lambda said: on_surface(said, "polished")),
        Misfit("track 5 K colder than said", lambda said: track_off(said, -COLDER_K)),
        Misfit("air 5 K colder than said", lambda said: air_off(said, -COLDER_K)),
        Misfit("shade over a third of the lap, not entered", in_shade),
        Misfit("tyres with a worn crown, round was said", lambda said: worn(said, "worn")),
        Misfit("tyres with a squared crown, round was said", lambda said: worn(said, "squared")),
        Misfit("tyres made in week 10 of 2018, nothing was said", lambda said: made(said, "1018")),
        Misfit("race tyres, others were said", lambda said: on_tyres(said, "race")),
        Misfit("pressures 0.3 bar above what was said", lambda said: pressure_off(said, OFF_BAR)),
        Misfit("pressures 0.3 bar below what was said", lambda said: pressure_off(said, -OFF_BAR)),
        Misfit("15 min off warmers, 5 were said", later),
        Misfit("a rider who scatters as `new` does", scattering_as_new),
    )


def on_surface(said: Session, name: str) -> Session:
    """Return the session on another surface wherever no patch lies."""
    return replace(said, surface=catalogue.surface(name))


def track_off(said: Session, by_k: float) -> Session:
    """Return the session on a road that is off by some K [K], in the open and in shade."""
    road = said.road
    return replace(said, road=replace(road, open_c=road.open_c + by_k, shaded_c=road.shaded_c + by_k))


def air_off(said: Session, by_k: float) -> Session:
    """Return the session in air that is off by some K [K]; pressures as they were set."""
    return replace(said, weather=replace(said.weather, air_c=said.weather.air_c + by_k))


def sunny(said: Session) -> Session:
    """Return the session on a sunny cold morning, its circuit without any shade."""
    road, _ = settle_road(SUNNY)
    shaded = np.zeros_like(said.circuit.shaded)
    weather = replace(SUNNY, track_c=road.open_c)
    measured = replace(road, origin="measured", spread_k=said.road.spread_k)
    circuit = replace(said.circuit, shaded=shaded)
    pressure = replace(said.cold_pressure, set_c=SUNNY.air_c)
    return replace(said, weather=weather, road=measured, circuit=circuit, cold_pressure=pressure)


def in_shade(said: Session) -> Session:
    """Return the session with the second third of its lap in shade."""
    count = said.circuit.shaded.size
    shaded = said.circuit.shaded.copy()
    shaded[count // 3 : 2 * count // 3] = True
    return replace(said, circuit=replace(said.circuit, shaded=shaded))


def worn(said: Session, crown: Crown) -> Session:
    """Return the session on tyres of another crown."""
    return replace(said, front_state=Condition(crown=crown), rear_state=Condition(crown=crown))


def made(said: Session, date_code: str) -> Session:
    """Return the session on tyres of a date code, ridden in spring 2026."""
    state = Condition(date_code=date_code)
    return replace(said, front_state=state, rear_state=state, date=SUNNY.at.date() if SUNNY.at else None)


def on_tyres(said: Session, name: str) -> Session:
    """Return the session on tyres of another family."""
    family = catalogue.tyre_family(name)
    return replace(said, front=FittedTyre(name, family.front), rear=FittedTyre(name, family.rear))


def pressure_off(said: Session, by_bar: float) -> Session:
    """Return the session at cold pressures that are off [bar]."""
    cold = said.cold_pressure
    off = replace(cold, front_bar=cold.front_bar + by_bar, rear_bar=cold.rear_bar + by_bar)
    return replace(said, cold_pressure=off)


def later(said: Session) -> Session:
    """Return the session begun 10 min later off warmers."""
    return replace(said, start=replace(said.start, off_min=said.start.off_min + 10.0))


def scattering_as_new(said: Session) -> Session:
    """Return the session with a rider of the level who scatters as a new one does."""
    new, level = catalogue.level("new"), said.level
    scatter = {name: getattr(new, name) for name in ("lean_scatter_deg", "line_scatter")}
    return replace(said, level=replace(level, **scatter))
