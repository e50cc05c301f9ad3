"""Which pages a run has, and the one message of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from leanladder.domain.day import DayLadder
from leanladder.web.briefing import figures
from leanladder.web.briefing.deck import deck, heat_message, side_message, stop_message, stop_rules
from leanladder.web.briefing.ridden import Fallen, LapHeat, Stops
from leanladder.web.plans import Worked


def fallen(minutes: int, as_lap: int) -> Fallen:
    return Fallen(minutes, False, as_lap, 2.5, 1.5, 5)


def test_a_run_has_a_page_a_family_then_heat_sides_stops_the_hot_end_and_rules(
    plovers: Sequence[DayLadder],
) -> None:
    pages = [page.slug for page in deck(plovers)]
    assert pages == ["grip-1", "grip-2", "heat", "sides", "stops", "hot", "rules"]


def test_a_run_without_numbers_has_its_rules_alone(larks: Sequence[DayLadder]) -> None:
    assert [page.slug for page in deck([replace(entry, ladder=None) for entry in larks])] == ["rules"]
    assert [page.slug for page in deck([])] == ["rules"]


@pytest.mark.parametrize(
    ("cooling", "as_lap", "code"),
    [
        ("none", 2, "room.stops_laps"),
        ("some", 5, "room.stops_one"),
        ("none", 6, "room.stops_little"),
        ("none", 0, "room.stops_all"),
        ("all", 3, "room.stops_cooling"),
    ],
)
def test_the_message_of_stops_is_what_the_longest_in_the_shade_costs(
    cooling: str, as_lap: int, code: str
) -> None:
    told = Stops(6, (fallen(5, 6), fallen(15, as_lap)), (), cooling)  # type: ignore[arg-type]
    message = stop_message(told)
    assert message.code == code
    if code == "room.stops_laps":
        assert message.figures == {"minutes": 15, "laps": 4}


def test_the_message_of_heat_names_the_greatest_way_in_or_that_it_leaves() -> None:
    gains = {"rolling": 90.0, "slip": 20.0, "sun": 3.0, "brake": 1.0}
    losses = {"road": 30.0, "air": 40.0, "sky": 2.0}
    told = LapHeat(2, gains, losses, 42.0)
    assert heat_message(told).code == "room.heat_rolling"
    assert told.most_out == "air"
    assert heat_message(replace(told, in_j=gains | {"slip": 95.0})).code == "room.heat_slip"
    assert heat_message(replace(told, stored_j=-5.0)).code == "room.heat_cooling"


def test_the_message_of_sides_names_the_only_turn(larks: Sequence[DayLadder], worked: Worked) -> None:
    told = figures.sides(larks, worked.circuit)
    message = side_message(told)
    assert message.code == "room.sides_colder_one_left"
    assert message.figures["number"] == 5
    assert side_message(replace(told, turns=(2, 9))).code == "room.sides_colder_left"
    assert side_message(replace(told, colder=False)).code == "room.sides_few_left"
    assert side_message(replace(told, first=None)).code == "room.sides_none_left"
    assert side_message(replace(told, few=None)).code == "room.sides_alike"


def test_the_sheets_rules_after_a_stop_name_their_machines_where_they_differ(
    larks: Sequence[DayLadder], plovers: Sequence[DayLadder]
) -> None:
    assert [rule.machines for rule in stop_rules(larks[:1])] == [""]
    assert {rule.machines for rule in stop_rules(plovers)} == {", ".join(each.machines) for each in plovers}
