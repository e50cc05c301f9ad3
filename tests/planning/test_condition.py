"""What a tyre's condition does to a ladder and to a day; sizes that are common practice say so."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from importlib.resources import as_file, files
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder import catalogue
from leanladder.domain.circuit import Circuit
from leanladder.domain.condition import Condition
from leanladder.domain.day import Band, Day, DayLadder, DaySession, HourWeather
from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.interchange.day import read_day
from leanladder.planning.condition import age_years, at_coach_pace, grip_kept, made_on
from leanladder.planning.day import plan_day
from leanladder.planning.day_check import assumptions
from leanladder.planning.ladder import plan
from leanladder.planning.laps import started
from leanladder.planning.riding import caps_on_arrival
from leanladder.planning.setting import setting
from leanladder.planning.tables import Tables, shipped_tables

Ask = Callable[..., Session]
ON = date(2026, 4, 12)
SOUND = Condition()
NEW = Condition(0.0, 0.0)
NEW_LEFT = Condition(scrubbed_left_deg=0.0)
LEVELS = ("new", "regular", "experienced")
WARMERS = Start("warmers", 80.0, 60.0, 5.0)
WARMER_DEG = 0.6

weeks = st.tuples(st.integers(1, 52), st.integers(10, 25)).map(lambda code: f"{code[0]:02d}{code[1]:02d}")
states = st.builds(
    Condition,
    scrubbed_left_deg=st.none() | st.floats(0.0, 60.0),
    scrubbed_right_deg=st.none() | st.floats(0.0, 60.0),
    crown=st.sampled_from(("round", "squared", "worn")),
    date_code=st.none() | weeks,
    heat_cycles=st.none() | st.integers(0, 200),
)


def tyre(family: str = "sport-road") -> Any:
    return catalogue.tyre_family(family).rear


# Grip


@given(state=states)
def test_no_condition_adds_grip(state: Condition) -> None:
    assert 0.0 < grip_kept(tyre(), state, ON, shipped_tables().condition) <= 1.0


@given(state=states, family=st.sampled_from(catalogue.tyre_names()), older=weeks, younger=weeks)
def test_older_rubber_and_more_cycles_keep_no_more(
    state: Condition, family: str, older: str, younger: str
) -> None:
    table = shipped_tables().condition
    older, younger = sorted((older, younger), key=lambda code: (code[2:], code[:2]))
    one, other = (
        grip_kept(tyre(family), replace(state, date_code=code), ON, table) for code in (older, younger)
    )
    assert one <= other
    used = replace(state, heat_cycles=(state.heat_cycles or 0) + 1)
    assert grip_kept(tyre(family), used, ON, table) <= grip_kept(tyre(family), state, ON, table)


@given(state=states)
def test_round_squared_worn_keep_less_and_less(state: Condition) -> None:
    table = shipped_tables().condition
    shapes = (replace(state, crown="round"), replace(state, crown="squared"), replace(state, crown="worn"))
    kept = [grip_kept(tyre(), shape, ON, table) for shape in shapes]
    assert kept == sorted(kept, reverse=True)
    assert len(set(kept)) == len(kept)


def test_what_nobody_stated_takes_nothing() -> None:
    table = shipped_tables().condition
    assert grip_kept(tyre(), None, ON, table) == 1.0
    assert grip_kept(tyre(), SOUND, ON, table) == 1.0
    assert grip_kept(tyre(), Condition(date_code="1010"), None, table) == 1.0


def test_heat_cycles_cost_race_rubber_most() -> None:
    """Common practice: slicks are given up after few cycles, road tyres hardly notice them."""
    table = shipped_tables().condition
    used = Condition(heat_cycles=8)
    race, track, road = (
        grip_kept(tyre(name), used, ON, table) for name in ("race", "track-day", "sport-road")
    )
    assert race < 0.93
    assert race < track < road
    assert road > 0.98


def test_young_rubber_keeps_all_and_nine_years_cost() -> None:
    """Common practice: looked at yearly from five years on, thrown away at ten."""
    table = shipped_tables().condition
    assert grip_kept(tyre(), Condition(date_code="1022"), ON, table) == 1.0
    assert grip_kept(tyre(), Condition(date_code="1017"), ON, table) < 0.95


@pytest.mark.parametrize(
    ("code", "made"),
    [("0126", date(2025, 12, 29)), ("1025", date(2025, 3, 3)), ("5320", date(2020, 12, 28)), ("5323", None)],
)
def test_a_date_code_is_a_week_of_the_calendar(code: str, made: date | None) -> None:
    """ISO 8601 weeks; 2020 had 53 of them, 2023 had 52."""
    assert made_on(code) == made


def test_age_runs_from_the_week_to_the_day() -> None:
    assert age_years(Condition(date_code="1516"), ON) == pytest.approx(10.0, abs=0.01)
    assert age_years(Condition(date_code="1516"), None) is None
    assert age_years(None, ON) is None


# Caps


@given(front=states, rear=states, rubber_c=st.floats(0.0, 110.0), level=st.sampled_from(LEVELS))
def test_no_condition_raises_a_cap(
    ask: Ask, tables: Tables, front: Condition, rear: Condition, rubber_c: float, level: str
) -> None:
    sound = setting(ask(level=level), tables)
    used = setting(ask(level=level, front_state=front, rear_state=rear, date=ON), tables)
    warm = np.full((sound.bends.shape[0], started(sound).front.size), rubber_c)
    before, after = caps_on_arrival(sound, warm, warm), caps_on_arrival(used, warm, warm)
    for name in ("front", "rear", "card", "cap"):
        assert np.all(getattr(after, name) <= getattr(before, name) + 1e-9)


def rungs(ladder: Ladder) -> dict[tuple[int, int], Any]:
    return {(lap.lap, rung.number): rung for lap in ladder.laps for rung in lap.rungs}


def never_above(less: Ladder, more: Ladder, slack_deg: float = 0.0) -> bool:
    other = rungs(more)
    return all(rung.cap_bike_deg <= other[at].cap_bike_deg + slack_deg for at, rung in rungs(less).items())


def test_sound_and_scrubbed_is_what_counts_where_nobody_stated(ask: Ask) -> None:
    assert plan(ask(front_state=SOUND, rear_state=SOUND, date=ON)).laps == plan(ask()).laps


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("state", [Condition(crown="worn"), Condition(date_code="2016"), NEW, NEW_LEFT])
def test_a_whole_run_on_worse_tyres_has_no_higher_cap(ask: Ask, level: str, state: Condition) -> None:
    """Up to what the next turn gains in warmth where one before it is ridden slower."""
    sound = plan(ask(level=level, start=WARMERS))
    worse = plan(ask(level=level, start=WARMERS, front_state=state, rear_state=SOUND, date=ON))
    assert never_above(worse, sound, WARMER_DEG)
    assert not never_above(sound, worse, WARMER_DEG)


def test_new_tyres_begin_at_the_free_lean_and_open_a_few_degrees_a_lap(ask: Ask, tables: Tables) -> None:
    """Common practice: ten degrees or so to begin with, then a few more each lap."""
    ladder = plan(ask(level="experienced", start=WARMERS, laps=8, front_state=NEW, rear_state=SOUND))
    free, most = tables.condition["free_deg"], tables.condition["most_deg_per_lap"]
    found = rungs(ladder)
    assert all(rung.limited_by == "scrubbing" for rung in ladder.laps[0].rungs)
    assert {rung.cap_bike_deg for rung in ladder.laps[0].rungs} == {free}
    rights = [found[lap, 1].scrubbed_bike_deg for lap in range(1, 9)]
    steps = np.diff(rights)
    assert np.all((steps > 1.0) & (steps <= most + 1e-9))
    lefts = [found[lap, 5].scrubbed_bike_deg for lap in range(1, 9)]
    assert lefts[-1] - lefts[0] < 0.25 * (rights[-1] - rights[0])


def test_the_less_scrubbed_of_both_tyres_counts_and_is_named(ask: Ask) -> None:
    front = plan(ask(start=WARMERS, front_state=Condition(20.0, 20.0), rear_state=Condition(14.0, 14.0)))
    rung = rungs(front)[1, 1]
    assert rung.cap_bike_deg == rung.scrubbed_bike_deg == 14.0
    assert rung.limited_by == "scrubbing"
    assert "Scrubbing" in rung.reason


def test_a_bank_against_the_turn_takes_lean_away_and_one_for_it_gives_none(
    ask: Ask, tables: Tables, demo_circuit: Circuit
) -> None:
    def limits(bank_deg: float) -> float:
        banked = replace(demo_circuit, bank_deg=np.full_like(demo_circuit.bank_deg, bank_deg))
        ladder = plan(ask(circuit=banked, start=WARMERS, laps=1, front_state=NEW, rear_state=NEW))
        return min(rung.cap_bike_deg for rung in ladder.laps[0].rungs)

    free = tables.condition["free_deg"]
    assert limits(4.0) == free
    assert limits(-4.0) == pytest.approx(free - 4.0)


# Coach's pace

HOT = (Weather(air_c=42.0, track_c=62.0), Road(62.0, 50.0, "measured", 1.0, 900.0))
COOL = (Weather(air_c=8.0, track_c=9.0, humidity_pct=60.0), Road(9.0, 8.0, "measured", 1.0, 200.0))


@pytest.mark.parametrize("weather", [COOL, HOT], ids=["cool", "hot"])
@pytest.mark.parametrize("start", [Start("cold"), WARMERS], ids=["cold", "warmers"])
@pytest.mark.parametrize("level", LEVELS)
def test_coachs_pace_is_never_above_the_riders_own_level(
    ask: Ask, level: str, start: Start, weather: tuple[Weather, Road]
) -> None:
    air, road = weather
    own = ask(level=level, start=start, weather=air, road=road, laps=6)
    coached, usual = plan(at_coach_pace(own)), plan(own)
    assert never_above(coached, usual)
    assert all(lap.straights == "coach's pace only" for lap in coached.laps)
    speeds = rungs(usual)
    assert all(rung.speed_kmh <= speeds[at].speed_kmh + 0.1 for at, rung in rungs(coached).items())


def test_coachs_pace_keeps_to_the_new_levels_card_and_top(ask: Ask) -> None:
    new = catalogue.level("new")
    coached = at_coach_pace(ask(level="experienced", start=WARMERS))
    assert coached.level.name == "experienced"
    assert coached.level.usual_lean_deg == catalogue.level("experienced").usual_lean_deg
    assert coached.level.grip_share == new.grip_share
    assert max(rung.cap_bike_deg for rung in rungs(plan(coached)).values()) <= new.top_lean_deg.value


def test_tyres_nobody_looked_at_open_by_a_laps_most(ask: Ask, tables: Tables) -> None:
    ladder = plan(at_coach_pace(ask(level="experienced", start=WARMERS, laps=3)))
    free, most = tables.condition["free_deg"], tables.condition["most_deg_per_lap"]
    for lap in ladder.laps:
        assert max(rung.cap_bike_deg for rung in lap.rungs) <= free + most * (lap.lap - 1)


# Who does not go out


@pytest.mark.parametrize("end", ["front_state", "rear_state"])
@pytest.mark.parametrize(
    ("state", "code"),
    [(Condition(plugged=True), "plugged"), (Condition(date_code="1416"), "too_old")],
    ids=["plugged", "too old"],
)
def test_a_plug_or_too_much_age_is_refused(ask: Ask, end: str, state: Condition, code: str) -> None:
    with pytest.raises(OutsideModelError) as caught:
        plan(ask(date=ON, **{end: state}))
    assert caught.value.code == code
    assert caught.value.fault.remedy == "Fit another tyre."
    assert str(caught.value.fault.field).startswith(end)


def test_ten_years_to_the_day_may_still_go_out(ask: Ask) -> None:
    """Common practice: not beyond ten years. Week 16 of 2016 began on 18 April."""
    assert plan(ask(date=ON, front_state=Condition(date_code="1616"), laps=1)).laps


# A day


@pytest.fixture(scope="module")
def demo_day() -> Day:
    with as_file(files("leanladder") / "data" / "example") as folder:
        return read_day(folder / "day.toml")


def ridden(demo_day: Day, sessions: int, laps: int = 2, **states_: Condition | None) -> Day:
    """Linnet, a regular, on machine 3 in so many sessions, its tyres as given."""
    machines = tuple(
        replace(each, front_state=states_.get("front_state"), rear_state=states_.get("rear_state"))
        if each.name == "3"
        else each
        for each in demo_day.machines
    )
    riders = tuple(rider for rider in demo_day.riders if rider.name == "Linnet")
    begins = [time(9, 30), time(10), time(10, 30), time(11), time(11, 30)][:sessions]
    runs = tuple(DaySession(f"run {at:%H:%M}", "larks", at, laps=laps) for at in begins)
    return replace(demo_day, machines=machines, riders=riders, sessions=runs)


def ladder_of(entry: DayLadder) -> Ladder:
    assert entry.ladder is not None
    return entry.ladder


def said(entry: DayLadder) -> list[str]:
    return [remark.code for remark in entry.remarks]


def test_tyres_nobody_looked_at_have_two_sessions_at_the_coachs_pace(
    demo_day: Day, demo_circuit: Circuit
) -> None:
    entries = plan_day(ridden(demo_day, 4), demo_circuit)
    assert [entry.coach_pace for entry in entries] == [True, True, False, False]
    assert [said(entry)[0] for entry in entries] == ["condition.unknown"] * 2 + [
        "condition.unknown_ridden"
    ] * 2
    assert all(entry.remarks[0].figures["machines"] == "3" for entry in entries)
    assert all(entry.remarks[0].figures["end"] == "both" for entry in entries)
    assert [entry.level for entry in entries] == ["regular"] * 4
    second, third = (ladder_of(entry).session.front_state for entry in entries[1:3])
    assert second is not None
    assert second.scrubbed_right_deg is not None
    assert third is not None
    assert third.scrubbed_right_deg is not None
    reached = max(
        rung.plan_bike_deg for rung in rungs(ladder_of(entries[0])).values() if rung.side == "right"
    )
    assert second.scrubbed_right_deg == pytest.approx(reached, abs=1.0)
    assert third.scrubbed_right_deg >= second.scrubbed_right_deg


def test_one_tyre_nobody_looked_at_is_enough(demo_day: Day, demo_circuit: Circuit) -> None:
    (entry,) = plan_day(ridden(demo_day, 1, rear_state=SOUND), demo_circuit)
    assert entry.coach_pace
    assert entry.remarks[0].figures["end"] == "front"


def test_a_refused_session_is_none_of_the_two(demo_day: Day, demo_circuit: Circuit) -> None:
    frost = HourWeather(time(9, 30), Band(2.0, 2.0, 2.0), track_c=2.0, humidity_pct=50.0)
    mild = HourWeather(time(10), Band(10.0, 10.0, 10.0), track_c=14.0, humidity_pct=50.0)
    late = replace(mild, at=time(11))
    day = replace(ridden(demo_day, 4), weather=(frost, mild, late))
    entries = plan_day(day, demo_circuit)
    assert entries[0].refusal is not None
    assert [entry.coach_pace for entry in entries[1:]] == [True, True, False]


def test_the_seldom_used_side_does_not_scrub_in_within_a_day(demo_day: Day, demo_circuit: Circuit) -> None:
    """Common practice: one left in eleven turns leaves the left side new; the right is through by noon."""
    day = ridden(demo_day, 5, laps=7, front_state=NEW, rear_state=NEW)
    entries = plan_day(day, demo_circuit)
    last = ladder_of(entries[-1]).session.rear_state
    assert last is not None
    assert last.scrubbed_left_deg is not None
    assert last.scrubbed_right_deg is not None
    assert last.scrubbed_left_deg < 22.0
    assert last.scrubbed_right_deg > 28.0
    assert all("condition.stays_new" in said(entry) for entry in entries)
    assert {remark.figures["side"] for remark in entries[-1].remarks} == {"left"}
    first = {(remark.code, remark.figures["side"]) for remark in entries[0].remarks}
    assert first == {("condition.stays_new", "left"), ("condition.opens", "right")}


def test_scrubbing_carries_over_whatever_the_start(demo_day: Day, demo_circuit: Circuit) -> None:
    day = ridden(demo_day, 2, laps=3, front_state=NEW, rear_state=SOUND)
    warm = replace(day, sessions=tuple(replace(run, start=WARMERS) for run in day.sessions))
    before, after = (ladder_of(entry) for entry in plan_day(warm, demo_circuit))
    ends = [rung.scrubbed_bike_deg or 0.0 for rung in before.laps[-1].rungs if rung.side == "right"]
    begins = [rung.scrubbed_bike_deg or 0.0 for rung in after.laps[0].rungs if rung.side == "right"]
    assert min(begins) > max(ends) > 0.0
    assert after.session.start == WARMERS


def test_a_session_is_a_heat_cycle(demo_day: Day, demo_circuit: Circuit) -> None:
    day = ridden(demo_day, 2, front_state=Condition(heat_cycles=4), rear_state=SOUND)
    _, after = plan_day(day, demo_circuit)
    session = ladder_of(after).session
    assert session.front_state == Condition(heat_cycles=5)
    assert session.rear_state == SOUND


def test_another_condition_is_another_combination(demo_day: Day, demo_circuit: Circuit) -> None:
    first = replace(demo_day, sessions=demo_day.sessions[:1])
    assert plan_day(first, demo_circuit)[0].riders == ("Wren", "Sedge")
    worn = replace(first.machines[1], rear_state=Condition(crown="worn"))
    other = replace(first, machines=(first.machines[0], worn, *first.machines[2:]))
    entries = plan_day(other, demo_circuit)
    assert [entry.riders for entry in entries] == [("Wren",), ("Sedge",), ("Linnet",)]
    assert said(entries[0]) == []
    assert said(entries[1]) == ["condition.worn"]


@pytest.mark.parametrize(
    ("state", "code"),
    [
        (Condition(crown="squared"), "condition.squared"),
        (Condition(crown="worn"), "condition.worn"),
        (Condition(date_code="1018"), "condition.old"),
        (Condition(heat_cycles=40), "condition.cycles"),
    ],
)
def test_sheets_are_told_of_each_condition(
    demo_day: Day, demo_circuit: Circuit, state: Condition, code: str
) -> None:
    (entry,) = plan_day(ridden(demo_day, 1, front_state=SOUND, rear_state=state), demo_circuit)
    assert said(entry) == [code]
    assert entry.remarks[0].figures["end"] == "rear"
    assert not entry.coach_pace


def test_a_plugged_tyre_keeps_its_machine_in_and_no_other(demo_day: Day, demo_circuit: Circuit) -> None:
    first = replace(demo_day, sessions=demo_day.sessions[:1])
    bad = replace(first.machines[0], rear_state=Condition(plugged=True))
    day = replace(first, machines=(bad, *first.machines[1:]))
    refused = {entry.riders: entry.refusal for entry in plan_day(day, demo_circuit)}
    assert refused["Wren",] is not None
    assert refused["Wren",].code == "plugged"
    assert refused["Sedge",] is None


@pytest.mark.parametrize("code", ["1726", "0127", "5323", "5199"])
def test_a_date_code_after_the_day_or_of_no_week_is_told(
    demo_day: Day, demo_circuit: Circuit, code: str
) -> None:
    day = ridden(demo_day, 1, front_state=SOUND, rear_state=Condition(date_code=code))
    for asked in (plan_day, assumptions):
        with pytest.raises(InputError) as caught:
            asked(day, demo_circuit)
        assert caught.value.fault.field == "machines, 3, rear_state, date_code"
        assert caught.value.fault.value == code


def test_a_day_check_tells_what_nobody_stated(demo_day: Day, demo_circuit: Circuit) -> None:
    day = ridden(demo_day, 1, rear_state=Condition(date_code="1025"))
    codes = [
        (found.code, found.figures.get("end"))
        for found in assumptions(day, demo_circuit)
        if found.name == "3"
    ]
    assert ("condition_unknown", "front") in codes
    assert ("heat_cycles_unknown", "rear") in codes
    assert ("age_unknown", "rear") not in codes
    assert any(found.code == "opening" for found in assumptions(day, demo_circuit))


def test_the_scrubbed_lean_is_finite_or_none(demo_day: Day, demo_circuit: Circuit) -> None:
    (entry,) = plan_day(ridden(demo_day, 1, front_state=NEW_LEFT, rear_state=SOUND), demo_circuit)
    for rung in rungs(ladder_of(entry)).values():
        assert (rung.scrubbed_bike_deg is None) == (rung.side == "right")
        assert rung.scrubbed_bike_deg is None or math.isfinite(rung.scrubbed_bike_deg)
