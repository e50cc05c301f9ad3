"""Columns: laps, or minutes where laps are short; never above a lap they stand for."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.ladder import Ladder
from leanladder.planning.paper.spans import columns, span_kind

Make = Callable[..., Ladder]
LAPS = st.lists(st.lists(st.floats(5.0, 60.0), min_size=3, max_size=3), min_size=1, max_size=12)
TIMES = st.floats(20.0, 200.0)


def test_long_laps_count_laps_and_short_ones_minutes(make: Make) -> None:
    long, short = make("lrr", [[14, 15, 16]], time_s=100.0), make("lrr", [[14, 15, 16]], time_s=50.0)
    assert span_kind([long]) == "laps"
    assert span_kind([short]) == "minutes"
    assert span_kind([long, short]) == "minutes"


def test_columns_beyond_the_last_lap_are_left_out(make: Make) -> None:
    two = make("lrr", [[14, 15, 16], [17, 18, 19]])
    assert [(c.span.first, c.span.last) for c in columns(two, "laps")] == [(1, 1), (2, 2)]
    three_short = make("lrr", [[14, 15, 16]] * 3, time_s=50.0)
    assert [(c.span.first, c.span.last) for c in columns(three_short, "minutes")] == [(0, 2), (2, 4)]


def test_minutes_hold_every_lap_that_touches_them(make: Make) -> None:
    """50 s laps: 0-50, 50-100, 100-150, ... s; the third touches both sides of minute 2."""
    ladder = make("l", [[float(lap)] for lap in range(10, 22)], time_s=50.0)
    found = columns(ladder, "minutes")
    assert [[lap.lap for lap in column.laps][:3] for column in found] == [[1, 2, 3], [3, 4, 5], [5, 6, 7]]
    first, second, third = (column.rung(1) for column in found)
    assert first is not None
    assert second is not None
    assert third is not None
    assert [first.cap_bike_deg, second.cap_bike_deg, third.cap_bike_deg] == [10.0, 12.0, 14.0]


def test_a_lap_that_ends_on_the_minute_does_not_touch_the_next(make: Make) -> None:
    ladder = make("l", [[10.0], [11.0], [12.0]], time_s=60.0)
    assert [[lap.lap for lap in column.laps] for column in columns(ladder, "minutes")] == [[1, 2], [3]]


def test_the_last_column_counts_every_later_lap(make: Make) -> None:
    falling = make("lr", [[40, 41], [36, 37], [33, 34], [31, 35], [30, 36]])
    third = columns(falling, "laps")[-1]
    left, right = third.rung(1), third.rung(2)
    assert left is not None
    assert right is not None
    assert (left.cap_bike_deg, right.cap_bike_deg) == (30.0, 34.0)


@given(caps=LAPS, time_s=TIMES)
def test_a_column_is_never_above_a_lap_that_it_stands_for(
    make: Make, caps: list[list[float]], time_s: float
) -> None:
    ladder = make("lrl", caps, time_s=time_s)
    for kind in ("laps", "minutes"):
        found = columns(ladder, kind)
        for column in found:
            for lap in column.laps:
                for rung in lap.rungs:
                    shown = column.rung(rung.number)
                    assert shown is not None
                    assert shown.cap_bike_deg <= rung.cap_bike_deg
        if len(found) == 3:
            assert found[-1].laps[-1] is ladder.laps[-1]


def test_a_turn_that_the_first_lap_does_not_ride_is_none(make: Make) -> None:
    first, *_ = columns(make("lrr", [[14, 15, 16], [17, 18, 19]], behind=1), "laps")
    assert first.rung(1) is None
    assert first.numbers() == (2, 3)
    least = first.least()
    assert least is not None
    assert least.number == 2
