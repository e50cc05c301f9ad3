"""Restarts beside what was given out: least limits, and which lap they are like."""

from __future__ import annotations

from dataclasses import replace

from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder
from leanladder.web.live import restart


def ladders(entries: tuple[DayLadder, ...]) -> list[Ladder]:
    """The ladders of combinations that have one."""
    return [each.ladder for each in entries if each.ladder is not None]


def moved(ladder: Ladder, by_deg: float) -> Ladder:
    """A ladder with every limit higher or lower."""
    laps = tuple(
        replace(lap, rungs=tuple(replace(r, cap_bike_deg=r.cap_bike_deg + by_deg) for r in lap.rungs))
        for lap in ladder.laps
    )
    return replace(ladder, laps=laps)


def test_the_least_of_all_combinations_stands(larks: tuple[DayLadder, ...]) -> None:
    some = ladders(larks)
    low = moved(some[0], -3.0)
    first = restart.first_caps([*some, low])
    for number, turn in restart.first_caps([low]).items():
        assert first[number].cap_deg <= turn.cap_deg


def test_a_restart_as_at_the_start_is_as_lap_one_at_least(larks: tuple[DayLadder, ...]) -> None:
    pairs = restart.paired(larks, larks)
    assert len(pairs) == len(ladders(larks))
    for side in restart.SIDES:
        assert restart.as_lap(pairs, side) >= 1


def test_lower_limits_are_below_lap_one(larks: tuple[DayLadder, ...]) -> None:
    pairs = [(moved(now, -2.0), was) for now, was in restart.paired(larks, larks)]
    assert {restart.as_lap(pairs, side) for side in restart.SIDES} == {0}


def test_warm_tyres_are_as_the_last_lap(larks: tuple[DayLadder, ...]) -> None:
    pairs = [(moved(now, 30.0), was) for now, was in restart.paired(larks, larks)]
    assert restart.as_lap(pairs, "left") == min(len(was.laps) for _, was in pairs)


def test_the_colder_of_two_combinations_says_which_lap(larks: tuple[DayLadder, ...]) -> None:
    (now, was), *_ = restart.paired(larks, larks)
    assert restart.as_lap([(moved(now, 30.0), was), (moved(now, -2.0), was)], "left") == 0


def test_at_the_flag_the_lap_counts_that_was_ridden_then(larks: tuple[DayLadder, ...]) -> None:
    some = ladders(larks)[:1]
    last = some[0].laps[-1]
    flag = restart.flag_caps(some, last.minute + 0.1)
    assert {number: turn.cap_deg for number, turn in flag.items()} == {
        rung.number: rung.cap_bike_deg for rung in last.rungs
    }
    assert restart.flag_caps(some, 0.0).keys() == {rung.number for rung in some[0].laps[0].rungs}
