"""Laps ridden again for the room: heat that adds up, stops that cost more the longer they last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from leanladder.domain.day import DayLadder
from leanladder.planning.paper.stops import stops as paper_stops
from leanladder.planning.why import why
from leanladder.web.briefing.ridden import LOSSES, lap_heat, stops


def test_heat_in_less_heat_out_is_what_stays(larks: Sequence[DayLadder]) -> None:
    told = lap_heat(larks)
    assert told.lap == 2
    balance_j = sum(told.in_j.values()) - sum(told.out_j.values()) - told.stored_j
    assert abs(balance_j) <= 1e-6 * sum(map(abs, (*told.in_j.values(), *told.out_j.values())))
    assert told.most_in == "rolling"
    assert told.share_in("rolling") > 0.5


def test_the_heat_of_a_lap_is_the_one_that_why_tells(larks: Sequence[DayLadder]) -> None:
    ladder = larks[0].ladder
    assert ladder is not None
    asked = why(ladder.session, 3, ladder.laps[2].rungs[0].number)
    laps = [each.last_lap for each in (asked.front, asked.rear) if each.last_lap is not None]
    told = lap_heat(larks)
    for name, flow_j in told.in_j.items():
        assert flow_j == pytest.approx(sum(lap.heat_in_j[name] for lap in laps), rel=0.1)
    for where, flow_j in told.out_j.items():
        named = [name for name, to in LOSSES.items() if to == where]
        assert flow_j == pytest.approx(sum(lap.heat_out_j[name] for lap in laps for name in named), rel=0.1)


def test_a_longer_stop_costs_more_and_sun_less_than_shade(larks: Sequence[DayLadder]) -> None:
    told = stops(larks)
    assert told.lap == 4
    assert told.cooling == "none"
    assert [each.minutes for each in told.shade] == [5, 10, 15]
    falls = [each.most_deg for each in told.shade]
    assert falls == sorted(falls)
    assert [each.as_lap for each in told.shade] == sorted((each.as_lap for each in told.shade), reverse=True)
    for shade, sun in zip(told.shade, told.sun, strict=True):
        assert sun.most_deg < shade.most_deg
        assert sun.as_lap >= shade.as_lap
    assert all(each.mean_deg <= each.most_deg for each in (*told.shade, *told.sun))


def test_stops_agree_with_the_sheets_rule_where_they_begin_again(larks: Sequence[DayLadder]) -> None:
    ladder = larks[1].ladder
    assert ladder is not None
    last = paper_stops(ladder, "laps")[-1]
    assert last.rule == "first"
    assert all(each.as_lap >= 1 for each in stops(larks[1:]).shade)


def test_a_stop_takes_heat_and_leaves_scrubbed_tyres_scrubbed(larks: Sequence[DayLadder]) -> None:
    """Tyres that nobody looked at count as new, and are scrubbed lap by lap: no stop makes them new again."""
    entry = larks[1]
    assert entry.coach_pace
    assert entry.ladder is not None
    assert any(rung.limited_by == "scrubbing" for rung in entry.ladder.laps[0].rungs)
    assert stops([entry]).shade[0].as_lap > 1


def test_tyres_off_warmers_are_told_apart_from_those_that_warm(plovers: Sequence[DayLadder]) -> None:
    hobby = [entry for entry in plovers if "Hobby" in entry.riders]
    others = [entry for entry in plovers if "Hobby" not in entry.riders]
    assert stops(hobby).cooling == "all"
    mixed = stops(plovers)
    assert mixed.cooling == "some"
    assert mixed.shade == stops(others).shade


def test_without_a_sun_that_is_known_there_is_no_stop_in_it(larks: Sequence[DayLadder]) -> None:
    ladder = larks[1].ladder
    assert ladder is not None
    session = replace(ladder.session, road=replace(ladder.session.road, sun_w_m2=0.0))
    assert stops([replace(larks[1], ladder=replace(ladder, session=session))]).sun == ()
