"""How a day stands: what is next, what counts, and when nothing changed."""

from __future__ import annotations

from datetime import timedelta

from leanladder.records import given as handed
from leanladder.records import live as happening
from leanladder.records.history import utc_now
from leanladder.records.models import Day, Given, Person, Run
from leanladder.web import handing
from leanladder.web.live.board import board
from leanladder.web.live.clock import local, rolls_at, stopwatch, zone_of


def today(day: Day, first_in: timedelta) -> None:
    """Put the day on today, its first run to roll in a while, the others an hour apart."""
    at = utc_now().astimezone(zone_of(day)) + first_in
    Day.objects.filter(pk=day.pk).update(date=at.date())
    for count, run in enumerate(Run.objects.filter(day=day).order_by("position")):
        Run.objects.filter(pk=run.pk).update(at=f"{(at + timedelta(hours=count)):%H:%M}")


def test_on_another_day_the_first_run_without_cards_is_next(planned: Day, head: Person) -> None:
    now = board(planned.pk, head)
    assert not now.is_today
    assert now.next_run is not None
    assert now.next_run.name == "larks 1"
    handing.give_out(planned.pk, "larks 1", head)
    after = board(planned.pk, head).next_run
    assert after is not None
    assert after.name == "plovers 1"


def test_a_run_stays_next_for_a_while_after_its_time(planned: Day, head: Person) -> None:
    today(planned, timedelta(minutes=-5))
    now = board(planned.pk, head)
    if now.is_today:  # within an hour of midnight the day may have changed meanwhile
        assert now.next_run is not None
        assert now.next_run.name == "larks 1"


def test_times_are_the_circuits_own(demo: Day) -> None:
    at = rolls_at(demo, "09:30")
    assert at.utcoffset() == timedelta(hours=1)  # April, in the zone of the circuit's notes
    assert local(at, demo) == "09:30"


def test_cards_count_until_their_time_is_over(planned: Day, head: Person) -> None:
    given = handing.give_out(planned.pk, "larks 1", head)
    state = board(planned.pk, head).runs[0]
    assert (state.state, state.word, state.by) == ("counts", given.word, "Oda Fenn")
    Given.objects.filter(pk=given.pk).update(at=given.at - timedelta(minutes=given.valid_minutes + 1))
    assert board(planned.pk, head).runs[0].state == "ended"


def test_a_coach_sees_their_own_runs_alone(planned: Day, coach: Person, isolde: Person) -> None:
    assert {run.group for run in board(planned.pk, coach).runs} == {"larks"}
    assert {run.group for run in board(planned.pk, isolde).runs} == {"plovers"}


def test_the_stamp_stays_until_something_changes(planned: Day, head: Person) -> None:
    before = board(planned.pk, head)
    again = board(planned.pk, head)
    if before.clock == again.clock:
        assert before.stamp() == again.stamp()
    happening.measure(planned.pk, head, track_c=11.0)
    assert board(planned.pk, head).stamp() != before.stamp()


def test_a_reading_is_newer_than_cards_given_out_before(planned: Day, head: Person) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    assert not board(planned.pk, head).runs[0].newer
    happening.measure(planned.pk, head, run_name="plovers 1", track_c=11.0)
    assert not board(planned.pk, head).runs[0].newer
    happening.measure(planned.pk, head, track_c=11.0)
    now = board(planned.pk, head)
    assert now.runs[0].newer
    assert now.runs[0].state == "counts"


def test_what_replaces_a_card_is_no_rain(planned: Day, head: Person) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    handing.give_out(planned.pk, "larks 1", head)
    assert board(planned.pk, head).voided is None


def test_cards_given_out_after_rain_end_its_list(planned: Day, head: Person) -> None:
    given = handing.give_out(planned.pk, "larks 1", head)
    handing.void_all(planned.pk, head)
    now = board(planned.pk, head)
    assert now.is_wet
    assert {row.rider for row in now.unconfirmed} == {rider for rider, _ in given.riders}
    assert now.void_cards == len(given.riders)
    handed.told(given, given.riders[0][0], head)
    assert len(board(planned.pk, head).unconfirmed) == len(given.riders) - 1


def test_a_stopwatch_tells_minutes_and_seconds_rounded_down() -> None:
    assert stopwatch(462.9) == "7:42"
    assert stopwatch(3.0) == "0:03"
    assert stopwatch(-1.0) == "0:00"
    assert stopwatch(3700.0) == "61:40"
