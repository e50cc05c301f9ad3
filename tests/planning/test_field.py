"""A session's field: closing speeds, parts that do not ride together, who goes out when."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leanladder.domain.day import DayLadder, DaySession
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Start
from leanladder.planning.closing import Out, clock_s, closings, most_closing_kmh, reach_lap, round_lap
from leanladder.planning.field import field_figures, field_plan
from leanladder.planning.ladder import plan
from leanladder.wording import text

RUN = DaySession("larks 1", "larks", time(9, 30), laps=3)
WARM = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)
LAPS = 5
Make = Callable[..., DayLadder]
TIMES = st.lists(st.floats(40.0, 200.0), min_size=LAPS, max_size=LAPS)
PACES = st.floats(0.5, 1.6)
KINDS = st.sampled_from([Start("cold"), WARM, Start("stopped", off_min=20.0)])
quick = settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)


@pytest.fixture(scope="module")
def make(ask: Callable[..., object]) -> Make:
    """Give a function that returns an entry with the lap times, pace in the turns and start asked for."""
    whole = plan(ask(laps=LAPS))  # type: ignore[arg-type]

    def made(name: str, times: Sequence[float], pace: float = 1.0, start: Start | None = None) -> DayLadder:
        laps = tuple(
            replace(
                lap,
                time_s=time_s,
                rungs=tuple(replace(rung, speed_kmh=pace * rung.speed_kmh) for rung in lap.rungs),
            )
            for lap, time_s in zip(whole.laps, times, strict=True)
        )
        session = replace(whole.session, start=start or Start("cold"))
        return entry(name, replace(whole, laps=laps, session=session))

    return made


def entry(name: str, ladder: Ladder | None) -> DayLadder:
    refusal = OutsideModelError("plugged", text("plugged")) if ladder is None else None
    return DayLadder(RUN, (f"rider {name}",), (name,), "naked", "regular", ("a", "a"), ladder, refusal)


FIELDS = st.lists(st.tuples(TIMES, PACES, KINDS), min_size=1, max_size=4)


@quick
@given(FIELDS, st.randoms(use_true_random=False))
def test_the_order_of_the_entries_changes_nothing(make: Make, asked: list[tuple], shuffled: object) -> None:  # type: ignore[type-arg]
    entries = [make(str(number), *each) for number, each in enumerate(asked)]
    other = list(entries)
    shuffled.shuffle(other)  # type: ignore[attr-defined]
    assert field_plan(entries) == field_plan(other)


@quick
@given(TIMES, PACES, TIMES, PACES)
def test_closing_speeds_are_the_same_both_ways_and_never_below_zero(
    make: Make, times: list[float], pace: float, other_times: list[float], other_pace: float
) -> None:
    one, other = make("1", times, pace), make("2", other_times, other_pace)
    both = field_plan([one, other])
    assert all(closing.closing_kmh >= 0.0 for closing in both.closings)
    assert one.ladder is not None
    assert other.ladder is not None
    a, b = Out(one, one.ladder), Out(other, other.ladder)
    there = [closing.closing_kmh for closing in closings((a, b), 3)]
    assert there == [closing.closing_kmh for closing in closings((b, a), 3)]
    assert both.pairs[0].closing_kmh == max(there)


@quick
@given(TIMES, PACES, KINDS)
def test_a_single_combination_is_never_mixed(
    make: Make, times: list[float], pace: float, start: Start
) -> None:
    alone = field_plan([make("1", times, pace, start), entry("2", None)])
    assert not alone.mixed
    assert (alone.closings, alone.warnings, alone.order) == ((), (), ())
    twins = field_plan([make("1", times, pace, start), make("2", times, pace, start)])
    assert not twins.mixed
    assert len(twins.parts) == 1


@quick
@given(FIELDS)
def test_nobody_is_reached_on_the_laps_without_passing(make: Make, asked: list[tuple]) -> None:  # type: ignore[type-arg]
    """Followed from scratch: every part's machines at the end of every lap, on one clock."""
    figures = field_figures()
    entries = {str(number): make(str(number), *each) for number, each in enumerate(asked)}
    field = field_plan(list(entries.values()))
    for number, ahead in enumerate(field.parts):
        for behind in field.parts[number + 1 :]:
            if behind.run != ahead.run:
                continue
            assert behind.after_s >= ahead.after_s + figures["spare_s"]
            for first in ahead.machines:
                for second in behind.machines:
                    a, b = (entries[name].ladder for name in (first, second))
                    assert a is not None
                    assert b is not None
                    lead, chase = clock_s(a), clock_s(b)
                    for lap in range(1, int(figures["no_passing_laps"]) + 1):
                        assert ahead.after_s + lead[lap] < behind.after_s + chase[lap]
                        assert behind.after_s + chase[lap] < ahead.after_s + lead[lap + 1]


def test_cold_tyres_beside_warmers_are_kept_apart_whatever_their_pace(make: Make) -> None:
    same = [100.0] * LAPS
    field = field_plan([make("1", same), make("2", same, start=WARM)])
    assert field.mixed
    assert [warning.code for warning in field.warnings] == [
        "field.cold_beside_warmers",
        "field.closing",
        "field.no_passing",
        "field.coach_in_front",
    ]
    assert not field_plan([make("1", same, start=WARM), make("2", same, start=WARM)]).mixed


def test_the_one_that_takes_less_time_goes_out_first_and_then_loses_nobody(make: Make) -> None:
    field = field_plan([make("7", [150.0] * LAPS), make("8", [120.0] * LAPS, 1.3)])
    assert [part.machines for part in field.parts] == [("8",), ("7",)]
    said = [text(sentence.code, "en", **sentence.figures) for sentence in field.order]
    assert said == ["First out: 8.", "5 s after the first: 7."]
    assert field.pairs[0].gained_s == pytest.approx([30.0] * LAPS)
    assert field.pairs[0].together_lap == 1
    assert field.pairs[0].behind_lap is None
    assert field.pairs[0].round_lap == 4  # 5 laps of 120 s are 600 s; 4 of 150 s and the gap, 605 s


def test_who_starts_slower_and_then_closes_in_waits(make: Make) -> None:
    """40 s lost on lap 1, 60 s won on lap 2: behind by 20 s, and 20 s ahead by its pace."""
    field = field_plan([make("1", [100.0] + [140.0] * 4), make("2", [140.0] + [80.0] * 4, 1.4)])
    assert [part.machines for part in field.parts] == [("2",), ("1",)]
    assert field.parts[1].after_s == 45  # 40 s that machine 2 takes more for lap 1, and 5 s to spare


def test_where_no_gap_does_it_each_part_has_its_own_session(make: Make) -> None:
    """Twice round while the others ride once: on lap 2 they are reached."""
    field = field_plan([make("1", [200.0] * LAPS), make("2", [80.0] * LAPS, 1.5), entry("3", None)])
    assert field.separate
    assert [sentence.code for sentence in field.order] == [
        "field.own_session",
        "field.own_session",
        "field.stays",
    ]
    assert "field.separate" in [warning.code for warning in field.warnings]
    assert [(part.machines, part.run, part.after_s) for part in field.parts] == [
        (("2",), 1, 0),
        (("1",), 2, 0),
    ]


def test_only_those_that_no_gap_keeps_apart_ride_in_another_run(make: Make) -> None:
    paces = {"1": (80.0, 1.5), "2": (95.0, 1.2), "3": (200.0, 1.0)}
    field = field_plan([make(name, [time_s] * LAPS, pace) for name, (time_s, pace) in paces.items()])
    assert [(part.machines, part.run) for part in field.parts] == [(("1",), 1), (("2",), 1), (("3",), 2)]
    said = [text(sentence.code, "en", **sentence.figures) for sentence in field.order]
    assert said == [
        "Run 1, alone on the track: 1, 2.",
        "First out: 1.",
        "5 s after the first: 2.",
        "Run 2, alone on the track: 3.",
    ]
    assert all(pair.round_lap is None for pair in field.pairs if pair.behind == ("3",))


def test_nothing_that_riders_may_read_names_a_speed_or_a_rider(make: Make) -> None:
    field = field_plan([make("1", [150.0] * LAPS), make("2", [120.0] * LAPS, 1.3), entry("3", None)])
    for sentence in (*field.order, *field.rules):
        words = text(sentence.code, "en", **sentence.figures)
        assert "km/h" not in words
        assert "rider" not in words
        assert "°" not in words


def test_more_machines_in_front_need_a_longer_gap(make: Make) -> None:
    slow = make("9", [150.0] * LAPS)
    one = make("1", [120.0] * LAPS, 1.3)
    many = replace(one, machines=("1", "2", "3", "4", "5", "6"), riders=("a", "b", "c", "d", "e", "f"))
    assert field_plan([one, slow]).parts[1].after_s == 5
    assert field_plan([many, slow]).parts[1].after_s == 15  # 5 s to spare and 5 spaces of 2 s


@given(st.lists(st.floats(30.0, 300.0), min_size=1, max_size=8), st.floats(0.0, 120.0))
def test_nobody_reaches_their_own_pace(times: list[float], gap_s: float) -> None:
    clock = [0.0]
    for time_s in times:
        clock.append(clock[-1] + time_s)
    assert reach_lap(clock, clock, gap_s + 1e-3) is None


def test_laps_are_counted_by_who_reaches_and_who_is_reached() -> None:
    slow, quick_one = [0.0, 100.0, 200.0, 300.0], [0.0, 80.0, 160.0, 240.0]
    assert reach_lap(slow, quick_one, 30.0) == 2
    assert reach_lap(slow, quick_one, 100.0) is None
    assert round_lap(quick_one, slow, 0.0) is None
    assert round_lap([0.0, 60.0, 120.0, 180.0], slow, 0.0) == 2


def test_closing_speeds_of_unlike_turns_are_told_turn_by_turn(make: Make) -> None:
    one, other = make("1", [100.0] * LAPS), make("2", [100.0] * LAPS, 1.1)
    assert one.ladder is not None
    assert other.ladder is not None
    field = field_plan([one, other])
    assert len(field.closings) == 3 * len(one.ladder.laps[1].rungs) - (
        len(one.ladder.laps[1].rungs) - len(one.ladder.laps[0].rungs)
    )
    first = field.closings[0]
    assert first.closing_kmh == pytest.approx(0.1 * one.ladder.laps[0].rungs[0].speed_kmh)
    assert (first.faster, first.slower) == (("2",), ("1",))
    assert most_closing_kmh(Out(one, one.ladder), Out(other, other.ladder), 3) == max(
        closing.closing_kmh for closing in field.closings
    )
