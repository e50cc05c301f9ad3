"""Tyres when the wheels roll: soaked, off warmers, stood."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest

from leanladder.domain.session import Start
from leanladder.domain.weather import Road, Weather
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import LAYER_CARCASS, LAYERS
from leanladder.planning import starts
from leanladder.planning.laps import started
from leanladder.planning.riding import GAS, RIM
from leanladder.planning.rubber import NODES, RIBS
from leanladder.planning.setting import Setting

Place = Callable[..., Setting]
AIR_C, SET_C = 8.0, 80.0
TREAD = slice(0, LAYER_CARCASS * RIBS)
CARCASS = slice(LAYER_CARCASS * RIBS, LAYERS * RIBS)


def warmed(place: Place, on_min: float, off_min: float = 0.0) -> tuple[Floats, Floats]:
    here = place(start=Start("warmers", SET_C, on_min, off_min))
    return starts.off_warmers(here.front, here), starts.off_warmers(here.rear, here)


def stored_j(state: Floats, here: Setting, *, rear: bool = True) -> float:
    tyre = here.rear if rear else here.front
    return float(tyre.body.heat_j_k @ state)


def test_a_cold_start_is_the_air_throughout(place: Place) -> None:
    front, rear = started(place())
    assert np.all(front == AIR_C)
    assert np.all(rear == AIR_C)
    assert front is not rear


def test_warmers_for_an_hour_bring_the_tread_near_what_they_are_set_to(place: Place) -> None:
    # Common practice: 45-60 min on, so that rim and gas are warm and not only the skin.
    for state in warmed(place, 60.0):
        assert np.all(state[TREAD] > SET_C - 8.0)
        assert np.all(state[TREAD] < SET_C)


def test_rim_and_gas_follow_but_stay_colder(place: Place) -> None:
    for state in warmed(place, 60.0):
        coldest = float(state[TREAD].min())
        assert AIR_C + 10.0 < state[RIM] < state[GAS] < coldest
        assert state[RIM] < state[CARCASS].min() < coldest


def test_longer_on_warmers_is_warmer_everywhere(place: Place) -> None:
    before = warmed(place, 0.0)[1]
    assert before == pytest.approx(np.full(NODES, AIR_C))
    for minutes in (5.0, 20.0, 45.0, 90.0):
        after = warmed(place, minutes)[1]
        assert np.all(after >= before - 1e-9)
        before = after


def test_minutes_off_warmers_cost_the_skin_first(place: Place) -> None:
    on, off = warmed(place, 60.0)[1], warmed(place, 60.0, 5.0)[1]
    assert np.all(off[TREAD] < on[TREAD])
    lost = on - off
    assert lost[:RIBS].mean() > lost[CARCASS].mean() > lost[RIM]


@pytest.mark.parametrize("minutes", [0.0, 0.5, 1.0, 90.5])
def test_standing_for_odd_minutes(place: Place, minutes: float) -> None:
    here, state = place(), warmed(place, 60.0)[1]
    kept = state.copy()
    after = starts.stood(state, here.rear, here, minutes, in_sun=False)
    assert np.array_equal(state, kept)  # what stood is a copy
    if minutes == 0.0:
        assert np.array_equal(after, state)
    else:
        assert stored_j(after, here) < stored_j(state, here)


def test_standing_cools_all_the_time_and_ends_at_the_air(place: Place) -> None:
    here = place()
    state = warmed(place, 60.0)[1]
    for _ in range(20):
        after = starts.stood(state, here.rear, here, 6.0, in_sun=False)
        assert stored_j(after, here) < stored_j(state, here)
        assert np.all(after[TREAD] < state[TREAD])
        assert after.min() >= AIR_C
        state = after
    state = starts.stood(state, here.rear, here, 8.0 * 60.0, in_sun=False)
    assert state == pytest.approx(np.full(NODES, AIR_C), abs=0.5)


def test_standing_in_two_parts_is_standing_once(place: Place) -> None:
    here, state = place(), warmed(place, 60.0)[0]
    once = starts.stood(state, here.front, here, 30.0, in_sun=False)
    half = starts.stood(state, here.front, here, 15.0, in_sun=False)
    assert starts.stood(half, here.front, here, 15.0, in_sun=False) == pytest.approx(once, rel=1e-9)


def test_sun_warms_a_standing_tyre_and_shade_does_not(place: Place) -> None:
    here = place(road=Road(20.0, 15.0, "measured", 1.0, 800.0))
    cold = starts.soaked(AIR_C)
    lit = starts.stood(cold, here.rear, here, 30.0, in_sun=True)
    assert np.all(lit[TREAD] > AIR_C + 1.0)
    assert starts.stood(cold, here.rear, here, 30.0, in_sun=False) == pytest.approx(cold, abs=1e-9)


def test_a_breeze_cools_faster(place: Place) -> None:
    state = warmed(place, 60.0)[1]
    still, windy = (place(weather=Weather(AIR_C, 9.0, 60.0, wind_mps=wind)) for wind in (0.0, 6.0))
    left = [
        stored_j(starts.stood(state, here.rear, here, 10.0, in_sun=False), here) for here in (still, windy)
    ]
    assert left[1] < left[0]


def test_after_a_stop_tyres_lie_between_cold_and_as_they_came_in(place: Place) -> None:
    stops = [started(place(start=Start("stopped", None, 0.0, minutes))) for minutes in (0.0, 15.0, 60.0)]
    for before, after in pairwise(stops):
        for one, other in zip(before, after, strict=True):
            assert other[CARCASS].mean() < one[CARCASS].mean()
            assert other.min() >= AIR_C - 1e-9


def test_a_stop_in_the_sun_keeps_more(place: Place) -> None:
    road = Road(20.0, 15.0, "measured", 1.0, 700.0)
    shade, sun = (
        started(place(road=road, start=Start("stopped", None, 0.0, 20.0, in_sun))).rear
        for in_sun in (False, True)
    )
    assert np.all(sun[TREAD] > shade[TREAD])


def test_warmers_without_a_setting_do_nothing(place: Place) -> None:
    here = place(start=Start("warmers", None, 60.0, 5.0))
    assert starts.off_warmers(here.rear, here) == pytest.approx(np.full(NODES, AIR_C))
