"""T3: flexing the carcass heats the tyre; rubbing its surface hardly heats the core. Common practice.

Equal power into the rubber for 60 s, rolling upright at 25 m/s on a road and in air at the tyre's starting
temperature.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pytest
from tests.trade.rides import Morning, session

from leanladder.engine import air, ride
from leanladder.engine.tyre_thermal import FLOW_COUNT, FLOWS, Forcing, heat_ride, read_c
from leanladder.planning.rubber import Rubber
from leanladder.planning.setting import Setting, setting
from leanladder.planning.starts import soaked
from leanladder.planning.tables import shipped_tables

START_C = 10.0
POWER_W = 1500.0
LOAD_N = 1200.0
SPEED_MPS = 25.0
STEPS, STEP_S = 600, 0.1
LEAST_RATIO = 3.0


class Power(NamedTuple):
    """Power into the rubber [W]: by rolling, by slip within the tread and at its surface."""

    rolling: float = 0.0
    bulk: float = 0.0
    skin: float = 0.0


class Carcass(NamedTuple):
    """Rise of the carcass [K]: the plain mean over the crown, and weighted by load."""

    plain: float
    loaded: float


@pytest.fixture(scope="module")
def place() -> Setting:
    return setting(session(Morning(START_C, START_C, sun_w_m2=0.0), "experienced", 1), shipped_tables())


def tyres(place: Setting) -> tuple[Rubber, Rubber]:
    return place.front, place.rear


def rise(place: Setting, tyre: Rubber, power: Power) -> Carcass:
    each, nothing = np.ones(STEPS), np.zeros(STEPS)
    pressure_bar = place.session.cold_pressure.rear_bar
    road_w_k = ride.road_conductance_w_k(
        each * LOAD_N,
        each * SPEED_MPS,
        pressure_bar,
        tyre.body.patch_half_m,
        tyre.effusivity,
        place.tables.heat["contact_factor"],
    )
    forcing = Forcing(
        dt_s=each * STEP_S,
        contact_m=nothing,
        rolling_w=each * power.rolling,
        bulk_w=each * power.bulk,
        skin_w=each * power.skin,
        brake_w=nothing,
        road_w_k=road_w_k,
        road_c=each * START_C,
        sun_w_m2=nothing,
        air_w_m2k=air.rolling_convection(each * SPEED_MPS, tyre.diameter_m, tyre.width_m),
        tread_air_c=each * START_C,
        wall_air_c=each * START_C,
    )
    state, heat_j, load_s = soaked(START_C), np.zeros(FLOW_COUNT), np.zeros(tyre.body.ribs)
    # the rolling loss held as it is: equal power, however warm the carcass gets
    held = tyre.rolling._replace(rolling_per_k=0.0)
    heat_ride(state, tyre.body, held, forcing, np.zeros(0, dtype=np.int64), heat_j, load_s)
    into = heat_j[[FLOWS.index("rolling"), FLOWS.index("slip")]].sum()
    assert into == pytest.approx(POWER_W * STEPS * STEP_S)
    carcass = read_c(state, tyre.body)[2] - START_C
    return Carcass(float(carcass.mean()), float(carcass @ load_s / load_s.sum()))


def ratios(place: Setting, slip: Power) -> list[float]:
    found = []
    for tyre in tyres(place):
        flexed, slipped = rise(place, tyre, Power(rolling=POWER_W)), rise(place, tyre, slip)
        found += [flexed.plain / slipped.plain, flexed.loaded / slipped.loaded]
    return found


def test_t3_rubbing_the_surface_hardly_heats_the_core(place: Setting) -> None:
    """Slip's heat made where it rubs: at the surface."""
    assert min(ratios(place, Power(skin=POWER_W))) >= LEAST_RATIO


def test_t3_slip_as_the_model_splits_it_hardly_heats_the_core(place: Setting) -> None:
    """Part of slip's heat is made by shear within the tread, halfway to the core."""
    heat = place.tables.heat
    bulk = heat["slip_bulk_share"]
    skin = (1.0 - bulk) * heat["slip_tyre_share"]
    slip = Power(bulk=POWER_W * bulk / (bulk + skin), skin=POWER_W * skin / (bulk + skin))
    assert min(ratios(place, slip)) >= LEAST_RATIO
