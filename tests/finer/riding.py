"""What a ride does to the finer model's wheel: heat from speed, lean, loads and forces.

The ride (speed, lean, load and force a step of the circuit's grid) is the plan's; what it does to the
rubber is worked out here again from the laws that docs/physics names, with the pressure of this wheel's own
gas at every moment.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from tests.finer.section import Floats, Grid, Section, Sizes
from tests.finer.wheel import GAS, KELVIN, Load, Losses, Lumps, State, Wheel

from leanladder.domain.motorcycle import Wheel as FittedWheel
from leanladder.domain.tyre import Tyre
from leanladder.engine.ride import Motion, WheelForces
from leanladder.planning.setting import Setting

GRAVITY_MPS2 = 9.80665
AIR_CONDUCTIVITY, AIR_VISCOSITY, AIR_PRANDTL = 0.0262, 1.6e-5, 0.71  # air at 300 K
FASTEST_COOPER_KMH = 165.0
GAS_CONSTANT, GAS_CV = 287.05, 718.0  # J/kgK, dry air
GAS_PA, GAS_K = 3.0e5, 300.0


@dataclass(frozen=True)
class Fitted:
    """A tyre on its wheel in a session: figures only, none of the engine's nodes."""

    tyre: Tyre
    wheel: FittedWheel
    place: Setting
    is_rear: bool

    @property
    def scale(self) -> float:
        """Section of this wheel over the section that the tyre's figures are for [-]."""
        return self.wheel.tyre_width_m.value / self.tyre.section_m.value

    @property
    def radius_m(self) -> float:
        """Rolling radius [m]."""
        return self.wheel.rolling_radius_m.value

    @property
    def stored(self) -> float:
        """Heat a volume of rubber holds [J/m3K]."""
        return self.tyre.density_kg_m3.value * self.tyre.heat_capacity_j_kgk.value

    @property
    def patch_half_m(self) -> float:
        """Half the patch's width [m]."""
        return self.tyre.patch_half_width_m.value * self.scale

    def built(self, grid: Grid) -> Wheel:
        """Return the finer model of this tyre."""
        heat, tyre = self.place.tables.heat, self.tyre
        sizes = Sizes(
            0.5 * tyre.width_m.value * self.scale, tyre.tread_m.value, tyre.carcass_m.value,
            2.0 * np.pi * self.radius_m, tyre.conductivity_w_mk.value, self.stored,
        )  # fmt: skip
        height = heat["wall_height_rear_m" if self.is_rear else "wall_height_front_m"] * self.scale
        wall_m2 = 2.0 * np.pi * (self.radius_m - 0.5 * height) * height
        wall_j_k = self.stored * wall_m2 * heat["wall_m"]
        gas_j_k = GAS_PA * self.wheel.cavity_m3.value / (GAS_CONSTANT * GAS_K) * GAS_CV
        rim_j_k = self.wheel.rim_mass_kg.value * heat["rim_heat_j_kgk"]
        lumps = Lumps(
            np.array([wall_j_k, wall_j_k, rim_j_k, gas_j_k]),
            wall_m2, heat["rim_m2"], 0.5 * height, heat["bead_w_k"],
        )  # fmt: skip
        losses = Losses(
            heat["rolling_tread_share"], heat["rolling_wall_share"], heat["rolling_ref_c"],
            heat["rolling_per_k"], self.patch_half_m, self.patch_half_m * heat["flex_spread"],
        )  # fmt: skip
        return Wheel(Section(sizes, grid), lumps, losses)

    def convection(self, wind_mps: Floats) -> Floats:
        """Return the wheel's coefficient in free air [W/m2K]: Nu = 0.0239 Re^0.805."""
        length = 1.0 / (0.5 / self.radius_m + 1.0 / self.wheel.tyre_width_m.value)
        return np.asarray(0.0239 * (wind_mps * length / AIR_VISCOSITY) ** 0.805 * AIR_CONDUCTIVITY / length)

    def pressure_bar(self, gas_c: float) -> float:
        """Return the gauge pressure [bar] of this tyre's gas at gas_c [degC]."""
        cold, air_bar = self.place.session.cold_pressure, self.place.atmosphere_bar
        set_bar = (cold.rear_bar if self.is_rear else cold.front_bar) + air_bar
        return max(0.5, set_bar * (gas_c + KELVIN) / (cold.set_c + KELVIN) - air_bar)


class Trace(NamedTuple):
    """A lap's heat, a value a step of the circuit's grid, (steps,); the pressure p [bar] taken out.

    Flexing is flex_w + flex_w_bar / p; the road's conductance is road_w_k_root / sqrt(p).
    """

    dt_s: Floats
    contact_m: Floats
    flex_w: Floats
    flex_w_bar: Floats
    bulk_w: Floats
    skin_w: Floats
    brake_w: Floats
    road_w_k_root: Floats
    road_c: Floats
    sun_w_m2: Floats
    free_w_m2k: Floats


def traced(fitted: Fitted, going: Motion, forces: WheelForces, shaded: NDArray[np.bool_]) -> Trace:
    """Return what a lap does to a tyre, from how it is ridden."""
    tyre, heat, session = fitted.tyre, fitted.place.tables.heat, fitted.place.session
    speed, load_n = going.speed_mps, forces.load_n
    side_n, along_n = forces.side_n, np.abs(forces.along_n)
    kmh = np.minimum(3.6 * speed, FASTEST_COOPER_KMH)
    loss = tyre.rolling_loss.value * speed
    slip_w = _slip_w(fitted, going, forces)
    own = np.sqrt(tyre.conductivity_w_mk.value * fitted.stored)
    road = np.sqrt(
        heat["road_conductivity_w_mk"] * heat["road_density_kg_m3"] * heat["road_heat_capacity_j_kgk"]
    )
    joint = own * road / (own + road)
    # area N/p, in contact for area / (2 a v): 2 e / sqrt(pi t) over the area, N and p apart
    root = 2.0 * joint * np.sqrt(2.0 * fitted.patch_half_m * speed / np.pi) * np.sqrt(load_n / 1e5)
    road_c = np.where(shaded, session.road.shaded_c, session.road.open_c)
    lit = 0.5 * heat["sun_seen"] * heat["sun_absorbed"] * session.road.sun_w_m2
    bulk = heat["slip_bulk_share"]
    return Trace(
        going.dt_s,
        -tyre.crown_radius_m.value * fitted.scale * (going.bike_lean - going.bank),
        loss * (0.0085 * load_n + heat["flex_side"] * side_n + heat["flex_along"] * along_n),
        loss * load_n * (0.018 + 1.59e-6 * kmh**2),
        bulk * slip_w,
        (1.0 - bulk) * heat["slip_tyre_share"] * slip_w,
        heat["brake_rim_share"] * np.maximum(-forces.along_n, 0.0) * speed,
        heat["contact_factor"] * root,
        road_c,
        np.where(shaded, 0.0, lit),
        fitted.convection(np.hypot(speed, session.weather.wind_mps)),
    )


def _slip_w(fitted: Fitted, going: Motion, forces: WheelForces) -> Floats:
    """Power lost in slip along and across and by camber spin [W]."""
    tyre, load_n, speed = fitted.tyre, forces.load_n, going.speed_mps
    kappa = np.abs(forces.along_n) / (tyre.slip_stiffness.value * load_n)
    camber = np.abs(going.bike_lean - going.bank)
    alpha = (forces.side_n / load_n - tyre.camber_stiffness.value * camber) / tyre.side_stiffness.value
    curvature = GRAVITY_MPS2 * np.abs(np.tan(going.lean)) / np.maximum(speed, 1.0) ** 2
    spin = np.abs(np.sin(camber) / fitted.radius_m - curvature) * speed
    lever = fitted.place.tables.heat["spin_share"] * 0.5 * fitted.patch_half_m
    return np.asarray(
        np.abs(forces.along_n) * kappa * speed + forces.side_n * np.abs(alpha) * speed + lever * load_n * spin
    )


class Log(NamedTuple):
    """What was read: times_s (n,), means by strip and depth (n, 3, strips) [degC], lumps (n, 4) [degC]."""

    times_s: Floats
    strips_c: Floats
    lumps_c: Floats


def lap(wheel: Wheel, fitted: Fitted, state: State, trace: Trace, longest_s: float) -> tuple[State, Log]:
    """Return the wheel after a lap, and what was read at the start of each of its steps and at the end.

    Each step of the circuit's grid is cut into equal steps of at most longest_s [s].
    """
    read = [_read(wheel, state)]
    for number, span_s in enumerate(trace.dt_s):
        parts = max(1, int(np.ceil(span_s / longest_s)))
        for _ in range(parts):
            load = _moment(fitted, trace, number, float(state.lumps[GAS]))
            state = wheel.step(state, load, float(span_s) / parts)
        read.append(_read(wheel, state))
    strips, lumps = zip(*read, strict=True)
    return state, Log(np.concatenate([[0.0], np.cumsum(trace.dt_s)]), np.stack(strips), np.stack(lumps))


def _read(wheel: Wheel, state: State) -> tuple[Floats, Floats]:
    return (wheel.section.reading @ state.field).reshape(3, -1), state.lumps


def _moment(fitted: Fitted, trace: Trace, number: int, gas_c: float) -> Load:
    heat, air_c = fitted.place.tables.heat, fitted.place.session.weather.air_c
    bar = fitted.pressure_bar(gas_c)
    free = float(trace.free_w_m2k[number])
    return Load(
        contact_m=float(trace.contact_m[number]),
        road_w_k=float(trace.road_w_k_root[number]) / np.sqrt(bar),
        road_c=float(trace.road_c[number]),
        skin_w=float(trace.skin_w[number]),
        bulk_w=float(trace.bulk_w[number]),
        flex_w=float(trace.flex_w[number] + trace.flex_w_bar[number] / bar),
        brake_w=float(trace.brake_w[number]),
        sun_w_m2=float(trace.sun_w_m2[number]),
        tread_w_m2k=free * heat["air_rear" if fitted.is_rear else "air_front"],
        wall_w_m2k=free * heat["air_wall"],
        rim_w_m2k=free * heat["air_rim"],
        air_c=air_c,
        wall_air_c=air_c,
        gas_w_m2k=heat["gas_rolling_w_m2k"],
        emissivity=heat["emissivity"],
    )


QUIET = Load(*[0.0] * len(Load._fields))


def warmed(wheel: Wheel, fitted: Fitted, dt_s: float) -> State:
    """Return the wheel off warmers, as the session's start says."""
    start, heat = fitted.place.session.start, fitted.place.tables.heat
    air_c = fitted.place.session.weather.air_c
    set_c = air_c if start.warmers_c is None else start.warmers_c
    still = heat["warmer_still_w_m2k"]
    load = QUIET._replace(
        tread_w_m2k=heat["warmer_w_m2k"], wall_w_m2k=still, rim_w_m2k=still,
        air_c=set_c, wall_air_c=air_c + heat["warmer_wall_share"] * (set_c - air_c),
        gas_w_m2k=heat["gas_standing_w_m2k"],
    )  # fmt: skip
    state = wheel.even(air_c)
    for step_s in _steps(start.on_min * 60.0, dt_s):
        state = wheel.step(state, load, step_s)
    return stood(wheel, fitted, state, start.off_min, dt_s)


def stood(wheel: Wheel, fitted: Fitted, state: State, minutes: float, dt_s: float) -> State:
    """Return the wheel after minutes [min] of standing in the session's air, out of the sun."""
    heat, weather = fitted.place.tables.heat, fitted.place.session.weather
    forced = float(fitted.convection(np.array([heat["stand_wind_share"] * weather.wind_mps]))[0])
    top = wheel.section.surface
    for step_s in _steps(minutes * 60.0, dt_s):
        surface_c = float(top.weight @ (top.values @ state.field) / top.weight.sum())
        natural = _natural(surface_c, weather.air_c, 2.0 * fitted.radius_m)
        h = (forced**3 + natural**3) ** (1.0 / 3.0)
        load = QUIET._replace(
            tread_w_m2k=h, wall_w_m2k=h, rim_w_m2k=h, air_c=weather.air_c, wall_air_c=weather.air_c,
            gas_w_m2k=heat["gas_standing_w_m2k"], emissivity=heat["emissivity"],
        )  # fmt: skip
        state = wheel.step(state, load, step_s)
    return state


def _steps(span_s: float, dt_s: float) -> Iterator[float]:
    """Yield steps near dt_s, the first second of a span in twenty, for what changes at once."""
    if span_s <= 0.0:
        return
    begin = min(1.0, 0.5 * span_s)
    yield from [begin / 20.0] * 20
    count = max(1, round((span_s - begin) / dt_s))
    yield from [(span_s - begin) / count] * count


def _natural(surface_c: float, air_c: float, diameter_m: float) -> float:
    """Natural convection of a horizontal cylinder (Churchill and Chu 1975) [W/m2K]."""
    film_k = 0.5 * (surface_c + air_c) + KELVIN
    rayleigh = (
        GRAVITY_MPS2 * max(abs(surface_c - air_c), 0.1) * diameter_m**3 * AIR_PRANDTL
        / (film_k * AIR_VISCOSITY**2)
    )  # fmt: skip
    damped = (1.0 + (0.559 / AIR_PRANDTL) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    nusselt = (0.60 + 0.387 * rayleigh ** (1.0 / 6.0) / damped) ** 2
    return float(nusselt * AIR_CONDUCTIVITY / diameter_m)
