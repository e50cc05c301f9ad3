"""The tyres when the wheels roll: soaked in air, off warmers, or stood after a session."""

from __future__ import annotations

import numpy as np

from leanladder.engine import air
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import FLOW_COUNT, Forcing, Shares, heat_ride
from leanladder.planning.rubber import NODES, RIBS, Rubber
from leanladder.planning.setting import Setting

STEP_S = 1.0
BLOCK_S = 60.0  # natural convection is taken anew this often
NO_MARKS = np.zeros(0, dtype=np.int64)


def soaked(air_c: float) -> Floats:
    """Return a tyre at air_c [degC] throughout, (NODES,)."""
    return np.full(NODES, float(air_c))


def off_warmers(tyre: Rubber, place: Setting) -> Floats:
    """Return a tyre that was on warmers and then off them, as the session's start says."""
    start, heat = place.session.start, place.tables.heat
    air_c = place.session.weather.air_c
    state = soaked(air_c)
    set_c = air_c if start.warmers_c is None else start.warmers_c
    walls_c = air_c + heat["warmer_wall_share"] * (set_c - air_c)
    still = heat["warmer_still_w_m2k"] / heat["warmer_w_m2k"]
    wrapped = tyre.standing._replace(emissivity=0.0, wall_air=still, rim_air=still)
    on = _still(start.on_min * 60.0, heat["warmer_w_m2k"], (set_c, walls_c), 0.0)
    _stand(state, tyre, wrapped, on)
    return stood(state, tyre, place, start.off_min, in_sun=False)


def stood(state: Floats, tyre: Rubber, place: Setting, minutes: float, in_sun: bool) -> Floats:
    """Return the tyre after standing for minutes [min] in the session's air, in sun or shade.

    Wheel off the ground or on one small spot of it: no heat goes to the road.
    """
    heat, weather = place.tables.heat, place.session.weather
    state = state.copy()
    lit = heat["sun_seen"] * heat["sun_absorbed"] * place.session.road.sun_w_m2 if in_sun else 0.0
    breeze = np.array([heat["stand_wind_share"] * weather.wind_mps])
    forced = air.rolling_convection(breeze, tyre.diameter_m, tyre.width_m)
    left_s = minutes * 60.0
    while left_s > 1e-9:
        span_s = min(BLOCK_S, left_s)
        surface_c = float(state[:RIBS].mean())
        natural = air.standing_convection(surface_c, weather.air_c, tyre.diameter_m)
        coefficient = float(air.joined(forced, natural)[0])
        block = _still(span_s, coefficient, (weather.air_c, weather.air_c), lit)
        _stand(state, tyre, tyre.standing, block)
        left_s -= span_s
    return state


def _stand(state: Floats, tyre: Rubber, shares: Shares, still: Forcing) -> None:
    heat_ride(state, tyre.body, shares, still, NO_MARKS, np.zeros(FLOW_COUNT), np.zeros(RIBS))


def _still(span_s: float, air_w_m2k: float, around_c: tuple[float, float], sun_w_m2: float) -> Forcing:
    """A standing wheel for span_s [s]: around_c [degC] are tread's and walls' surroundings."""
    count = max(1, round(span_s / STEP_S))
    nothing, one = np.zeros(count), np.ones(count)
    return Forcing(
        one * (span_s / count), nothing, nothing, nothing, nothing, nothing, nothing, nothing,
        one * sun_w_m2, one * air_w_m2k, one * around_c[0], one * around_c[1],
    )  # fmt: skip
