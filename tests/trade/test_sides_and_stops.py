"""T9, T10, T16: the side that stays cold, stops, and the hot end. Common practice, no published source."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from tests.trade.rides import (
    HOT_SUN_W_M2,
    LEFT,
    RIGHT,
    Morning,
    arrivals,
    caps_of,
    physics,
    run,
    session,
)

from leanladder.domain.session import Start
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import read_c
from leanladder.planning.ladder import plan
from leanladder.planning.laps import ride, started
from leanladder.planning.riding import Wheels
from leanladder.planning.rungs import loaded
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables

MILD = Morning(16.0, 22.0)
WARM = Morning(20.0, 28.0)
STILL = Morning(8.0, 10.0, sun_w_m2=0.0, wind_mps=0.0)


def test_t9_the_idle_shoulder_stays_cold() -> None:
    done = run(session(MILD, "experienced", 8))
    idle = int(np.flatnonzero(~done.rights())[0])
    for step in done.steps[2:]:
        for left, right in zip(
            arrivals(done.place, step.ridden.heated, LEFT),
            arrivals(done.place, step.ridden.heated, RIGHT),
            strict=True,
        ):
            assert right[idle] - left[idle] >= 8.0


@pytest.mark.parametrize("morning", [MILD, WARM], ids=["mild", "warm"])
def test_t9_its_cap_is_lower_from_lap_2(morning: Morning) -> None:
    done = run(session(morning, "experienced", 8))
    busy = done.rights()
    for step in done.steps[1:]:
        caps = physics(step.ridden.caps)
        assert caps[busy].mean() - caps[~busy].max() >= 3.0


def test_t9_its_turn_has_the_least_margin_and_is_flagged() -> None:
    ladder = plan(session(MILD, "experienced", 8))
    lefts = [corner.number for corner in ladder.session.circuit.corners if corner.side == "left"]
    assert all(lap.least_margin in lefts for lap in ladder.laps[1:])
    assert "seldom_used_side" in {warning.code for warning in ladder.warnings}


@dataclass(frozen=True)
class Stop:
    """After a stop: load-weighted carcass excess, front and rear [K], and the busy side's cap [deg]."""

    carcass_k: Floats
    cap_deg: float


@pytest.fixture(scope="module")
def soaked_cap_deg() -> float:
    """The cap, least of all four, of tyres soaked at the air's temperature."""
    place = setting(session(STILL, "experienced", 1), shipped_tables())
    return _busy_cap(place, started(place))


@pytest.fixture(scope="module")
def stops() -> dict[int, Stop]:
    """What stops of so many minutes leave of a warmed-up session, in still air and shade."""
    place = setting(session(STILL, "experienced", 1), shipped_tables())
    load_s = _load_s(place, started(place))
    found = {}
    for minutes in (0, 10, 40, 75):
        start = Start("stopped", off_min=float(minutes))
        wheels = started(setting(session(STILL, "experienced", 1, start=start), shipped_tables()))
        excess = [
            loaded(read_c(state, tyre.body)[-1], load) - STILL.air_c
            for state, load, tyre in zip(wheels, load_s, (place.front, place.rear), strict=True)
        ]
        found[minutes] = Stop(np.array(excess), _busy_cap(place, wheels))
    return found


def _load_s(place: Setting, soaked: Wheels) -> np.typing.NDArray[np.float64]:
    needed = place.tables.margin["warm_session_min"]
    for step in ride(place, soaked, 40):
        if step.minute + step.ridden.heated.time_s / 60.0 >= needed:
            break
    return step.ridden.heated.load_s


def _busy_cap(place: Setting, wheels: Wheels) -> float:
    busy = np.array([corner.side == "right" for corner in place.session.circuit.corners])
    return float(caps_of(place, wheels).cap[busy].mean())


def test_t10_lunch_takes_all_of_it(stops: dict[int, Stop], soaked_cap_deg: float) -> None:
    assert stops[75].cap_deg - soaked_cap_deg <= 2.0


def test_t10_forty_minutes_leave_a_sixth_of_the_heat(stops: dict[int, Stop]) -> None:
    assert np.all(stops[40].carcass_k / stops[0].carcass_k <= 1.0 / 6.0)


def test_t10_forty_minutes_leave_a_quarter_of_the_cap(stops: dict[int, Stop], soaked_cap_deg: float) -> None:
    left, whole = (stops[minutes].cap_deg - soaked_cap_deg for minutes in (40, 0))
    assert left / whole <= 0.25


def test_t10_ten_minutes_leave_two_fifths(stops: dict[int, Stop]) -> None:
    assert np.all(stops[10].carcass_k / stops[0].carcass_k >= 0.4)


HOT = Morning(45.0, 65.0, sun_w_m2=HOT_SUN_W_M2)


def test_t16_an_extremely_hot_day_takes_the_best_away() -> None:
    ladder = plan(session(HOT, "experienced", 12))
    best = [
        np.mean([rung.physics_bike_deg for rung in lap.rungs if rung.side == "right"]) for lap in ladder.laps
    ]
    assert max(best) - best[-1] >= 0.5
    assert "hot_end" in {warning.code for warning in ladder.warnings}


def test_t16_a_new_rider_is_warned() -> None:
    codes = {warning.code for warning in plan(session(HOT, "new", 12)).warnings}
    assert "hot_end" in codes or "hot_track" in codes
