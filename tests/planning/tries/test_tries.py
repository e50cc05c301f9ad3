"""Tries: what is wished, the roads it is tried on, glances beside plans, and giving up."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Session, Start
from leanladder.engine.grip import Floats
from leanladder.planning.course import course
from leanladder.planning.ladder import follow, plan
from leanladder.planning.laps import started
from leanladder.planning.odds.crowd import follow_lap, gather
from leanladder.planning.riding import heat_lap
from leanladder.planning.setting import Setting
from leanladder.planning.tries import Roads, Wishes, glance, wished
from leanladder.planning.tries.origin import stood_since
from leanladder.planning.tries.together import ride_together

Ask = Callable[..., Session]
LAPS = 2


def caps(ladder: Ladder) -> Floats:
    """A ladder's caps by lap and corner [deg], NaN where a corner is not ridden."""
    corners = ladder.session.circuit.corners
    held = [{rung.number: rung.cap_bike_deg for rung in lap.rungs} for lap in ladder.laps]
    return np.array([[lap.get(corner.number, np.nan) for corner in corners] for lap in held])


def test_nothing_wished_leaves_a_session_as_it_is(ask: Ask) -> None:
    assert wished(ask(), Wishes()) == ask()
    assert not Wishes().any


def test_a_track_that_is_wished_counts_as_measured(ask: Ask) -> None:
    found = wished(ask(), Wishes(track_c=14.0))
    assert found.road.open_c == 14.0
    assert found.road.origin == "measured"


def test_other_tyres_count_as_scrubbed_and_sound(ask: Ask) -> None:
    found = wished(ask(), Wishes(tyre="race"))
    assert found.front.family == found.rear.family == "race"
    assert found.front_state is None


def test_at_the_coachs_pace_another_level_stays_at_it(ask: Ask) -> None:
    session = replace(ask(), coach_pace=True)
    new, other = ask(level="new").level, wished(session, Wishes(level="experienced")).level
    assert other.grip_share.value <= new.grip_share.value
    assert other.name == "experienced"


@pytest.mark.parametrize("wishes", [Wishes(level="nonsense"), Wishes(tyre="nonsense"), Wishes(track_c=400.0)])
def test_what_cannot_be_meant_is_refused(ask: Ask, wishes: Wishes) -> None:
    with pytest.raises(InputError):
        wished(ask(), wishes)


def test_frost_has_no_number(ask: Ask) -> None:
    with pytest.raises(OutsideModelError):
        wished(ask(), Wishes(track_c=1.0))


def test_roads_near_enough_have_the_track_wished(ask: Ask) -> None:
    roads = Roads(ask())
    exact = wished(ask(), Wishes(track_c=13.0)).road
    near = roads.of(Wishes(track_c=13.0))
    assert near == exact
    with pytest.raises(InputError):
        roads.of(Wishes(track_c=400.0))


def test_a_measured_road_stays_under_another_air(ask: Ask) -> None:
    assert Roads(ask()).of(Wishes(air_c=12.0)) == ask().road


def test_a_glance_is_near_a_plan(ask: Ask) -> None:
    seen, planned = glance(ask(), LAPS), caps(plan(replace(ask(), laps=LAPS)))
    assert np.array_equal(np.isnan(seen.caps_deg), np.isnan(planned))
    assert np.nanmax(np.abs(seen.caps_deg - planned)) < 1.5


def test_a_glance_goes_where_a_plan_goes(ask: Ask) -> None:
    own = glance(ask(), LAPS)
    before = caps(plan(replace(ask(), laps=LAPS)))
    for wishes in (Wishes(track_c=16.0), Wishes(start=Start("warmers", 80.0, 60.0, 5.0))):
        tried = wished(ask(), wishes)
        went = glance(tried, LAPS, guess=own).caps_deg - own.caps_deg
        goes = caps(plan(replace(tried, laps=LAPS))) - before
        assert not np.any(went * goes < -0.1)
        assert np.nanmax(np.abs(went - goes) - 0.15 * np.abs(goes)) < 1.5


def test_the_same_session_guessed_from_itself_stays(ask: Ask) -> None:
    own = glance(ask(), LAPS)
    again = glance(ask(), LAPS, guess=own)
    assert np.nanmax(np.abs(again.caps_deg - own.caps_deg)) < 0.1


def test_a_glance_no_longer_wanted_ends_at_the_next_lap(ask: Ask) -> None:
    class IdleError(Exception):
        pass

    asked: list[int] = []

    def going_on() -> None:
        asked.append(len(asked))
        if len(asked) > 1:
            raise IdleError

    with pytest.raises(IdleError):
        glance(ask(), 6, going_on=going_on)
    assert len(asked) == 2


def test_tyres_that_stood_a_while_are_colder_than_those_that_did_not(ask: Ask) -> None:
    left = follow(replace(ask(), laps=LAPS)).left
    session = replace(ask(), start=Start("stopped", off_min=20.0))
    soon, late = (glance(session, 1, begin=stood_since(left, minutes)) for minutes in (1.0, 40.0))
    assert np.nanmean(soon.shoulders_c) > np.nanmean(late.shoulders_c)


def test_riding_together_is_riding_one_by_one(place: Callable[..., Setting]) -> None:
    there = place()
    start = started(there)
    crowd = gather(there, start, carried_on=False, count=64)
    way = course(there.session.circuit, 0.0, there.tables.margin["arrival_m"])
    speeds = np.full(way.points.size, 15.0)
    found = ride_together(crowd, way, speeds, start)
    heated, (arrived, now) = heat_lap(there, way, start, speeds), follow_lap(crowd, way, speeds, start)
    for one, other in (
        (found.own, (heated.front, heated.rear)),
        (found.end, heated.end),
        (found.arrived, arrived),
        (found.now, now),
    ):
        assert all(np.array_equal(*pair) for pair in zip(one, other, strict=True))
