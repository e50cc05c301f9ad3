"""A loaded touring machine on a straight road at steady speed, for hours, by the model of the shipped files.

Every figure with a spread (heat, tyre, wheel, machine) is drawn from it for the members, within its range.
What the published text does not say is judgement, and marked so here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from typing import NamedTuple, TypeVar
from zlib import crc32

import numpy as np
from tests.trade.rides import Morning, session

from leanladder import catalogue
from leanladder.domain.motorcycle import Motorcycle
from leanladder.domain.parameter import Parameter
from leanladder.domain.tyre import Tyre
from leanladder.engine import ride
from leanladder.engine.grip import Floats
from leanladder.engine.ride import Motion
from leanladder.engine.tyre_thermal import FLOW_COUNT, heat_ride
from leanladder.planning.forcing import pressure_bar, rolling_forcing
from leanladder.planning.riding import GAS
from leanladder.planning.rubber import RIBS, Rubber
from leanladder.planning.setting import Setting, setting
from leanladder.planning.starts import NO_MARKS, soaked
from leanladder.planning.tables import shipped_tables

BAR_PER_PSI = 0.0689476
HOURS = 3.0
MINUTES = int(HOURS * 60)
STEP_S = 1.2
STEADY_K = 1e-4  # in a minute
AIRS_C = (4.0, 12.0, 20.0)
SPEEDS_KMH = (120.0, 130.0, 140.0)
MEMBERS = 60
SEED = 2022
FRONT, REAR = 0, 1

# As quoted from "Hot tire pressures", appendix C, a public web page of 2022 by Crystal Clear Research; the
# page itself was not read. Front, rear.
COLD_PSI = (41.4, 42.0)
HOT_PSI = (48.0, 50.7)
# The gas at which both ratios hold is given as about 37 and 47 degC; dry gas at sea level then says that the
# cold pressures were set at 4.4 degC, front and rear alike.
IMPLIED_GAS_C = (37.0, 47.0)
SET_C = 4.4

Object = TypeVar("Object")


@dataclass(frozen=True)
class Way:
    """One ride: air and road [degC], speed [km/h], temperature at which pressures were set [degC]."""

    air_c: float
    speed_kmh: float
    set_c: float = SET_C


class Course(NamedTuple):
    """Gauge pressure [psi] and gas [degC] at each full minute from 0 on, (minutes + 1, 2): front, rear."""

    psi: Floats
    gas_c: Floats

    def early(self, minute: int = 20) -> Floats:
        """Return the share [-] of the rise after 3 h that stands after some minutes, front and rear."""
        return np.asarray((self.psi[minute] - self.psi[0]) / (self.psi[-1] - self.psi[0]))


def touring_machine() -> Motorcycle:
    """The naked machine with a tourer's mass, length, screen and luggage: the nearest that ships."""
    naked = catalogue.motorcycle("naked")
    judged: dict[str, tuple[float, float, float, float]] = {
        "mass_kg": (365.0, 20.0, 330.0, 400.0),  # wet 240-270, rider and gear 85-100, luggage 15-30
        "wheelbase_m": (1.52, 0.02, 1.48, 1.56),
        "front_share": (0.46, 0.015, 0.42, 0.5),  # luggage sits behind
        "drag_area_m2": (0.6, 0.07, 0.5, 0.75),  # screen and cases
    }
    return replace(
        naked,
        **{
            name: replace(getattr(naked, name), value=value, spread=spread, low=low, high=high)
            for name, (value, spread, low, high) in judged.items()
        },
    )


def _normal(member: int, name: str) -> float:
    """A draw of a figure's own, so that a figure more or less moves no other's."""
    return float(np.random.default_rng([SEED, member, crc32(name.encode())]).standard_normal())


def _drawn(figure: Parameter, member: int, name: str) -> float:
    low = -np.inf if figure.low is None else figure.low
    high = np.inf if figure.high is None else figure.high
    return float(np.clip(figure.value + figure.spread * _normal(member, name), low, high))


def _all_drawn(item: Object, member: int, name: str) -> Object:
    """Return a domain object with each of its figures drawn; name is what it is called."""
    changed: dict[str, object] = {}
    for each in fields(item):  # type: ignore[arg-type]
        value, own = getattr(item, each.name), f"{name}.{each.name}"
        if isinstance(value, Parameter):
            changed[each.name] = replace(value, value=_drawn(value, member, own))
        elif is_dataclass(value):
            changed[each.name] = _all_drawn(value, member, own)
    return replace(item, **changed)  # type: ignore[type-var]


def _place(way: Way, machine: Motorcycle, tyres: tuple[Tyre, Tyre], heat: Mapping[str, float]) -> Setting:
    """The session made ready; its circuit is not ridden."""
    asked = session(Morning(way.air_c, way.air_c, sun_w_m2=0.0, wind_mps=0.0), "regular", 1)
    cold = replace(
        asked.cold_pressure,
        front_bar=COLD_PSI[FRONT] * BAR_PER_PSI,
        rear_bar=COLD_PSI[REAR] * BAR_PER_PSI,
        set_c=way.set_c,
    )
    front, rear = replace(asked.front, tyre=tyres[FRONT]), replace(asked.rear, tyre=tyres[REAR])
    asked = replace(asked, motorcycle=machine, front=front, rear=rear, cold_pressure=cold)
    return setting(asked, replace(shipped_tables(), heat=heat))


def _steady(speed_kmh: float) -> Motion:
    """One minute of it."""
    steps = round(60.0 / STEP_S)
    nothing = np.zeros(steps)
    speed = np.full(steps, speed_kmh / 3.6)
    return Motion(speed, nothing, np.full(steps, STEP_S), nothing, nothing, nothing, nothing)


def _tyre(place: Setting, tyre: Rubber, forces: ride.WheelForces, going: Motion) -> tuple[Floats, Floats]:
    """Pressure [bar gauge] and gas [degC] at each minute; the tyres have stood in the air."""
    state = soaked(place.session.weather.air_c)
    shaded = np.zeros(going.dt_s.size, dtype=np.bool_)
    gas = np.empty(MINUTES + 1)
    for minute in range(MINUTES + 1):
        gas[minute:] = state[GAS]
        # steady: what is left to come is this times a time constant of ten minutes or so
        if minute > 60 and abs(gas[minute] - gas[minute - 1]) < STEADY_K:
            break
        forcing = rolling_forcing(going, forces, tyre, place, float(state[GAS]), shaded)
        heat_ride(state, tyre.body, tyre.rolling, forcing, NO_MARKS, np.zeros(FLOW_COUNT), np.zeros(RIBS))
    return np.array([pressure_bar(place, tyre.is_rear, float(now)) for now in gas]), gas


def _course(place: Setting, speed_kmh: float) -> Course:
    going = _steady(speed_kmh)
    forces = ride.wheel_forces(going, place.chassis, place.tables.heat["driving_rolling"])
    both = [
        _tyre(place, tyre, each, going) for tyre, each in zip((place.front, place.rear), forces, strict=True)
    ]
    psi, gas_c = (np.stack([one[part] for one in both], axis=1) for part in (0, 1))
    return Course(psi / BAR_PER_PSI, gas_c)


@cache
def shipped(way: Way) -> Course:
    """Return the ride with the figures as shipped."""
    family = catalogue.tyre_family("sport-road")
    place = _place(way, touring_machine(), (family.front, family.rear), shipped_tables().heat)
    return _course(place, way.speed_kmh)


@cache
def members() -> tuple[Course, ...]:
    """Return rides with every figure drawn from its spread, and air and speed evenly from what is told."""
    figures = catalogue.parameters("heat")
    family, machine = catalogue.tyre_family("sport-road"), touring_machine()
    ways = np.random.default_rng(SEED).uniform(size=(MEMBERS, 2))
    found = []
    for member, (warm, fast) in enumerate(ways):
        air_c = AIRS_C[0] + float(warm) * (AIRS_C[-1] - AIRS_C[0])
        speed_kmh = SPEEDS_KMH[0] + float(fast) * (SPEEDS_KMH[-1] - SPEEDS_KMH[0])
        heat = {name: _drawn(figure, member, name) for name, figure in figures.items()}
        front, rear = (_all_drawn(getattr(family, end), member, end) for end in ("front", "rear"))
        place = _place(Way(air_c, speed_kmh), _all_drawn(machine, member, "machine"), (front, rear), heat)
        found.append(_course(place, speed_kmh))
    return tuple(found)
