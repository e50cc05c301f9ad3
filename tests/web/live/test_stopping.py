"""A run that stopped: stopwatch, strip of minutes, restart."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from tests.web.live.test_views import address, text

from leanladder.domain.ladder import Rung
from leanladder.records import given as handed
from leanladder.records import live as happening
from leanladder.records.models import Day, Given, Person, Standing
from leanladder.web import handing
from leanladder.web.live import cooling
from leanladder.web.plans import Worked


@pytest.fixture
def stop(planned: Day, head: Person) -> Standing:
    """Give a stop of a run with cards out, two minutes ago."""
    given = handing.give_out(planned.pk, "larks 1", head)
    Given.objects.filter(pk=given.pk).update(at=given.at - timedelta(minutes=6))
    kept = handing.stop(planned.pk, "larks 1", head)
    Standing.objects.filter(pk=kept.pk).update(since=kept.since - timedelta(minutes=2))
    kept.refresh_from_db()
    return kept


def test_a_stop_makes_the_runs_cards_void_and_starts_the_watch(
    planned: Day, head: Person, coachs: Client
) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    assert coachs.post(address(planned, "larks 1", "stop/")).status_code == 302
    assert handed.current(planned.pk, "larks 1") is None
    page = text(coachs, address(planned, "larks 1"))
    assert 'data-elapsed="' in page
    assert "STOPPED, larks 1" in page
    assert "in the pit lane, shade" in page


def test_the_watch_counts_from_the_laptops_clock(planned: Day, heads: Client, stop: Standing) -> None:
    page = text(heads, address(planned, "larks 1"))
    assert stop.run_name == "larks 1"
    elapsed = float(page.partition('data-elapsed="')[2].partition('"')[0])
    assert 120.0 <= elapsed < 240.0


def test_where_they_stand_is_kept(planned: Day, heads: Client, stop: Standing) -> None:
    where = address(planned, "larks 1", "change/")
    for typed in ({"in_sun": "1"}, {"in_lane": "0"}, {"warmers": "1"}):
        assert heads.post(where, typed).status_code == 302
    stop.refresh_from_db()
    assert (stop.in_sun, stop.in_lane) == (True, False)
    assert stop.warmers_at is not None
    assert "warmers since" in text(heads, address(planned, "larks 1"))


def test_a_run_that_is_over_has_no_stop(planned: Day, heads: Client, stop: Standing) -> None:
    where = address(planned, "larks 1", "change/")
    assert heads.post(where, {"over": "1"}).status_code == 302
    assert happening.stops(planned.pk) == []
    assert heads.post(where, {"in_sun": "1"}).status_code == 404
    assert stop.pk


def test_rubber_stays_above_the_air_and_the_sun_warms_it(
    planned: Day, stop: Standing, worked: Worked
) -> None:
    shade_c = cooling.after_flag(planned.pk, "larks 1", stop)
    stop.in_sun = True
    sun_c = cooling.after_flag(planned.pk, "larks 1", stop)
    assert shade_c is not None
    assert sun_c is not None
    assert len(shade_c) == len(sun_c) == cooling.STRIP_MIN
    ladder = worked.entries[0].ladder
    assert ladder is not None
    assert min(shade_c) >= ladder.session.weather.air_c - 1.0
    assert all(lit >= unlit - 1e-9 for lit, unlit in zip(sun_c, shade_c, strict=True))


def test_the_strip_is_a_drawing_with_a_name(planned: Day, heads: Client, stop: Standing) -> None:
    page = text(heads, address(planned, "larks 1", "strip/"))
    assert page.lstrip().startswith("<svg")
    assert "After 2 min: rubber" in page
    assert stop.pk


def test_a_run_without_time_left_is_not_worked_out(planned: Day, heads: Client, stop: Standing) -> None:
    # the example's day lies months back: its run of 15 min is long over
    Standing.objects.filter(pk=stop.pk).update(since=stop.since + timedelta(hours=1))
    assert "no time left" in text(heads, address(planned, "larks 1", "restart/"))


def test_a_restart_is_shown_and_given_out(
    planned: Day, heads: Client, stop: Standing, worked: Worked, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(handing, "worked", lambda *_: worked._replace(pk=planned.pk))
    page = text(heads, address(planned, "larks 1", "restart/"))
    assert "Lefts as lap" in page
    assert page.count("<svg") == len({rung.number for rung in _rungs(worked)})
    assert heads.post(address(planned, "larks 1", "again/")).status_code == 302
    given = handed.current(planned.pk, "larks 1")
    assert given is not None
    assert given.reason == "restart"
    assert happening.stops(planned.pk) == []
    assert stop.pk


def test_after_rain_the_head_alone_lets_a_stopped_run_roll(
    stop: Standing, heads: Client, coachs: Client, worked: Worked, monkeypatch: pytest.MonkeyPatch
) -> None:
    day = stop.day
    monkeypatch.setattr(handing, "worked", lambda *_: worked._replace(pk=day.pk))
    handing.void_all(day.pk, None)
    where = address(day, "larks 1", "again/")
    assert coachs.post(where, {"reason": "dry"}).status_code == 403
    asked = heads.post(where)
    assert f'action="{where}"' in asked.content.decode()
    assert handed.current(day.pk, "larks 1") is None
    assert heads.post(where, {"reason": "two looked: dry"}).status_code == 302
    given = handed.current(day.pk, "larks 1")
    assert given is not None
    assert given.reason == "two looked: dry"


def test_a_restart_with_higher_limits_is_the_heads(
    stop: Standing, heads: Client, coachs: Client, worked: Worked, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(handing, "worked", lambda *_: worked._replace(pk=stop.day_id))
    monkeypatch.setattr(handing, "restart_rises", lambda _: True)
    where = address(stop.day, "larks 1", "again/")
    assert coachs.post(where, {"reason": "warmer"}).status_code == 403
    assert heads.post(where).status_code == 200
    assert heads.post(where, {"reason": "measured 18"}).status_code == 302


def test_a_stopped_run_has_no_cards_as_for_its_start(planned: Day, coachs: Client, stop: Standing) -> None:
    assert coachs.post(address(planned, "larks 1", "give/")).status_code == 400
    assert handed.current(planned.pk, "larks 1") is None
    assert stop.pk


def _rungs(worked: Worked) -> list[Rung]:
    ladder = worked.entries[0].ladder
    assert ladder is not None
    return [rung for lap in ladder.laps for rung in lap.rungs]


def test_until_it_is_worked_out_the_part_says_so(planned: Day, heads: Client, stop: Standing) -> None:
    page = text(heads, address(planned, "larks 1", "restart/"))
    assert "being worked out" in page
    assert heads.post(address(planned, "larks 1", "again/")).status_code == 400
    assert stop.pk
