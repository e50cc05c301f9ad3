"""The evening's sets: a colder one never allows more than a milder one, at any turn of any lap."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, time
from importlib.resources import as_file, files

import pytest

from leanladder.domain.circuit import Circuit
from leanladder.domain.condition import Condition
from leanladder.domain.day import Band, Day, DayLadder, DayMachine, DaySession, HourWeather, Rider
from leanladder.domain.ladder import Rung
from leanladder.interchange.day import read_day
from leanladder.planning.day import plan_day
from leanladder.planning.sets import SETS, at_most

Sets = tuple[tuple[DayLadder, ...], ...]
HAIR_DEG = 1e-6


def planned(day: Day, circuit: Circuit) -> Sets:
    return tuple(plan_day(day, circuit, band=band) for band in SETS.values())


@pytest.fixture(scope="module")
def demo(demo_circuit: Circuit) -> Sets:
    with as_file(files("leanladder") / "data" / "example") as folder:
        day = read_day(folder / "day.toml")
        return planned(day, demo_circuit)


@pytest.fixture(scope="module")
def hot(demo_circuit: Circuit) -> Sets:
    """A hot, clear July noon: tyres past their best, so that more heat takes grip away."""
    with as_file(files("leanladder") / "data" / "example") as folder:
        day = read_day(folder / "day.toml")
    air = Band(30.0, 35.0, 40.0)
    hours = tuple(HourWeather(time(at), air, cloud=0.1, wind_mps=2.0, humidity_pct=40.0) for at in (9, 15))
    sound = Condition()
    machine = DayMachine("1", "litre-sport", "track-day", "track-day", front_state=sound, rear_state=sound)
    return planned(
        replace(
            day,
            date=date(2026, 7, 12),
            weather=hours,
            machines=(machine,),
            riders=(Rider("Hobby", "plovers", "experienced", "1"),),
            sessions=(DaySession("noon", "plovers", time(12), laps=6),),
        ),
        demo_circuit,
    )


def together(sets: Sequence[Sequence[DayLadder]]) -> Iterator[tuple[Rung, ...]]:
    """The same turn on the same lap of the same combination, from the coldest set to the mildest."""
    for entries in zip(*sets, strict=True):
        assert len({(entry.session.name, entry.riders) for entry in entries}) == 1
        ladders = [entry.ladder for entry in entries]
        assert all(ladder is not None for ladder in ladders)
        for laps in zip(*(ladder.laps for ladder in ladders if ladder), strict=False):
            yield from zip(*(lap.rungs for lap in laps), strict=True)


def test_no_colder_set_of_the_example_allows_more_than_a_milder_one(demo: Sets) -> None:
    turns = list(together(demo))
    assert len(turns) > 300
    for colder, likely, milder in turns:
        assert colder.cap_bike_deg <= likely.cap_bike_deg + HAIR_DEG
        assert likely.cap_bike_deg <= milder.cap_bike_deg + HAIR_DEG


def test_sets_that_are_in_order_are_left_as_they_are(demo: Sets) -> None:
    for before, after in zip(demo, at_most(demo), strict=True):
        for one, other in zip(before, after, strict=True):
            assert one.session == other.session
            assert one.ladder is not None
            assert other.ladder is not None
            caps = [rung.cap_bike_deg for lap in one.ladder.laps for rung in lap.rungs]
            held = [rung.cap_bike_deg for lap in other.ladder.laps for rung in lap.rungs]
            assert held == pytest.approx(caps, abs=HAIR_DEG)


def test_where_heat_takes_grip_away_the_lower_cap_is_handed_out(hot: Sets) -> None:
    assert any(
        one.cap_bike_deg > other.cap_bike_deg + 0.1 for colder in together(hot) for one, other in [colder[:2]]
    ), "the day is not hot enough to test anything"
    held = at_most(hot)
    assert held[-1] == hot[-1]
    for rungs, before in zip(together(held), together(hot), strict=True):
        caps = [rung.cap_bike_deg for rung in before]
        assert [rung.cap_bike_deg for rung in rungs] == [min(caps[place:]) for place in range(len(caps))]


def test_a_lowered_turn_is_one_whole(hot: Sets) -> None:
    """Nothing but lower, the planned speed by v^2 = g R tan(lean), the reason that of the cap it took."""
    lowered = 0
    for rungs, before in zip(together(at_most(hot)), together(hot), strict=True):
        rung, own = rungs[0], before[0]
        assert rung.cap_lean_deg <= own.cap_lean_deg
        assert rung.plan_lean_deg <= rung.cap_lean_deg
        assert rung.plan_bike_deg <= rung.cap_bike_deg
        assert rung.margin_deg - own.margin_deg == pytest.approx(rung.cap_bike_deg - own.cap_bike_deg)
        share = math.tan(math.radians(rung.plan_lean_deg)) / math.tan(math.radians(own.plan_lean_deg))
        assert rung.speed_kmh == pytest.approx(own.speed_kmh * math.sqrt(share))
        assert (rung.front, rung.rear, rung.card_bike_deg) == (own.front, own.rear, own.card_bike_deg)
        if rung.cap_bike_deg < own.cap_bike_deg:
            lowered += 1
            source = min(before, key=lambda each: each.cap_bike_deg)
            assert (rung.limited_by, rung.reason) == (source.limited_by, source.reason)
    assert lowered


def test_riders_are_found_again_where_sets_put_them_together_differently(hot: Sets) -> None:
    colder, _, milder = hot
    moved = replace(milder[0], riders=("Wren", "Hobby"))
    other = replace(milder[0], riders=("Sedge",))
    (entry,), _ = at_most((colder, (other, moved)))
    assert entry.ladder != colder[0].ladder
    (alone,), _ = at_most((colder, (other,)))
    assert alone.ladder == colder[0].ladder


def test_an_entry_without_a_number_neither_lowers_nor_is_lowered(hot: Sets) -> None:
    colder, _, milder = hot
    none = replace(milder[0], ladder=None)
    assert at_most((colder, (none,)))[0] == colder
    assert at_most(((none,), milder))[0] == (none,)
