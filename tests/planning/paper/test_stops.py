"""After a stop: only a column that the tyres then carry, checked by planning the restart as a session."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Session, Start
from leanladder.planning import starts
from leanladder.planning.ladder import follow, plan
from leanladder.planning.paper.stops import Stop, stop_sentences, stops
from leanladder.planning.riding import Wheels
from leanladder.planning.setting import Setting

Ask = Callable[..., Session]


@pytest.fixture(scope="module")
def cold(ask: Ask) -> Ladder:
    return plan(ask(laps=6))


def restarted(ask: Ask, after_laps: int, minutes: float) -> Ladder:
    """The session planned anew on tyres that rode some laps from cold, then stood."""
    left = follow(ask(laps=after_laps)).left

    def begin(place: Setting) -> Wheels:
        tyres = zip(left, (place.front, place.rear), strict=True)
        return Wheels(*(starts.stood(state, tyre, place, minutes, in_sun=False) for state, tyre in tyres))

    return follow(ask(laps=3), begin=begin).ladder


def highest(told: Ladder, new: Ladder, column: int) -> float:
    """By how much the caps told, from a column on, stand above those of the restart at most [deg]."""
    over = []
    for index, lap in enumerate(new.laps):
        of_lap = {rung.number: rung.cap_bike_deg for rung in told.laps[min(column + index, 2)].rungs}
        over += [of_lap[rung.number] - rung.cap_bike_deg for rung in lap.rungs if rung.number in of_lap]
    return max(over)


def test_from_cold_a_short_stop_goes_back_a_column_and_a_longer_one_to_the_first(cold: Ladder) -> None:
    assert stops(cold, "laps") == (Stop("back", 0, 2), Stop("first", 2, None))


@pytest.mark.parametrize("after_laps", [1, 2, 3])
def test_a_column_back_is_carried_after_a_short_stop(ask: Ask, cold: Ladder, after_laps: int) -> None:
    assert highest(cold, restarted(ask, after_laps, 2.0), after_laps - 1) <= 0.0


@pytest.mark.parametrize("after_laps", [1, 3])
def test_the_first_column_is_carried_after_a_long_one(ask: Ask, cold: Ladder, after_laps: int) -> None:
    assert highest(cold, restarted(ask, after_laps, 15.0), 0) <= 0.0


def test_going_on_as_if_nothing_had_happened_is_not(ask: Ask, cold: Ladder) -> None:
    """What the rule guards against: the next column, after one lap and eight minutes."""
    assert highest(cold, restarted(ask, 1, 8.0), 1) > 0.0


def test_off_warmers_no_column_holds_after_any_stop(ask: Ask) -> None:
    warm = plan(ask(laps=5, start=Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)))
    assert stops(warm, "laps") == (Stop("none", 0, None),)


def test_tyres_still_warm_at_the_start_lose_the_first_column_after_a_long_stop(ask: Ask) -> None:
    warm = plan(ask(laps=6, start=Start("stopped", off_min=5.0)))
    assert stops(warm, "laps")[-1].rule == "none"


def test_minutes_have_rules_too(ask: Ask, scaled: Callable[..., object], demo_circuit: object) -> None:
    small = scaled(demo_circuit, 0.35)
    ladder = plan(ask(circuit=small, laps=8))
    found = stops(ladder, "minutes")
    assert found[0].over_min == 0
    assert found[-1].to_min is None


def test_what_is_said_ends_with_rain_and_a_colder_track(cold: Ladder) -> None:
    codes = [sentence.code for sentence in stop_sentences(cold, "laps")]
    assert codes == ["stop.back_to", "stop.first_over", "stop.rain", "stop.new_track"]
    falling = replace(cold, warnings=(*cold.warnings, replace(cold.warnings[0], code="limits_fall")))
    assert stop_sentences(falling, "laps")[0].code == "stop.none_any"
