"""The shipped model and the finer one over the same ride, read alike."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from tests.finer.riding import Fitted, Trace, lap, stood, traced, warmed
from tests.finer.section import Floats, Grid
from tests.finer.wheel import State, Wheel

from leanladder.domain.session import Session
from leanladder.engine import ride
from leanladder.engine.tyre_thermal import (
    FLOW_COUNT,
    heat_ride,
    read_c,
)
from leanladder.planning import starts
from leanladder.planning.forcing import motion, rolling_forcing
from leanladder.planning.laps import Step
from leanladder.planning.laps import ride as ridden
from leanladder.planning.riding import Wheels
from leanladder.planning.rubber import RIBS, Rubber
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables

WARM_MIN = 15.0
STAND_STEP_S = 1.0


class Lapped(NamedTuple):
    """A lap as ridden: the plan's step, both models' readings at its steps' starts and end.

    times_s (n,); ours and finer (n, 3, RIBS): skin, outer 2 mm, carcass by rib [degC]; lumps (n, 4).
    """

    times_s: Floats
    arrivals: NDArray[np.int64]
    minute: float
    ours: Floats
    finer: Floats
    ours_lumps: Floats
    finer_lumps: Floats


@dataclass(frozen=True)
class Ride:
    """A session's laps in order, a stop before some of them; begin, both tyres as the plan has them."""

    place: Setting
    begin: Wheels
    warm_laps: tuple[Step, ...]
    laps: tuple[Step, ...]


def planned(asked: Session, minutes: float) -> Ride:
    """Return the session's ride as the plan has it, of the laps begun within minutes."""
    place = setting(asked, shipped_tables())
    cold = Wheels(*(starts.soaked(asked.weather.air_c) for _ in range(2)))
    begin = cold
    warm_laps: tuple[Step, ...] = ()
    if asked.start.kind == "warmers":
        begin = Wheels(starts.off_warmers(place.front, place), starts.off_warmers(place.rear, place))
    if asked.start.kind == "stopped":
        warm_laps = _within(place, cold, WARM_MIN)
        warm = warm_laps[-1].ridden.heated.end
        begin = Wheels(
            *(
                starts.stood(state, tyre, place, asked.start.off_min, asked.start.in_sun)
                for state, tyre in zip(warm, (place.front, place.rear), strict=True)
            )
        )
    return Ride(place, begin, warm_laps, _within(place, begin, minutes))


def _within(place: Setting, begin: Wheels, minutes: float) -> tuple[Step, ...]:
    steps = []
    for step in ridden(place, begin, 40):
        steps.append(step)
        if step.minute + step.ridden.heated.time_s / 60.0 >= minutes:
            break
    return tuple(steps)


def fitted(place: Setting, is_rear: bool) -> Fitted:
    """Return a tyre of a session as the finer model takes it."""
    session = place.session
    one, wheel = (
        (session.rear, session.motorcycle.rear) if is_rear else (session.front, session.motorcycle.front)
    )
    return Fitted(one.tyre, wheel, place, is_rear)


def trace_of(tyre: Fitted, step: Step) -> Trace:
    """Return what a lap of the plan does to a tyre of the finer model."""
    place = tyre.place
    going = motion(step.way, step.ridden.speeds, place.stance)
    forces = ride.wheel_forces(going, place.chassis, place.tables.heat["driving_rolling"])
    return traced(tyre, going, forces[int(tyre.is_rear)], step.way.shaded[: step.way.lap_steps])


def ours(place: Setting, rubber: Rubber, step: Step, begin: Floats) -> tuple[Floats, Floats, Floats]:
    """Return times [s] and states (steps + 1, NODES) of the shipped model over a lap, and its end."""
    going = motion(step.way, step.ridden.speeds, place.stance)
    forces = ride.wheel_forces(going, place.chassis, place.tables.heat["driving_rolling"])
    shaded = step.way.shaded[: step.way.lap_steps]
    forcing = rolling_forcing(going, forces[int(rubber.is_rear)], rubber, place, float(begin[-1]), shaded)
    state, marks = begin.copy(), np.arange(forcing.dt_s.size + 1)
    states = heat_ride(
        state, rubber.body, rubber.rolling, forcing, marks, np.zeros(FLOW_COUNT), np.zeros(RIBS)
    )
    return np.concatenate([[0.0], np.cumsum(forcing.dt_s)]), states, state


def finer_begin(wheel: Wheel, tyre: Fitted, ride_: Ride, longest_s: float) -> State:
    """Return the finer model's tyre as the wheels roll, from its own warmers or its own stop."""
    session = tyre.place.session
    if session.start.kind == "warmers":
        return warmed(wheel, tyre, STAND_STEP_S)
    state = wheel.even(session.weather.air_c)
    for step in ride_.warm_laps:
        state, _ = lap(wheel, tyre, state, trace_of(tyre, step), longest_s)
    if session.start.kind == "stopped":
        return stood(wheel, tyre, state, session.start.off_min, STAND_STEP_S)
    return state


def compared(
    ride_: Ride, *, is_rear: bool, grid: Grid, longest_s: float, laps: int | None = None
) -> list[Lapped]:
    """Return both models' readings of one tyre, lap by lap."""
    place, tyre = ride_.place, fitted(ride_.place, is_rear)
    wheel = tyre.built(grid)
    state = finer_begin(wheel, tyre, ride_, longest_s)
    rubber, begin = (place.rear, ride_.begin.rear) if is_rear else (place.front, ride_.begin.front)
    out = []
    for step in ride_.laps[:laps]:
        times, states, begin = ours(place, rubber, step, begin)
        state, log = lap(wheel, tyre, state, trace_of(tyre, step), longest_s)
        arrivals = np.sort(step.way.arrivals[list(step.way.ridden)])
        out.append(
            Lapped(
                times,
                arrivals,
                step.minute,
                read_c(states, rubber.body),
                log.strips_c,
                states[:, -4:],
                log.lumps_c,
            )
        )
    return out


def thirds(by_rib: Floats) -> Floats:
    """Return left, centre and right means (..., 3) of ribs (..., RIBS)."""
    return np.asarray(by_rib.reshape(*by_rib.shape[:-1], 3, -1).mean(axis=-1))
