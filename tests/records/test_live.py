"""Stops, measurements, limits lowered, and plans."""

from __future__ import annotations

import pytest

from leanladder.domain.errors import InputError
from leanladder.records import history, live, plans
from leanladder.records.models import Day, Person, Plan


def test_what_is_known_is_the_latest_figure_by_figure(demo: Day, head: Person) -> None:
    assert live.measured(demo.pk) == live.Known()
    live.measure(demo.pk, head, track_c=9.0, cloud=0.2)
    live.measure(demo.pk, head, run_name="larks 1", track_c=11.0, seen_dry=True)
    live.measure(demo.pk, head, wind_mps=3.0, air_c=None)
    everyone, larks = live.measured(demo.pk), live.measured(demo.pk, "larks 1")
    assert (everyone.track_c, everyone.cloud, everyone.wind_mps, everyone.seen_dry) == (9.0, 0.2, 3.0, False)
    assert (larks.track_c, larks.cloud, larks.seen_dry) == (11.0, 0.2, True)
    assert len(live.all_measured(demo.pk)) == 3
    assert live.all_measured(demo.pk)[0].by_name == "Oda Fenn"


@pytest.mark.parametrize(
    ("readings", "why"),
    [({"track_c": 480.0}, "out of range"), ({"rain": 1.0}, "no reading"), ({}, "nothing was measured")],
)
def test_no_measurement(demo: Day, readings: dict[str, float], why: str) -> None:
    with pytest.raises(InputError, match=why):
        live.measure(demo.pk, None, **readings)  # type: ignore[arg-type]  # strange names on purpose
    with pytest.raises(InputError, match="no such day"):
        live.measure(12345, None, track_c=9.0)


def test_a_stop_from_flag_to_rolling(demo: Day, head: Person) -> None:
    stop = live.begin_stop(demo.pk, head, run_name="larks 1", in_sun=True)
    assert live.begin_stop(demo.pk, head, run_name="larks 1") == stop
    whole = live.begin_stop(demo.pk, head)
    assert live.stops(demo.pk) == [whole, stop]
    on = live.change_stop(stop.pk, head, in_lane=False, warmers=True)
    assert (on.in_sun, on.in_lane) == (True, False)
    assert live.change_stop(stop.pk, head, warmers=True).warmers_at == on.warmers_at
    assert live.change_stop(stop.pk, head, warmers=False).warmers_at is None
    live.end_stop(stop.pk, head)
    assert live.stops(demo.pk) == [whole]
    assert live.stops(demo.pk, lasting=False) == [whole, stop]
    with pytest.raises(InputError, match="has ended"):
        live.end_stop(stop.pk, head)
    assert len(history.changes_of("standing", stop.pk)) == 4


def test_limits_are_lowered_and_taken_back_with_a_reason(demo: Day, head: Person) -> None:
    kept = live.lower(demo.pk, head, "oil at turn 5", level="new", quarters=1)
    assert live.lowered(demo.pk) == [kept]
    with pytest.raises(InputError, match="no reason"):
        live.take_back(kept.pk, head, "")
    live.take_back(kept.pk, head, "swept")
    assert live.lowered(demo.pk) == []
    with pytest.raises(InputError, match="nothing is lowered so"):
        live.take_back(kept.pk, head, "swept")


@pytest.mark.parametrize(
    ("reason", "by", "why"),
    [
        ("", {"level": "new"}, "no reason"),
        ("oil", {}, "nothing is lowered"),
        ("oil", {"colder_k": -2.0}, "would not lower"),
        ("oil", {"quarters": -1}, "would not lower"),
        ("oil", {"colder_k": float("nan")}, "would not lower"),
        ("o" * 301, {"level": "new"}, "too long"),
    ],
)
def test_nothing_is_raised_by_lowering(demo: Day, reason: str, by: dict[str, object], why: str) -> None:
    with pytest.raises(InputError, match=why):
        live.lower(demo.pk, None, reason, **by)  # type: ignore[arg-type]


def test_a_plan_from_wanted_to_done(demo: Day) -> None:
    asked: list[Plan] = []
    plan = plans.wanted(demo.pk, "a" * 64, asked.append)
    assert asked == [plan]
    assert plans.wanted(demo.pk, "a" * 64, asked.append) == plan
    assert asked == [plan]
    plans.tell_progress(plan.pk, 2, 5)
    assert [(each.state, each.done, each.of) for each in plans.unfinished()] == [("running", 2, 5)]
    plans.keep_plan(demo.pk, "a" * 64, content="{}", done=5, of=5)
    found = plans.plan_of(demo.pk, "a" * 64)
    assert found is not None
    assert (found.pk, found.state, found.content) == (plan.pk, "done", "{}")
    assert plans.unfinished() == []
    assert plans.plan_of(demo.pk, "b" * 64) is None
    newer = plans.keep_plan(demo.pk, "b" * 64, state="failed", error="no")
    assert plans.forget_plans(demo.pk, keep=1) == 1
    assert plans.progress_of(demo.pk, "b" * 64) == newer
    assert plans.progress_of(demo.pk, "a" * 64) is None
