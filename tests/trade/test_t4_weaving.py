"""T4: weaving is not how a carcass gets warm; hard upright drive and braking is. Common practice.

The same minutes at the same mean speed on a straight, tyres, road and air at 10 degC. Steady riding gives
most of the carcass's rise whatever else is done.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pytest
from tests.trade.rides import COLD, Morning, session

from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.cornering import leans_of_bike_leans
from leanladder.engine.grip import Floats
from leanladder.engine.ride import Motion, wheel_forces
from leanladder.engine.tyre_thermal import FLOW_COUNT, FLOWS, heat_ride, read_c
from leanladder.planning.forcing import rolling_forcing
from leanladder.planning.setting import Setting, setting
from leanladder.planning.starts import soaked
from leanladder.planning.tables import shipped_tables
from leanladder.planning.ways import compare
from leanladder.planning.ways.base import figures

AT_C = 10.0
MEAN_MPS = 20.0
STEPS, STEP_S = 1800, 0.1
DRIVE_MPS2, BRAKE_MPS2 = 0.4 * GRAVITY_MPS2, 0.7 * GRAVITY_MPS2


class Warmed(NamedTuple):
    """Both tyres: heat into the rubber [J], rise of the carcass under the crown [K]."""

    heat_j: float
    carcass_k: float


@pytest.fixture(scope="module")
def place() -> Setting:
    return setting(session(Morning(AT_C, AT_C, sun_w_m2=0.0), "experienced", 1), shipped_tables())


def on_a_straight(place: Setting, speed: Floats, along: Floats, bike_lean: Floats) -> Warmed:
    level, stance = np.zeros(STEPS), place.stance
    lean = leans_of_bike_leans(bike_lean, stance.crown_m, stance.cg_height_m)
    moves = Motion(speed, along, np.full(STEPS, STEP_S), lean, bike_lean, level, level)
    forces = wheel_forces(moves, place.chassis, place.tables.heat["driving_rolling"])
    heat_j, carcass_k = np.zeros(FLOW_COUNT), 0.0
    for tyre, own in zip((place.front, place.rear), forces, strict=True):
        state = soaked(AT_C)
        forcing = rolling_forcing(moves, own, tyre, place, AT_C, np.zeros(STEPS, dtype=bool))
        marks, load_s = np.zeros(0, dtype=np.int64), np.zeros(tyre.body.ribs)
        heat_ride(state, tyre.body, tyre.rolling, forcing, marks, heat_j, load_s)
        carcass_k += 0.5 * float(read_c(state, tyre.body)[2].mean() - AT_C)
    return Warmed(float(heat_j[[FLOWS.index("rolling"), FLOWS.index("slip")]].sum()), carcass_k)


def steady(place: Setting) -> Warmed:
    return on_a_straight(place, np.full(STEPS, MEAN_MPS), np.zeros(STEPS), np.zeros(STEPS))


def weaving(place: Setting) -> Warmed:
    ways = figures()
    phase = 2.0 * np.pi * STEP_S * np.arange(STEPS) / ways["weave_s"]
    lean = np.radians(20.0) * np.sin(phase)
    return on_a_straight(place, np.full(STEPS, MEAN_MPS), np.zeros(STEPS), lean)


def upright(place: Setting) -> Warmed:
    """Drive at 0.4 g and braking at 0.7 g in turn, about the mean speed."""
    half = figures()["swing_mps"]
    up_s, down_s = 2.0 * half / DRIVE_MPS2, 2.0 * half / BRAKE_MPS2
    passed = np.mod(STEP_S * (np.arange(STEPS) + 0.5), up_s + down_s)
    driving = passed < up_s
    speed = np.where(
        driving, MEAN_MPS - half + DRIVE_MPS2 * passed, MEAN_MPS + half - BRAKE_MPS2 * (passed - up_s)
    )
    assert speed.mean() == pytest.approx(MEAN_MPS, rel=0.005)
    return on_a_straight(place, speed, np.where(driving, DRIVE_MPS2, -BRAKE_MPS2), np.zeros(STEPS))


def test_t4_upright_drive_and_braking_add_three_times_what_weaving_adds(place: Setting) -> None:
    even = steady(place).heat_j
    assert upright(place).heat_j - even >= 3.0 * (weaving(place).heat_j - even)


def test_t4_steady_riding_gives_most_of_the_carcasss_rise(place: Setting) -> None:
    even = steady(place).carcass_k
    assert even > 0.5 * weaving(place).carcass_k
    assert even > 0.5 * upright(place).carcass_k


@pytest.mark.parametrize("level", ["new", "regular", "experienced"])
def test_t4_the_tool_says_so_and_proposes_no_weaving(level: str) -> None:
    ways = compare(session(Morning(8.0, 10.0), level, 3, start=COLD))
    told = {way.name: way for way in ways.ways}
    assert not told["weaving"].allowed
    assert told["weaving"].rank is None
    assert ways.steady_share is not None
    assert ways.steady_share > 0.5
    assert told["steady"].says.figures["share_pct"] == int(100.0 * ways.steady_share)
    assert told["weaving"].says.code in {"ways.no_weaving", "ways.no_weaving_doubted"}
    assert "no_weaving" in ways.cautions
