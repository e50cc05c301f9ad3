"""From a planned lap to the heat it puts into each tyre."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from leanladder.engine import air, gas, ride
from leanladder.engine.caps import Stance
from leanladder.engine.cornering import bike_leans, leans_of_speeds
from leanladder.engine.grip import Floats
from leanladder.engine.ride import Motion, WheelForces
from leanladder.engine.tyre_thermal import Forcing
from leanladder.planning.course import Course
from leanladder.planning.rubber import Rubber
from leanladder.planning.setting import Setting

LEAST_W = 1e-6  # of slip: below it no part of it matters


def motion(way: Course, speeds: Floats, stance: Stance) -> Motion:
    """Return a lap at speeds (points,) [m/s] as steps (lap_steps,); mean values of both ends."""
    last = way.lap_steps + 1
    speeds = speeds[:last]
    middle = _mid(speeds)
    along = (speeds[1:] ** 2 - speeds[:-1] ** 2) / (2.0 * way.step_m)
    lean = leans_of_speeds(middle, _mid(way.curvature_per_m[:last]))
    bike_lean = bike_leans(lean, stance.crown_m, stance.cg_height_m)
    return Motion(
        middle, along, way.step_m / middle, lean, bike_lean, _mid(way.slope[:last]), _mid(way.bank[:last])
    )


def _mid(values: Floats) -> Floats:
    return np.asarray(0.5 * (values[1:] + values[:-1]))


def rolling_forcing(
    going: Motion,
    forces: WheelForces,
    tyre: Rubber,
    place: Setting,
    gas_now_c: float,
    shaded: NDArray[np.bool_],
) -> Forcing:
    """Return what the steps do to one tyre; gas_now_c [degC] sets its pressure for the lap."""
    return forcing_and_spin(going, forces, tyre, place, gas_now_c, shaded)[0]


def forcing_and_spin(
    going: Motion,
    forces: WheelForces,
    tyre: Rubber,
    place: Setting,
    gas_now_c: float,
    shaded: NDArray[np.bool_],
) -> tuple[Forcing, Floats]:
    """Return rolling_forcing's answer, and the part (steps,) [0..1] of its slip heat that is camber spin."""
    heat, session = place.tables.heat, place.session
    pressure = max(0.5, pressure_bar(place, tyre.is_rear, gas_now_c))
    slid, spun = ride.slip_parts_w(forces, going, tyre.grips, tyre.body.patch_half_m)
    slip = slid + spun
    bent_n = forces.load_n * ride.rolling_coefficient(going.speed_mps, pressure)
    bent_n = bent_n + heat["flex_side"] * forces.side_n + heat["flex_along"] * np.abs(forces.along_n)
    rolling = tyre.loss * bent_n * going.speed_mps
    road_w_k = ride.road_conductance_w_k(
        forces.load_n,
        going.speed_mps,
        pressure,
        tyre.body.patch_half_m,
        tyre.effusivity,
        heat["contact_factor"],
    )
    wind = np.hypot(going.speed_mps, session.weather.wind_mps)
    around = np.full(going.dt_s.size, session.weather.air_c)
    road_c = np.where(shaded, session.road.shaded_c, session.road.open_c)
    lit = 0.5 * heat["sun_seen"] * heat["sun_absorbed"] * session.road.sun_w_m2
    share = heat["slip_bulk_share"]
    forcing = Forcing(
        dt_s=going.dt_s,
        contact_m=-tyre.crown.crown_radius_m * (going.bike_lean - going.bank),
        rolling_w=rolling,
        bulk_w=slip * share,
        skin_w=slip * (1.0 - share) * heat["slip_tyre_share"],
        brake_w=heat["brake_rim_share"] * np.maximum(-forces.along_n, 0.0) * going.speed_mps,
        road_w_k=road_w_k,
        road_c=road_c,
        sun_w_m2=np.where(shaded, 0.0, lit),
        air_w_m2k=air.rolling_convection(wind, tyre.diameter_m, tyre.width_m),
        tread_air_c=around,
        wall_air_c=around,
    )
    return forcing, np.asarray(spun / np.maximum(slip, LEAST_W))


def pressure_bar(place: Setting, is_rear: bool, gas_now_c: float) -> float:
    """Return the hot gauge pressure [bar] of a tyre whose gas is at gas_now_c [degC]."""
    cold = place.session.cold_pressure
    set_bar = cold.rear_bar if is_rear else cold.front_bar
    return gas.gauge_bar(set_bar, cold.set_c, gas_now_c, place.atmosphere_bar)
