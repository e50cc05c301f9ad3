"""Ladders counted over members: settled, repeatable, more careful for more chance, and open about doubt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from leanladder import catalogue
from leanladder.domain.chance import Chance
from leanladder.domain.errors import InputError
from leanladder.domain.ladder import Ladder, Rung
from leanladder.domain.session import Session, Start
from leanladder.engine import pool
from leanladder.planning.ladder import follow, plan
from leanladder.planning.laps import ride, started
from leanladder.planning.odds.counting import sure
from leanladder.planning.odds.crowd import gather
from leanladder.planning.riding import SETTLED_DEG
from leanladder.planning.setting import setting
from leanladder.planning.tables import Tables

Ask = Callable[..., Session]
STARTS = [Start("cold"), Start("warmers", 80.0, 60.0, 5.0), Start("stopped", off_min=20.0)]


def rungs(ladder: Ladder) -> list[Rung]:
    return [rung for lap in ladder.laps for rung in lap.rungs]


@pytest.mark.parametrize("start", STARTS, ids=lambda start: start.kind)
def test_every_rung_tells_its_doubt(ask: Ask, start: Start) -> None:
    ladder = plan(ask(level="experienced", start=start, laps=2))
    codes = {spread.code for spread in catalogue.spreads()}
    for rung in rungs(ladder):
        doubt = rung.doubt
        assert doubt is not None
        low, high = doubt.bike_band_deg
        assert rung.physics_bike_deg <= low < doubt.bike_p50_deg < high
        assert doubt.lean_band_deg[0] < doubt.lean_p50_deg < doubt.lean_band_deg[1]
        assert doubt.lean_p50_deg < doubt.bike_p50_deg
        assert 0.0 <= doubt.fall_odds < 1e-3
        assert 1 <= len(doubt.main_causes) <= 3
        assert {cause.code for cause in doubt.main_causes} <= codes
        shares = [cause.share for cause in doubt.main_causes]
        assert shares == sorted(shares, reverse=True)
        assert sum(shares) < 1.1
    odds = ladder.fall_odds
    assert odds is not None
    assert max(rung.doubt.fall_odds for rung in rungs(ladder) if rung.doubt) <= odds.rider * 1.001
    assert odds.rider <= odds.field <= 30.0 * odds.rider * 1.001
    assert odds.riders == 30


def test_the_same_seed_gives_the_same_ladder_and_another_nearly_the_same(ask: Ask) -> None:
    asked = ask(level="experienced", laps=2)
    assert plan(asked) == plan(asked)
    other = plan(replace(asked, chance=Chance(seed=2)))
    middles = [
        [rung.doubt.bike_p50_deg for rung in rungs(ladder) if rung.doubt] for ladder in (plan(asked), other)
    ]
    apart = np.abs(np.array(middles[0]) - np.array(middles[1]))
    assert 0.0 < apart.max() < 1.5
    assert apart.mean() < 0.5


def test_one_thread_gives_the_same_to_the_last_bit(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = ask(level="experienced", laps=2)
    both = plan(asked)
    monkeypatch.setattr(pool, "size", lambda: 1)
    assert plan(asked) == both


@pytest.mark.usefixtures("all_members")
def test_more_chance_never_allows_more(ask: Ask) -> None:
    """By the chance alone; where falls hold a lean back, both chances say that from members of their own."""
    asked = ask(level="experienced", laps=1)
    usual, careful = (follow(replace(asked, chance=Chance(of_100))) for of_100 in (95.0, 99.0))
    leans = []
    for of_100, followed in ((95.0, usual), (99.0, careful)):
        told = followed.steps[0].told
        assert told is not None
        leans.append(sure(told.counted.leans.lesser, of_100))
    assert np.all(leans[1] < leans[0] - 0.5)
    for one, other in zip(rungs(usual.ladder), rungs(careful.ladder), strict=True):
        assert other.cap_bike_deg <= one.cap_bike_deg + SETTLED_DEG


@pytest.mark.parametrize("level", catalogue.level_names())
@pytest.mark.parametrize("start", STARTS, ids=lambda start: start.kind)
def test_caps_repeat_within_three_counts(ask: Ask, tables: Tables, level: str, start: Start) -> None:
    place = setting(ask(level=level, start=start, laps=4), tables)
    begins = started(place)
    for step in ride(place, begins, 4, gather(place, begins, carried_on=False)):
        assert step.told is not None
        assert step.told.rides <= 3


def test_laps_beyond_those_asked_for_are_not_counted(ask: Ask) -> None:
    followed = follow(ask(laps=2))
    assert [step.told is not None for step in followed.steps] == [True, True]
    place = followed.place
    steps = list(ride(place, followed.start, 4, gather(place, followed.start, carried_on=False)))
    assert [step.told is not None for step in steps] == [True, True, False, False]
    assert steps[1].told is not None
    assert steps[2].orders.offsets is steps[1].told.counted.offsets


def test_progress_is_told_lap_by_lap(ask: Ask) -> None:
    seen: list[tuple[int, int]] = []
    plan(ask(laps=3), progress=lambda done, all_of_them: seen.append((done, all_of_them)))
    assert seen == [(1, 3), (2, 3), (3, 3)]


def test_a_chance_that_no_plan_is_made_for_is_refused_before_anything_is_ridden(ask: Ask) -> None:
    with pytest.raises(InputError, match="chance"):
        plan(ask(chance=Chance(90.0)))


@pytest.mark.usefixtures("all_members")
def test_less_known_of_the_road_allows_no_more(ask: Ask) -> None:
    """A computed road is known to 4 K where a measured one is to 1.5: the band is wider, the cap lower."""
    asked = ask(level="experienced", laps=1)

    def first(spread_k: float, **more: Any) -> Rung:
        road = replace(asked.road, spread_k=spread_k, **more)
        return rungs(plan(replace(asked, road=road)))[-1]

    measured, computed = first(1.5), first(6.0)
    assert measured.doubt is not None
    assert computed.doubt is not None
    assert computed.physics_bike_deg < measured.physics_bike_deg
    assert np.ptp(computed.doubt.bike_band_deg) > np.ptp(measured.doubt.bike_band_deg)
