"""The head instructor's lists: pressures by the gauge, the evening, the morning, which set counts."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.planning.lists.made import (
    LATER,
    LOOKED_AT,
    RUN,
    SOUND,
    WARM,
    Plans,
    day_of,
    entry,
    in_air,
    quick,
    told,
    told_codes,
)

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import (
    Band,
    BandEnd,
    Day,
    DayLadder,
    DayMachine,
    HourWeather,
)
from leanladder.domain.ladder import Ladder, Notice
from leanladder.domain.paper import DayList
from leanladder.domain.sentence import Sentence
from leanladder.planning.lists import evening_list, morning_list, pressure_rows, set_choice
from leanladder.wording import text

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


def test_a_rule_that_differs_between_sessions_stands_in_their_lines(
    ridden: Ladder, demo_circuit: Circuit
) -> None:
    warm = replace(ridden, session=replace(ridden.session, start=WARM))
    out = [
        replace(entry(ladder, name, run=run), level=level)
        for run, level in ((RUN, "new"), (LATER, "experienced"))
        for name, ladder in (("1", ridden), ("2", warm))
    ]
    day = day_of(LOOKED_AT, replace(LOOKED_AT, name="2"), sessions=(RUN, LATER))
    lines = told(morning_list(day, demo_circuit, out, "en"), "head_order")
    assert [line.code for line in lines] == [
        "lists.session", "lists.session", "field.coach_in_front", "lists.order_by_set",
    ]  # fmt: skip
    first, second = (str(line.figures["order"]).partition("No passing")[2] for line in lines[:2])
    assert first
    assert second
    assert first != second


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
