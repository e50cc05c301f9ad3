"""A day made into ladders: who shares one, what the tyres come from, what is refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from importlib.resources import as_file, files
from itertools import pairwise
from typing import get_args

import pytest

from leanladder.domain.circuit import Circuit
from leanladder.domain.condition import Condition
from leanladder.domain.day import Band, BandEnd, Day, DaySession, HourWeather, PressurePair, RoadState
from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.domain.session import Start
from leanladder.interchange.day import read_day
from leanladder.planning.day import plan_day
from leanladder.planning.day_check import assumptions, said
from leanladder.planning.day_weather import road_state, weather_at
from leanladder.planning.pressure import cold_advice


@pytest.fixture(scope="module")
def demo_day() -> Day:
    with as_file(files("leanladder") / "data" / "example") as folder:
        return read_day(folder / "day.toml")


@pytest.fixture(scope="module")
def alone(demo_day: Day) -> Day:
    """One new rider on one machine, two sessions of two laps, an hour apart."""
    riders = tuple(rider for rider in demo_day.riders if rider.name == "Wren")
    runs = (
        DaySession("early", "larks", time(9, 30), laps=2),
        DaySession("late", "larks", time(10, 30), laps=2),
    )
    return replace(demo_day, riders=riders, sessions=runs)


def gas_c(day: Day, circuit: Circuit, run: int = -1) -> float:
    ladder = plan_day(day, circuit)[run].ladder
    assert ladder is not None
    return ladder.laps[0].front_end.gas_c


def test_weather_follows_straight_lines_between_the_hours(demo_day: Day, demo_circuit: Circuit) -> None:
    weather = weather_at(demo_day, demo_circuit, time(11))
    assert weather.air_c == pytest.approx(11.5)
    assert weather.humidity_pct == pytest.approx(51.5)
    assert weather.at is not None
    assert weather.at.isoformat() == "2026-04-12T11:00:00+01:00"


def test_a_track_is_measured_at_its_time_or_between_two_measured(
    demo_day: Day, demo_circuit: Circuit
) -> None:
    first, second, *_ = demo_day.weather
    first = replace(first, track_c=10.0)
    day = replace(demo_day, weather=(first, *demo_day.weather[1:]))
    assert weather_at(day, demo_circuit, time(9)).track_c == 10.0
    assert weather_at(day, demo_circuit, time(9, 30)).track_c is None
    assert weather_at(day, demo_circuit, time(8, 30)).track_c is None
    both = replace(demo_day, weather=(first, replace(second, track_c=14.0)))
    assert weather_at(both, demo_circuit, time(9, 30)).track_c == pytest.approx(12.0)


def test_an_hour_beyond_the_weather_is_held_and_more_is_refused(demo_day: Day, demo_circuit: Circuit) -> None:
    assert weather_at(demo_day, demo_circuit, time(13)).air_c == 13.0
    with pytest.raises(InputError, match="no weather"):
        weather_at(demo_day, demo_circuit, time(13, 1))


def test_the_ends_of_the_band_are_made_from_the_forecast_alone(demo_day: Day, demo_circuit: Circuit) -> None:
    first, second, *_ = demo_day.weather
    measured = replace(demo_day, weather=(replace(first, track_c=10.0), replace(second, track_c=14.0)))
    found = {end: weather_at(measured, demo_circuit, time(9, 30), band=end) for end in get_args(BandEnd)}
    assert [found[end].air_c for end in ("cold", "likely", "mild")] == pytest.approx([7.0, 9.0, 11.0])
    assert [found[end].track_c for end in ("cold", "likely", "mild")] == [None, 12.0, None]


def test_a_colder_day_has_a_colder_road_and_lower_caps(alone: Day, demo_circuit: Circuit) -> None:
    day = replace(alone, sessions=alone.sessions[1:])
    made = [plan_day(day, demo_circuit, band=end)[0].ladder for end in get_args(BandEnd)]
    ladders = [ladder for ladder in made if ladder is not None]
    roads = [ladder.session.road.open_c for ladder in ladders]
    assert len(set(roads)) == 3
    assert roads == sorted(roads)
    for colder, milder in pairwise(ladders):
        for low, high in zip(colder.laps[0].rungs, milder.laps[0].rungs, strict=True):
            assert low.cap_bike_deg <= high.cap_bike_deg
        assert colder.laps[0].rungs[-1].cap_bike_deg < milder.laps[0].rungs[-1].cap_bike_deg


def test_riders_who_share_everything_share_a_ladder(demo_day: Day, demo_circuit: Circuit) -> None:
    first = replace(demo_day, sessions=demo_day.sessions[:1])
    entries = plan_day(first, demo_circuit)
    assert [entry.riders for entry in entries] == [("Wren", "Sedge"), ("Linnet",)]
    assert entries[0].machines == ("1", "2")
    softer = replace(first.machines[1], gauge_offset_bar=0.2)
    other = replace(first, machines=(first.machines[0], softer, *first.machines[2:]))
    assert [entry.riders for entry in plan_day(other, demo_circuit)] == [("Wren",), ("Sedge",), ("Linnet",)]


def test_minutes_are_the_laps_begun_within_them(alone: Day, demo_circuit: Circuit) -> None:
    timed = replace(alone, sessions=(replace(alone.sessions[0], laps=None, minutes=5.0),))
    (entry,) = plan_day(timed, demo_circuit)
    assert entry.ladder is not None
    last = entry.ladder.laps[-1]
    assert last.minute < 5.0 <= last.minute + last.time_s / 60.0


def test_the_gauges_offset_is_taken_off(alone: Day, demo_circuit: Circuit) -> None:
    (entry, _) = plan_day(alone, demo_circuit)
    assert entry.ladder is not None
    assert entry.ladder.session.cold_pressure.front_bar == pytest.approx(2.20)


def test_stood_tyres_lie_between_cold_ones_and_those_of_a_shorter_stop(
    alone: Day, demo_circuit: Circuit
) -> None:
    """Newton's cooling: the longer it stands the nearer it is to the air, and never below it."""
    late = alone.sessions[1]
    cold = gas_c(replace(alone, sessions=(replace(late, start=Start("cold")),)), demo_circuit)
    hour = gas_c(alone, demo_circuit)
    soon = DaySession("early", "larks", time(10, 15), laps=2)
    short = gas_c(replace(alone, sessions=(soon, late)), demo_circuit)
    assert cold < hour < short
    assert hour - cold < 0.5 * (short - cold)


def test_only_the_machine_that_rode_is_warm(demo_day: Day, alone: Day, demo_circuit: Circuit) -> None:
    wren, sedge = demo_day.riders[:2]
    moved = replace(sedge, group="plovers")
    late = replace(alone.sessions[1], group="plovers")
    day = replace(alone, riders=(wren, moved), sessions=(alone.sessions[0], late))
    assert plan_day(day, demo_circuit)[1].after is None
    same = replace(day, riders=(wren, replace(moved, machine=wren.machine)))
    entry = plan_day(same, demo_circuit)[1]
    assert entry.after == "early"
    assert entry.ladder is not None
    assert entry.ladder.session.start.kind == "stopped"
    assert 50 <= entry.ladder.session.start.off_min <= 60


def test_a_stated_start_wins(alone: Day, demo_circuit: Circuit) -> None:
    early, late = alone.sessions
    (_, entry) = plan_day(replace(alone, sessions=(early, replace(late, start=Start("cold")))), demo_circuit)
    assert entry.after is None
    assert entry.ladder is not None
    assert entry.ladder.session.start == Start("cold")


def starting(day: Day, start: Start, *machines: str) -> Day:
    """The same day with machines that start in a way of their own."""
    made = (replace(each, start=start) if each.name in machines else each for each in day.machines)
    return replace(day, machines=tuple(made))


def test_a_machines_start_counts_where_the_session_states_none(alone: Day, demo_circuit: Circuit) -> None:
    warmers = Start("warmers", 80.0, 60.0, 5.0)
    day = starting(alone, warmers, "1")
    for entry in plan_day(day, demo_circuit):
        assert entry.after is None
        assert entry.ladder is not None
        assert entry.ladder.session.start == warmers
    stated = replace(day, sessions=(replace(day.sessions[0], start=Start("cold")),))
    (entry,) = plan_day(stated, demo_circuit)
    assert entry.ladder is not None
    assert entry.ladder.session.start == Start("cold")


def test_machines_that_start_otherwise_are_another_combination(demo_day: Day, demo_circuit: Circuit) -> None:
    riders = tuple(rider for rider in demo_day.riders if rider.name in {"Wren", "Sedge"})
    session = replace(demo_day.sessions[0], minutes=None, laps=1)
    both = replace(demo_day, riders=riders, sessions=(session,))
    assert [entry.riders for entry in plan_day(both, demo_circuit)] == [("Wren", "Sedge")]
    mixed = starting(both, Start("warmers", 80.0, 60.0, 5.0), "2")
    assert [entry.riders for entry in plan_day(mixed, demo_circuit)] == [("Wren",), ("Sedge",)]


def test_a_minimum_typed_in_makes_cold_pressures_advised(alone: Day, demo_circuit: Circuit) -> None:
    bare = replace(alone.machines[0], front="sport-road", rear="sport-road")
    day = replace(alone, machines=(bare,), sessions=alone.sessions[:1])
    (ladder,) = (entry.ladder for entry in plan_day(day, demo_circuit))
    assert ladder is not None
    assert [advice.cold_bar for advice in cold_advice(ladder, 2.5, 2.4)] == [None, None]
    stated = replace(day, machines=(replace(bare, minimum=PressurePair(2.0, 2.35)),))
    (ladder,) = (entry.ladder for entry in plan_day(stated, demo_circuit))
    assert ladder is not None
    front, rear = cold_advice(ladder, 2.5, 2.3)
    assert front.cold_bar is not None
    assert 2.0 < front.cold_bar < 2.5
    assert rear.cold_bar == 2.35
    assert (front.minimum_bar, rear.minimum_bar) == (2.0, 2.35)


def test_assumed_pressures_are_set_once_in_the_first_sessions_air(alone: Day, demo_circuit: Circuit) -> None:
    unset = replace(alone, machines=(replace(alone.machines[0], cold=None),))
    made = [entry.ladder for entry in plan_day(unset, demo_circuit)]
    pressures = [ladder.session.cold_pressure for ladder in made if ladder is not None]
    assert [pressure.set_c for pressure in pressures] == [9.0, 9.0]


def with_roads(day: Day, *roads: RoadState | None) -> Day:
    """The same day with the road's state hour by hour, at 9, 10 and 12 o'clock."""
    hours = (replace(hour, road=road) for hour, road in zip(day.weather, roads, strict=True))
    return replace(day, weather=tuple(hours))


@pytest.mark.parametrize(
    ("roads", "at", "wanted"),
    [
        ((None, None, None), time(11), None),
        (("wet", None, "dry"), time(11, 59), "wet"),
        (("wet", None, "dry"), time(12), "dry"),
        ((None, "damp", None), time(9, 30), None),
        (("drying", None, None), time(8, 30), "drying"),
        (("dry", None, None), time(8, 30), None),
        (("dry", None, None), time(12, 30), "dry"),
    ],
)
def test_a_road_stands_until_an_hour_that_says_otherwise(
    demo_day: Day, roads: tuple[RoadState | None, ...], at: time, wanted: RoadState | None
) -> None:
    assert road_state(with_roads(demo_day, *roads), at) == wanted


@pytest.mark.parametrize(
    ("state", "code"), [("wet", "wet_or_damp"), ("damp", "wet_or_damp"), ("drying", "drying")]
)
def test_no_number_where_it_is_not_dry(
    alone: Day, demo_circuit: Circuit, state: RoadState, code: str
) -> None:
    refused, planned = plan_day(with_roads(alone, state, "dry", None), demo_circuit)
    assert refused.refusal is not None
    assert (refused.refusal.code, refused.refusal.fault.value) == (code, state)
    assert planned.after is None
    assert planned.ladder is not None
    assert planned.ladder.session.weather.seen_dry


@pytest.mark.parametrize(("minutes", "laps"), [(10.0, None), (None, 4)])
def test_no_number_where_it_turns_wet_within_the_session(
    alone: Day, demo_circuit: Circuit, minutes: float | None, laps: int | None
) -> None:
    run = replace(alone.sessions[0], laps=laps, minutes=minutes)
    found = []
    for at in (time(9, 54), time(9, 45)):
        day = replace(alone, sessions=(replace(run, at=at),))
        (entry,) = plan_day(with_roads(day, "dry", "wet", None), demo_circuit)
        found.append(None if entry.refusal is None else entry.refusal.code)
    assert found == ["wet_or_damp", None]


def test_who_has_looked_knows_better_than_the_forecast(alone: Day, demo_circuit: Circuit) -> None:
    wet = with_roads(alone, "wet", "drying", None)
    seen = replace(weather_at(wet, demo_circuit, time(9, 30)), seen_dry=True)
    looked, other = plan_day(wet, demo_circuit, {"early": seen})
    assert looked.ladder is not None
    assert other.refusal is not None
    unseen = replace(seen, seen_dry=False)
    assert plan_day(wet, demo_circuit, {"early": unseen})[0].refusal is not None


def test_a_machine_that_is_still_out_is_told(alone: Day, demo_circuit: Circuit) -> None:
    early, late = alone.sessions
    with pytest.raises(InputError, match="still out in session 'early'"):
        plan_day(replace(alone, sessions=(early, replace(late, at=time(9, 32)))), demo_circuit)


def frosty(day: Day) -> Day:
    """The same day with its first hours just above frost."""
    cold = HourWeather(time(9), Band(2.0, 2.0, 2.0), track_c=2.0, humidity_pct=50.0)
    still = replace(cold, at=time(9, 45))
    mild = HourWeather(time(10), Band(10.0, 10.0, 10.0), track_c=14.0, humidity_pct=50.0)
    return replace(day, weather=(cold, still, mild))


def test_a_refused_session_hides_no_other_and_warms_nothing(alone: Day, demo_circuit: Circuit) -> None:
    refused, planned = plan_day(frosty(alone), demo_circuit)
    assert isinstance(refused.refusal, OutsideModelError)
    assert refused.refusal.code == "road_too_cold"
    assert refused.ladder is None
    assert planned.ladder is not None
    assert planned.after is None


def test_an_unknown_machine_names_the_days_file(alone: Day, demo_circuit: Circuit) -> None:
    wrong = replace(alone, machines=(replace(alone.machines[0], machine="nakid"),))
    with pytest.raises(InputError) as caught:
        plan_day(wrong, demo_circuit)
    assert caught.value.fault.file == alone.file
    assert "Did you mean naked?" in str(caught.value)


def told(day: Day, circuit: Circuit) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for each in assumptions(day, circuit):
        found.setdefault(each.code, []).append(said(each, "en"))
    return found


def test_every_assumption_is_said_and_what_is_stated_is_not(demo_day: Day, demo_circuit: Circuit) -> None:
    codes = set(told(demo_day, demo_circuit))
    assert codes >= {"likely_air", "cooling", "track_computed", "laps_from_minutes", "start_cold"}
    assert codes >= {"start_after", "pressures", "no_minimum", "usual_lean"}
    assert not codes & {"altitude_unknown", "surface_unknown", "cloud_unknown", "humidity_unknown", "gauge"}


def test_what_is_left_out_is_an_assumption(alone: Day, demo_circuit: Circuit) -> None:
    bare = HourWeather(time(9), Band(14.0, 14.0, 14.0))
    rider = replace(alone.riders[0], usual_lean_deg=44.0, language="xx")
    day = replace(
        alone,
        weather=(bare,),
        latitude_deg=None,
        longitude_deg=None,
        altitude_m=None,
        surface=None,
        riders=(rider,),
        machines=(replace(alone.machines[0], gauge_offset_bar=None),),
        sessions=(
            replace(alone.sessions[0], group="larks"),
            DaySession("none", "plovers", time(9, 40), laps=1),
        ),
    )
    found = told(day, replace(demo_circuit, zone=None))
    assert set(found) >= {
        "zone_unknown", "place_unknown", "altitude_unknown", "surface_unknown", "cloud_unknown",
        "wind_unknown", "humidity_unknown", "track_assumed", "weather_held", "nobody", "gauge",
        "usual_lean_most", "language",
    }  # fmt: skip


def test_a_session_without_a_number_says_why_and_the_others_go_on(alone: Day, demo_circuit: Circuit) -> None:
    found = told(frosty(alone), demo_circuit)
    assert "at or below 3 °C" in found["road_too_cold"][0]
    assert "Wait until the road is warmer" in found["road_too_cold"][0]
    assert "track_computed" in found
    assert "start_cold" in found


def test_after_a_wet_road_tyres_begin_cold_whatever_warmed_them(alone: Day, demo_circuit: Circuit) -> None:
    warmers = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)
    early, late = alone.weather[:2]
    hours = (
        replace(early, at=time(9), road="damp"),
        replace(early, at=time(9, 15), road="dry"),
        replace(late, at=time(11)),
    )
    day = replace(starting(alone, warmers, "1"), weather=hours)
    first, second = plan_day(day, demo_circuit)
    cold, _ = plan_day(replace(alone, weather=hours), demo_circuit)
    assert first.ladder is not None
    assert cold.ladder is not None
    assert first.ladder.laps == cold.ladder.laps
    assert first.remarks[0].code == "condition.after_wet"
    assert second.ladder is not None
    assert second.ladder.session.start.kind == "warmers"


def test_a_plug_is_said_although_the_road_refuses_too(alone: Day, demo_circuit: Circuit) -> None:
    machines = tuple(
        replace(each, front_state=Condition(plugged=True)) if each.name == "1" else each
        for each in alone.machines
    )
    wet = tuple(replace(hour, road="wet") for hour in alone.weather)
    entries = plan_day(replace(alone, machines=machines, weather=wet), demo_circuit)
    assert [entry.refusal and entry.refusal.code for entry in entries] == ["plugged", "plugged"]


def test_a_look_at_the_start_does_not_overrule_a_later_wet_hour(alone: Day, demo_circuit: Circuit) -> None:
    run = replace(alone.sessions[0], at=time(9, 50), laps=None, minutes=15.0)
    day = with_roads(replace(alone, sessions=(run,)), "damp", "wet", None)
    seen = replace(weather_at(day, demo_circuit, run.at), seen_dry=True)
    (entry,) = plan_day(day, demo_circuit, {run.name: seen})
    assert entry.refusal is not None
    assert entry.refusal.code == "wet_or_damp"
    early = replace(day, sessions=(replace(run, at=time(9, 40)),))
    (entry,) = plan_day(early, demo_circuit, {run.name: seen})
    assert entry.ladder is not None
