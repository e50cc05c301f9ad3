"""The head instructor's lists: pressures by the gauge, the evening, the morning, which set counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leanladder.domain.circuit import Circuit
from leanladder.domain.condition import Condition
from leanladder.domain.day import (
    Band,
    BandEnd,
    Day,
    DayLadder,
    DayMachine,
    DaySession,
    Group,
    HourWeather,
    PressurePair,
    Rider,
)
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.ladder import Ladder, Notice
from leanladder.domain.paper import DayList, PressureRow
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import ColdPressure, Start
from leanladder.planning.ladder import plan
from leanladder.planning.lists import evening_list, morning_list, pressure_rows, set_choice
from leanladder.wording import codes, text

WARM = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)
RUN = DaySession("larks 1", "larks", time(9, 30), laps=3)
LATER = DaySession("larks 2", "larks", time(10, 30), laps=3)
SOUND = Condition(date_code="2224", heat_cycles=3)
LOOKED_AT = DayMachine("1", "naked", "sport-road", "sport-road", front_state=SOUND, rear_state=SOUND)
Plans = Mapping[BandEnd, Sequence[DayLadder]]
quick = settings(max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)


@pytest.fixture(scope="module")
def ridden(ask: Callable[..., Any]) -> Ladder:
    return plan(ask(laps=3))


def day_of(*machines: DayMachine, sessions: tuple[DaySession, ...] = (RUN,), **changes: Any) -> Day:
    air = Band(6.0, 8.0, 10.0)
    weather = tuple(HourWeather(time(at), air, cloud=0.5, wind_mps=2.0, humidity_pct=60.0) for at in (9, 12))
    usual = Day(
        date=date(2026, 4, 12),
        school="Quillmoor",
        circuit=Path("circuit.csv"),
        notes=None,
        weather=weather,
        coaches=(),
        groups=(Group("larks"),),
        machines=machines,
        riders=tuple(Rider(f"rider {each.name}", "larks", "regular", each.name) for each in machines),
        sessions=sessions,
    )
    return replace(usual, **changes)


def entry(
    ladder: Ladder | None, *machines: str, run: DaySession = RUN, refused: str = "", **changes: Any
) -> DayLadder:
    refusal = OutsideModelError(refused, text(refused)) if refused else None
    return DayLadder(
        run,
        tuple(f"rider {name}" for name in machines),
        machines,
        "naked",
        "regular",
        ("sport-road", "sport-road"),
        None if refused else ladder,
        refusal,
        **changes,
    )


def in_air(ladder: Ladder, air_c: float, track_c: float | None = None) -> Ladder:
    session = ladder.session
    road = session.road if track_c is None else replace(session.road, open_c=track_c)
    return replace(ladder, session=replace(session, weather=replace(session.weather, air_c=air_c), road=road))


def row_of(machine: DayMachine, ladder: Ladder, **changes: Any) -> PressureRow:
    (row,) = pressure_rows(day_of(machine), [entry(ladder, machine.name, **changes)])
    return row


def note_codes(row: PressureRow) -> list[str]:
    return [note.code for note in row.notes]


def told(page: DayList, head: str) -> list[Sentence]:
    return [line for part in page.parts if part.head == f"lists.{head}" for line in part.lines]


def told_codes(page: DayList, head: str) -> list[str]:
    return [line.code.removeprefix("lists.") for line in told(page, head)]


# Cold pressures


def test_a_stated_pressure_follows_the_gas_law_to_this_mornings_air(ridden: Ladder) -> None:
    """Gay-Lussac at sea level: 2.50 bar at 20 degC is (3.51325 x 278.15 / 293.15 - 1.01325) at 5 degC."""
    stated = ColdPressure(2.5, 2.3, 20.0)
    machine = replace(LOOKED_AT, cold=stated, gauge_offset_bar=0.0, minimum=PressurePair(2.0, 2.0))
    row = row_of(machine, in_air(ridden, 5.0))
    assert row.front_bar == pytest.approx(3.51325 * 278.15 / 293.15 - 1.01325, abs=0.01)
    assert row.rear_bar == pytest.approx(3.31325 * 278.15 / 293.15 - 1.01325, abs=0.01)
    assert row.set_c == 5.0
    assert row.notes == ()
    # Common practice: a tenth of a bar for 10 K, or a little more.
    assert row.front_bar is not None
    assert 0.10 <= (2.5 - row.front_bar) / 1.5 <= 0.13


def test_the_gauges_offset_is_taken_off_before_and_put_back_after(ridden: Ladder) -> None:
    stated = ColdPressure(2.5, 2.3, 8.0)
    machine = replace(LOOKED_AT, cold=stated, minimum=PressurePair(2.0, 2.0))
    for offset_bar in (-0.1, 0.0, 0.15):
        row = row_of(replace(machine, gauge_offset_bar=offset_bar), in_air(ridden, 8.0))
        assert (row.front_bar, row.rear_bar) == (2.5, 2.3)
        assert row.offset_bar == offset_bar


def test_no_cold_pressure_without_the_makers_minimum(ridden: Ladder) -> None:
    stated = replace(LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.1)
    for machine in (stated, replace(stated, hot=PressurePair(2.9, 2.7)), LOOKED_AT):
        row = row_of(machine, in_air(ridden, 8.0))
        assert (row.front_bar, row.rear_bar, row.minimum_front_bar) == (None, None, None)
        assert "lists.no_minimum" in note_codes(row)
    (stands,) = [note for note in row_of(stated, in_air(ridden, 8.0)).notes if note.code == "lists.stands"]
    assert stands.figures == {"front_bar": "2.50", "rear_bar": "2.30", "air_c": "8"}


def test_a_minimum_of_one_end_alone_advises_that_end_alone(ridden: Ladder) -> None:
    front = replace(ridden.session.front, tyre=replace(ridden.session.front.tyre, minimum_cold_bar=2.0))
    ladder = replace(ridden, session=replace(ridden.session, front=front))
    row = row_of(replace(LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.0), ladder)
    assert row.front_bar is not None
    assert row.rear_bar is None
    assert "lists.no_minimum" in note_codes(row)


def test_a_stated_pressure_below_the_minimum_is_raised_first(ridden: Ladder) -> None:
    machine = replace(
        LOOKED_AT, cold=ColdPressure(2.1, 2.4, 20.0), gauge_offset_bar=0.05, minimum=PressurePair(2.2, 2.2)
    )
    row = row_of(machine, in_air(ridden, 20.0))
    assert (row.front_bar, row.rear_bar) == (2.25, 2.4)
    assert note_codes(row) == ["lists.raise_first"]
    colder = row_of(machine, in_air(ridden, 2.0))  # 2.35 bar at 20 degC is 2.14 bar at 2 degC
    assert (colder.front_bar, colder.rear_bar) == (2.25, 2.25)


BARS, HOT = st.floats(1.5, 3.5), st.one_of(st.none(), st.floats(1.5, 3.5))
CELSIUS = st.tuples(st.floats(-5.0, 35.0), st.floats(0.0, 35.0))


@quick
@given(BARS, CELSIUS, st.floats(-0.3, 0.3), BARS, HOT)
def test_never_under_the_minimum_whatever_is_stated(
    ridden: Ladder,
    cold_bar: float,
    celsius: tuple[float, float],
    offset_bar: float,
    minimum_bar: float,
    hot_bar: float | None,
) -> None:
    set_c, air_c = celsius
    machine = replace(
        LOOKED_AT,
        cold=ColdPressure(cold_bar, cold_bar, set_c),
        gauge_offset_bar=offset_bar,
        minimum=PressurePair(minimum_bar, minimum_bar),
        hot=None if hot_bar is None else PressurePair(hot_bar, hot_bar),
        home=PressurePair(cold_bar, cold_bar),
    )
    row = row_of(machine, in_air(ridden, air_c))
    for read in (row.front_bar, row.rear_bar, row.home_front_bar, row.home_rear_bar):
        assert read is not None
        assert read - offset_bar >= minimum_bar - 1e-5
    if hot_bar is None and "lists.raise_first" not in note_codes(row):
        assert row.front_bar is not None
        warmer = air_c >= set_c
        assert row.front_bar >= cold_bar - 1e-5 if warmer else row.front_bar <= cold_bar + 0.01


def test_a_wanted_hot_pressure_gives_the_cold_one_by_the_entrys_own_ladder(ridden: Ladder) -> None:
    gas_c = ridden.laps[-1].front_end.gas_c
    hot_bar = 2.9
    machine = replace(LOOKED_AT, hot=PressurePair(hot_bar, hot_bar), minimum=PressurePair(1.5, 1.5))
    row = row_of(machine, in_air(ridden, 8.0))
    by_hand = (hot_bar + 1.01325) * (8.0 + 273.15) / (gas_c + 273.15) - 1.01325
    assert row.front_bar == pytest.approx(by_hand, abs=0.01)
    assert note_codes(row) == ["lists.for_hot"]
    held = row_of(replace(machine, minimum=PressurePair(2.95, 1.5)), in_air(ridden, 8.0))
    assert held.front_bar == 2.95
    assert note_codes(held) == ["lists.for_hot", "lists.held"]


def test_pressures_before_riding_home_are_as_the_gauge_reads(ridden: Ladder) -> None:
    row = row_of(replace(LOOKED_AT, home=PressurePair(2.5, 2.9), gauge_offset_bar=0.05), ridden)
    assert (row.home_front_bar, row.home_rear_bar) == (2.55, 2.95)


def test_machines_alike_share_a_row_and_others_have_their_own(ridden: Ladder) -> None:
    stated = replace(
        LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.0, minimum=PressurePair(2.0, 2.0)
    )
    machines = [replace(stated, name=name) for name in ("1", "2", "3", "4")]
    machines[1] = replace(machines[1], gauge_offset_bar=0.1)
    day = day_of(*machines)
    rows = pressure_rows(day, [entry(ridden, "3", "1", "2"), entry(None, "4", refused="plugged")])
    assert [row.machines for row in rows] == [("1", "3"), ("2",)]


def test_the_first_session_counts_and_warm_tyres_are_told(ridden: Ladder) -> None:
    machine = replace(
        LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0), gauge_offset_bar=0.0, minimum=PressurePair(2.0, 2.0)
    )
    first = entry(in_air(ridden, 8.0), "1")
    later = entry(in_air(ridden, 14.0), "1", run=LATER, after="larks 1")
    (row,) = pressure_rows(day_of(machine), [first, later])
    assert (row.set_c, row.notes) == (8.0, ())
    (row,) = pressure_rows(day_of(machine), [later])
    assert note_codes(row) == ["lists.still_warm"]
    warm = replace(ridden, session=replace(ridden.session, start=WARM))
    assert note_codes(row_of(machine, warm)) == ["lists.before_warmers"]


def test_every_note_has_its_text_and_figures(ridden: Ladder) -> None:
    machine = replace(LOOKED_AT, cold=ColdPressure(2.5, 2.3, 8.0))
    rows = (row_of(machine, ridden), row_of(replace(machine, minimum=PressurePair(2.9, 2.9)), ridden))
    for note in (note for row in rows for note in row.notes):
        assert set(codes("en")[note.code]) <= set(note.figures)


# The evening before


def evening(day: Day, circuit: Circuit, plans: Plans) -> DayList:
    page = evening_list(day, circuit, plans, "en")
    for part in page.parts:
        assert part.lines, part.head
        for line in part.lines:
            assert text(line.code, "en", **line.figures)
    return page


def test_a_plain_evening_packs_what_every_day_needs(ridden: Ladder, demo_circuit: Circuit) -> None:
    page = evening(day_of(LOOKED_AT), demo_circuit, {"likely": [entry(ridden, "1")]})
    packed = told_codes(page, "head_pack")
    assert packed == ["pack_gauge", "pack_pump", "pack_thermometer", "pack_sets", "pack_board"]
    assert told_codes(page, "head_change") == ["change_none"]
    assert told_codes(page, "head_stays_in") == ["stays_in_nobody"]
    assert told_codes(page, "head_look_at") == ["look_at_all"]
    assert (page.kind, page.pressures) == ("evening", ())


def test_warmers_are_packed_for_the_machines_that_start_on_them(
    ridden: Ladder, demo_circuit: Circuit
) -> None:
    machines = (LOOKED_AT, replace(LOOKED_AT, name="2", start=WARM))
    page = evening(day_of(*machines), demo_circuit, {"likely": [entry(ridden, "1", "2")]})
    assert [line.figures for line in told(page, "head_pack") if line.code == "lists.pack_warmers"] == [
        {"machines": "2"}
    ]
    every = day_of(*machines, sessions=(replace(RUN, start=WARM),))
    page = evening(every, demo_circuit, {"likely": [entry(ridden, "1", "2")]})
    assert {"machines": "1, 2"} in [line.figures for line in told(page, "head_pack")]


def test_tyres_that_no_session_warms_are_changed(ridden: Ladder, demo_circuit: Circuit) -> None:
    warned = replace(ridden, warnings=(Notice("tyre_unfit_cold", "text"),))
    low = ridden.session.rear.tyre.working_low_c
    rear = replace(ridden.session.rear.tyre, working_low_c=replace(low, value=95.0))
    front = replace(ridden.session.front.tyre, working_low_c=replace(low, value=-5.0))
    session = replace(
        ridden.session,
        front=replace(ridden.session.front, tyre=front),
        rear=replace(ridden.session.rear, tyre=rear),
    )
    unfit = replace(warned, session=session)
    page = evening(
        day_of(LOOKED_AT), demo_circuit, {"cold": [entry(unfit, "1")], "likely": [entry(unfit, "1")]}
    )
    assert told(page, "head_change") == [
        Sentence("lists.change_cold", {"end": "rear", "family": "sport-road", "machines": "1"})
    ]
    assert "pack_tyres" in told_codes(page, "head_pack")
    page = evening(
        day_of(LOOKED_AT), demo_circuit, {"cold": [entry(unfit, "1")], "likely": [entry(ridden, "1")]}
    )
    assert told_codes(page, "head_change") == ["change_if_cold"]


def test_worn_tyres_are_changed_and_squared_ones_looked_at(ridden: Ladder, demo_circuit: Circuit) -> None:
    worn = Sentence("condition.worn", {"end": "rear", "machines": "1"})
    squared = Sentence("condition.squared", {"end": "front", "machines": "1"})
    out = entry(ridden, "1", remarks=(worn, squared))
    page = evening(day_of(LOOKED_AT), demo_circuit, {"cold": [out], "likely": [out], "mild": [out]})
    assert told(page, "head_change") == [worn]
    assert told(page, "head_look_at")[0] == squared


@pytest.mark.parametrize("code", ["plugged", "too_old"])
def test_who_must_not_go_out_on_what_is_told_by_name_and_why(
    ridden: Ladder, demo_circuit: Circuit, code: str
) -> None:
    out = [entry(ridden, "1"), entry(None, "2", refused=code)]
    day = day_of(LOOKED_AT, replace(LOOKED_AT, name="2"))
    page = evening(day, demo_circuit, {"cold": out, "likely": out, "mild": out})
    assert told(page, "head_stays_in") == [
        Sentence("lists.stays_in", {"rider": "rider 2", "machine": "2", "why": text(code)})
    ]
    assert told(page, "head_change") == [Sentence(f"lists.change_{code}", {"machines": "2"})]


def test_a_session_too_cold_in_one_set_names_the_set(ridden: Ladder, demo_circuit: Circuit) -> None:
    plans: Plans = {
        "cold": [
            entry(None, "1", refused="road_too_cold"),
            entry(None, "1", run=LATER, refused="road_too_cold"),
        ],
        "likely": [entry(ridden, "1"), entry(None, "1", run=LATER, refused="road_too_cold")],
        "mild": [entry(ridden, "1"), entry(ridden, "1", run=LATER)],
    }
    page = evening(day_of(LOOKED_AT, sessions=(RUN, LATER)), demo_circuit, plans)
    lines = told(page, "head_stays_in")
    assert [(line.figures["sets"], line.figures["sessions"]) for line in lines] == [
        ("A", "larks 1"),
        ("A, B", "larks 2"),
    ]


def test_tyres_nobody_looked_at_are_named_by_end(ridden: Ladder, demo_circuit: Circuit) -> None:
    bare = DayMachine("2", "naked", "sport-road", "sport-road")
    half = replace(bare, name="3", front_state=SOUND)
    idle = replace(bare, name="9")
    day = day_of(LOOKED_AT, bare, half, idle)
    day = replace(day, riders=day.riders[:3])
    page = evening(day, demo_circuit, {"likely": [entry(ridden, "1", "2", "3")]})
    assert [line.figures for line in told(page, "head_look_at")[:-1]] == [
        {"end": "both", "machines": "2"},
        {"end": "rear", "machines": "3"},
    ]


def test_what_the_forecast_lacks_is_looked_up(ridden: Ladder, demo_circuit: Circuit) -> None:
    hour = HourWeather(time(9), Band(14.0, 14.0, 14.0))
    page = evening(day_of(LOOKED_AT, weather=(hour,)), demo_circuit, {"likely": [entry(ridden, "1")]})
    asked = told_codes(page, "head_forecast")
    assert {"forecast_humidity_unknown", "forecast_cloud_unknown", "forecast_wind_unknown"} <= set(asked)
    assert "forecast_no_band" in asked
    whole = evening(day_of(LOOKED_AT), demo_circuit, {"likely": [entry(ridden, "1")]})
    assert "forecast_no_band" not in told_codes(whole, "head_forecast")
    assert "forecast_humidity_unknown" not in told_codes(whole, "head_forecast")


# The morning


def test_the_morning_goes_in_its_order(ridden: Ladder, demo_circuit: Circuit) -> None:
    page = morning_list(day_of(LOOKED_AT), demo_circuit, [entry(ridden, "1")], "en")
    assert [part.head.removeprefix("lists.head_") for part in page.parts] == [
        "road", "measure", "choose", "pressures", "board", "order", "void",
    ]  # fmt: skip
    for part in page.parts:
        for line in part.lines:
            assert text(line.code, "en", **line.figures)
    assert "raise_home" in told_codes(page, "head_pressures")
    assert page.pressures == pressure_rows(day_of(LOOKED_AT), [entry(ridden, "1")])
    (line,) = told(page, "head_order")
    assert text(line.code, "en", **line.figures) == (
        "larks 1, 09:30, group larks. All together, behind their coaches."
    )


def test_a_mixed_field_is_told_in_its_sessions_line_and_its_rules_once(
    ridden: Ladder, demo_circuit: Circuit
) -> None:
    warm = replace(ridden, session=replace(ridden.session, start=WARM))
    runs = (RUN, LATER)
    out = [entry(ladder, name, run=run) for run in runs for name, ladder in (("1", ridden), ("2", warm))]
    day = day_of(LOOKED_AT, replace(LOOKED_AT, name="2"), sessions=runs)
    lines = told(morning_list(day, demo_circuit, out, "en"), "head_order")
    assert [line.code for line in lines] == [
        "lists.session", "lists.session", "field.no_passing", "field.coach_in_front", "lists.order_by_set",
    ]  # fmt: skip
    assert lines[0].figures["order"] == "First out: 1. 5 s after the first: 2."


def test_a_measured_track_leaves_no_set_to_choose(ridden: Ladder, demo_circuit: Circuit) -> None:
    day, road = day_of(LOOKED_AT), ridden.session.road
    assert road.origin == "measured"
    page = morning_list(day, demo_circuit, [entry(ridden, "1")], "en")
    assert told_codes(page, "head_choose") == ["choose_measured", "choose_none"]
    forecast = replace(ridden, session=replace(ridden.session, road=replace(road, origin="computed")))
    page = morning_list(day, demo_circuit, [entry(forecast, "1")], "en")
    assert told_codes(page, "head_choose")[0] == "choose_set"


def test_a_session_without_a_number_has_no_cards(ridden: Ladder, demo_circuit: Circuit) -> None:
    day = day_of(LOOKED_AT, sessions=(RUN, LATER))
    out = [entry(None, "1", refused="wet_or_damp"), entry(ridden, "1", run=LATER)]
    page = morning_list(day, demo_circuit, out, "en")
    first, second = told(page, "head_order")
    assert first.figures["order"] == text("lists.session_no_number")
    assert second.figures["order"] == text("lists.session_together")


# Which set counts

TEMPERATURES = st.one_of(st.none(), st.tuples(st.floats(0.0, 60.0), st.floats(-5.0, 40.0)))


def test_each_set_says_the_least_it_needs_rounded_up(ridden: Ladder, demo_circuit: Circuit) -> None:
    plans: Plans = {
        "cold": [entry(None, "1", refused="road_too_cold")],
        "likely": [entry(in_air(ridden, 8.0, 12.3), "1"), entry(None, "2", refused="plugged")],
        "mild": [entry(in_air(ridden, 10.2, 14.0), "1")],
    }
    choice = set_choice(day_of(LOOKED_AT), demo_circuit, plans, {"a": "x", "b": "y", "c": "z"}, "en")
    (row,) = choice.rows
    assert row.needs == (("a", None, None), ("b", 13, 8), ("c", 14, 11))
    assert choice.words == (("a", "x"), ("b", "y"), ("c", "z"))


@quick
@given(TEMPERATURES, TEMPERATURES, TEMPERATURES)
def test_a_milder_set_never_needs_less_and_none_less_than_its_own_plan(
    ridden: Ladder,
    demo_circuit: Circuit,
    cold: tuple[float, float] | None,
    likely: tuple[float, float] | None,
    mild: tuple[float, float] | None,
) -> None:
    ends: dict[BandEnd, tuple[float, float] | None] = {"cold": cold, "likely": likely, "mild": mild}
    plans: dict[BandEnd, list[DayLadder]] = {
        band: [
            entry(None, "1", refused="road_too_cold")
            if read is None
            else entry(in_air(ridden, read[1], read[0]), "1")
        ]
        for band, read in ends.items()
    }
    (row,) = set_choice(day_of(LOOKED_AT), demo_circuit, plans, {}, "en").rows
    needs = [(track_c, air_c) for _, track_c, air_c in row.needs]
    for read, (track_c, air_c) in zip(ends.values(), needs, strict=True):
        assert (read is None) == (track_c is None) == (air_c is None)
        if read is not None and track_c is not None and air_c is not None:
            assert track_c >= read[0]
            assert air_c >= read[1]
    there = [(track_c, air_c) for track_c, air_c in needs if track_c is not None and air_c is not None]
    assert [track_c for track_c, _ in there] == sorted(track_c for track_c, _ in there)
    assert [air_c for _, air_c in there] == sorted(air_c for _, air_c in there)
