"""What the room is shown of ladders: the planner's own figures, the most careful of the group's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder
from leanladder.domain.tyre import Tyre
from leanladder.planning.guide import guide
from leanladder.web.briefing import figures
from leanladder.web.plans import Worked


def ladder_of(entry: DayLadder) -> Ladder:
    assert entry.ladder is not None
    return entry.ladder


def with_range(entry: DayLadder, low_c: float, high_c: float) -> DayLadder:
    """The entry as if both tyres worked in another range."""

    def other(tyre: Tyre) -> Tyre:
        low = replace(tyre.working_low_c, value=low_c)
        return replace(tyre, working_low_c=low, working_high_c=replace(tyre.working_high_c, value=high_c))

    ladder = ladder_of(entry)
    front, rear = (
        replace(fitted, tyre=other(fitted.tyre)) for fitted in (ladder.session.front, ladder.session.rear)
    )
    session = replace(ladder.session, front=front, rear=rear)
    return replace(entry, ladder=replace(ladder, session=session))


def arrivals(entry: DayLadder, lap: int, end: str) -> list[float]:
    return [
        getattr(getattr(rung, end), f"{rung.side}_c")
        for each in ladder_of(entry).laps
        for rung in each.rungs
        if each.lap == lap
    ]


def test_each_family_of_the_run_has_a_curve(plovers: Sequence[DayLadder]) -> None:
    assert figures.families(plovers) == ("track-day", "sport-road")
    with pytest.raises(LookupError, match="slick"):
        figures.grip(plovers, "slick")


def test_the_curve_is_the_guides_grip_as_a_share_of_its_best(larks: Sequence[DayLadder]) -> None:
    told = figures.grip(larks, "sport-road")
    session = ladder_of(larks[1]).session
    tyre = session.front.tyre if told.end == "front" else session.rear.tyre
    rows = [row for row in guide(tyre, session.level, session.surface) if row.rubber_c <= told.high_c]
    rubber_c, share = np.array(told.along).T
    best = max(row.grip for row in guide(tyre, session.level, session.surface))
    read = np.interp([row.rubber_c for row in rows], rubber_c, share)
    assert read == pytest.approx([row.grip / best for row in rows], abs=0.002)
    assert share.max() == pytest.approx(1.0)


def test_the_marks_are_the_coldest_shoulders_that_arrive(larks: Sequence[DayLadder]) -> None:
    told = figures.grip(larks, "sport-road")
    assert [at.lap for at in told.at] == [1, 3, 4]
    for at in told.at:
        assert at.rubber_c == pytest.approx(min(arrivals(larks[1], at.lap, told.end)))
        assert at.share == pytest.approx(np.interp(at.rubber_c, *np.array(told.along).T), abs=0.001)
        assert at.warmth == "cold"
    assert told.in_range_lap is None
    assert not told.falls


def test_a_lap_counts_as_warm_once_every_shoulder_arrives_in_its_range(larks: Sequence[DayLadder]) -> None:
    entry = larks[1]
    end = figures.grip([entry], "sport-road").end
    second, third = (min(arrivals(entry, lap, end)) for lap in (2, 3))
    assert second < third
    told = figures.grip([with_range(entry, (second + third) / 2, 80.0)], "sport-road")
    assert told.in_range_lap == 3
    assert figures.grip([with_range(entry, 0.0, 80.0)], "sport-road").in_range_lap == 1


def test_tyres_off_warmers_fall(plovers: Sequence[DayLadder]) -> None:
    hobby = [entry for entry in plovers if "Hobby" in entry.riders]
    assert figures.grip(hobby, "track-day").falls


def test_the_seldom_used_side_is_the_one_the_ladder_warns_of(
    larks: Sequence[DayLadder], worked: Worked
) -> None:
    told = figures.sides(larks, worked.circuit)
    assert told.turns == (1, 10)
    assert told.few == "left"
    assert told.colder
    assert told.first is not None
    warned = next(each for each in ladder_of(larks[0]).warnings if each.code == "seldom_used_side")
    assert warned.told is not None
    assert warned.told.figures["number"] == told.first.number
    assert len(told.laps[0]) == len(told.laps[1]) == 4
    session = ladder_of(larks[0]).session
    assert told.low_c >= max(session.front.tyre.working_low_c.value, session.rear.tyre.working_low_c.value)


def test_sides_are_of_the_combination_that_is_coldest_there(
    larks: Sequence[DayLadder], worked: Worked
) -> None:
    told = figures.sides(larks, worked.circuit)
    last = [figures.side_c(ladder_of(entry).laps[-1], "left") for entry in larks]
    assert told.laps[0][-1] == min(last)


def test_turns_that_are_as_many_leave_no_side_seldom(larks: Sequence[DayLadder], worked: Worked) -> None:
    corners = tuple(replace(corner, side="left") for corner in worked.circuit.corners[:5])
    corners += tuple(replace(corner, side="right") for corner in worked.circuit.corners[5:10])
    told = figures.sides(larks, replace(worked.circuit, corners=corners))
    assert told.few is None
    assert told.first is None
    assert not told.colder


def test_the_hot_end_begins_on_the_lap_the_planner_would_warn_of(larks: Sequence[DayLadder]) -> None:
    entry = larks[1]
    assert figures.hot(larks).from_lap is None

    def warmest(lap: int) -> float:
        laps = [each for each in ladder_of(entry).laps if each.lap == lap]
        rubbers = [rubber for each in laps for rung in each.rungs for rubber in (rung.front, rung.rear)]
        return max(max(rubber.left_c, rubber.centre_c, rubber.right_c) for rubber in rubbers)

    told = figures.hot([with_range(entry, 0.0, (warmest(1) + warmest(2)) / 2)])
    assert told.from_lap == 2
    assert told.grip.at[-1].warmth == "hot"
    assert told.grip.at[-1].rubber_c == pytest.approx(warmest(4))
    rubber_c, share = np.array(figures.hot(larks).grip.along).T
    assert share[-1] < share.max()
    assert rubber_c[-1] > told.grip.high_c


def test_entries_without_a_ladder_are_left_out(larks: Sequence[DayLadder]) -> None:
    none = replace(larks[0], ladder=None)
    assert figures.out([none]) == ()
    assert figures.families([none, larks[1]]) == ("sport-road",)
