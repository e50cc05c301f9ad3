"""Ways of warming: the same laps at the same mean speed, and what follows from the rules."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from tests.planning.conftest import Ask

from leanladder.domain.circuit import Circuit
from leanladder.domain.condition import Condition
from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.domain.session import Session, Start
from leanladder.domain.way import Way, Ways
from leanladder.planning.tables import Tables
from leanladder.planning.ways import compare, usual_laps

LEVELS = ["new", "regular", "experienced"]
GENTLE = ["steady", "growing_lean", "upright"]
NAMES = {"growing_lean", "upright", "steady", "weaving", "slow_straights"}
WARMERS = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)


Compared = Callable[..., Ways]


@pytest.fixture(scope="module")
def compared(ask: Ask) -> Compared:
    """Give a function that returns the comparison of two laps for a level, made once each."""

    @cache
    def made(level: str, start: Start | None = None) -> Ways:
        return compare(ask(level, laps=2, start=start or Start("cold")))

    return made


def by_name(ways: Ways) -> dict[str, Way]:
    return {way.name: way for way in ways.ways}


@pytest.mark.parametrize("level", LEVELS)
def test_every_way_goes_at_the_same_mean_speed(compared: Compared, level: str) -> None:
    ways = compared(level)
    assert {way.name for way in ways.ways} == NAMES
    for way in ways.ways:
        assert way.speed_mps == pytest.approx(ways.speed_mps, rel=0.002)


@pytest.mark.parametrize("level", LEVELS)
def test_what_may_be_told_comes_first_and_the_warmest_shoulders_lead(compared: Compared, level: str) -> None:
    ways = compared(level).ways
    allowed = [way.allowed for way in ways]
    assert allowed == sorted(allowed, reverse=True)
    told = [way for way in ways if way.allowed]
    assert [way.rank for way in told] == list(range(1, len(told) + 1))
    needed = [min(way.tread_rise_c.front.shoulders, way.tread_rise_c.rear.shoulders) for way in told]
    gentle = [GENTLE.index(way.name) for way in told]
    for place in range(1, len(told)):
        more_k = needed[place] - needed[place - 1]
        assert more_k <= 1.0
        assert more_k <= 0.0 or gentle[place] > gentle[place - 1]
    assert all(way.peak_share < 1.0 for way in told)


@pytest.mark.parametrize("level", LEVELS)
def test_nothing_that_may_be_told_leans_beyond_the_card(compared: Compared, level: str) -> None:
    """The card is a part of every cap; half a degree is what a lap's steps hide between its points."""
    for way in compared(level).ways:
        if way.allowed:
            assert way.over_card_deg <= 0.5


def test_new_riders_are_not_told_to_drive_or_brake_harder(compared: Compared) -> None:
    ways = compared("new")
    upright = by_name(ways)["upright"]
    assert not upright.allowed
    assert upright.says.code == "ways.no_upright_level"
    assert "no_harder" in ways.cautions
    assert "upright_only" not in ways.cautions


def test_others_are_told_the_conditions(compared: Compared) -> None:
    ways = compared("regular")
    upright = by_name(ways)["upright"]
    assert [each.code for each in upright.conditions] == ["upright_only", "ways.half_grip"]
    assert "upright_only" in ways.cautions
    assert all(not way.conditions for way in ways.ways if way.name != "upright")


def test_a_circuit_may_forbid_it(ask: Ask, demo_circuit: Circuit) -> None:
    circuit = replace(demo_circuit, hard_upright_allowed=False)
    upright = by_name(compare(ask("experienced", laps=1, circuit=circuit)))["upright"]
    assert (upright.allowed, upright.says.code) == (False, "ways.no_upright_circuit")
    assert not upright.conditions


@pytest.mark.parametrize("start", [None, WARMERS], ids=["cold", "warmers"])
def test_weaving_and_slow_straights_are_never_told_whatever_the_start(
    compared: Compared, start: Start | None
) -> None:
    ways = by_name(compared("regular", start))
    assert not ways["weaving"].allowed
    assert not ways["slow_straights"].allowed


def test_a_side_is_as_good_as_the_other(
    ask: Ask, compared: Compared, demo_circuit: Circuit, mirrored: Callable[[Circuit], Circuit]
) -> None:
    """In a mirror left and right change places and nothing else."""
    plain = compared("regular")
    seen = compare(ask("regular", laps=2, circuit=mirrored(demo_circuit)))
    for name, way in by_name(plain).items():
        other = by_name(seen)[name]
        assert other.peak_share == pytest.approx(way.peak_share, rel=1e-3)
        assert other.heat_j == pytest.approx(way.heat_j, rel=1e-3)
        assert other.tread_rise_c.rear.shoulders == pytest.approx(way.tread_rise_c.rear.shoulders, abs=0.1)


def test_warm_tyres_are_ready_at_once_and_rise_less(compared: Compared) -> None:
    """Limits that are higher than they are going to be are not waited for: the start has the highest."""
    cold, warm = by_name(compared("regular")), by_name(compared("regular", WARMERS))
    ready = warm["growing_lean"].ready_minute
    assert ready is not None
    assert ready < 1.5
    for name in NAMES:
        assert warm[name].tread_rise_c.front.centre < cold[name].tread_rise_c.front.centre


def test_tyres_that_start_warmer_are_spoken_of_as_such(compared: Compared) -> None:
    ways = by_name(compared("regular", WARMERS))
    assert ways["steady"].says.code == "ways.why_warm"
    assert int(str(ways["steady"].says.figures["shoulders_k"])) > 0
    assert ways["weaving"].says.code == "ways.no_weaving_warm"


def test_nobody_is_told_to_brake_harder_where_the_tyres_are_warm(compared: Compared) -> None:
    ways = compared("regular", WARMERS)
    upright = by_name(ways)["upright"]
    assert (upright.allowed, upright.says.code) == (False, "ways.no_upright_need")
    assert "no_harder" in ways.cautions
    assert ways.steady_share is None


def test_growing_lean_opens_new_tyres(ask: Ask) -> None:
    """Caps of later laps know how far the laps before have scrubbed the tyres: lap 12 is settled."""
    new = Condition(scrubbed_left_deg=0.0, scrubbed_right_deg=0.0)
    ways = compare(ask("experienced", laps=12, front_state=new, rear_state=new))
    assert ways.settled_lap == 12
    assert ways.own_ready_minute is not None


def test_settled_is_lap_12_or_the_last_of_an_hour(
    compared: Compared, ask: Ask, demo_circuit: Circuit
) -> None:
    assert compared("regular").settled_lap == 12
    fewer = replace(demo_circuit, corners=demo_circuit.corners[:3])  # laps of little more than a minute
    assert compare(ask("experienced", laps=1, circuit=fewer)).settled_lap == 12


def test_more_laps_heat_more(ask: Ask, compared: Compared) -> None:
    short, longer = by_name(compared("regular")), by_name(compare(ask("regular")))
    for name in NAMES:
        assert longer[name].carcass_rise_c.rear.centre > short[name].carcass_rise_c.rear.centre


def test_steady_gives_most_of_the_carcass(compared: Compared) -> None:
    """Trade fact T4: steady riding gives most of the carcass's rise. Common practice."""
    for level in LEVELS:
        share = compared(level).steady_share
        assert share is not None
        assert 0.5 < share <= 1.0


def test_a_circuit_without_corners_has_an_answer(ask: Ask, demo_circuit: Circuit) -> None:
    """A ring of one wide bend: no turn, no cap to grow, and no way that differs in its corners."""
    size = demo_circuit.s_m.size
    bend = np.full(size, 2.0 * np.pi / demo_circuit.length_m)
    ring = replace(demo_circuit, corners=(), patches=(), curvature_per_m=bend)
    ways = compare(ask("regular", laps=1, circuit=ring))
    for way in ways.ways:
        assert way.speed_mps == pytest.approx(ways.speed_mps, rel=0.005)
        assert way.ready_minute is None
        assert way.rank is None
        if way.allowed:
            assert way.says.code == "ways.why_no_turn"
    assert not by_name(ways)["upright"].allowed


@pytest.mark.parametrize("level", ["regular", "experienced"])
def test_a_ring_of_one_long_turn_is_ridden_at_one_pace(ask: Ask, demo_circuit: Circuit, level: str) -> None:
    """No straight at all: what holds a way to its pace has to hold in the turn too."""
    size = demo_circuit.s_m.size
    bend = np.full(size, 1.0 / 400.0)
    turn = replace(demo_circuit.corners[0], number=1)
    ring = replace(demo_circuit, corners=(turn,), patches=(), curvature_per_m=bend)
    ways = compare(ask(level, laps=2, circuit=ring))
    for way in ways.ways:
        assert way.speed_mps == pytest.approx(ways.speed_mps, rel=0.005)


def test_three_laps_where_none_are_asked_for() -> None:
    assert usual_laps() == 3


@pytest.mark.parametrize("laps", [0, 41])
def test_too_few_or_too_many_laps_are_refused(ask: Ask, laps: int) -> None:
    with pytest.raises(InputError) as caught:
        compare(ask("regular", laps=laps))
    assert caught.value.fault.allowed == "1 to 40"


def test_rubber_below_zero_has_no_number(ask: Ask) -> None:
    session: Session = ask("regular")
    frost = replace(session, weather=replace(session.weather, air_c=-2.0))
    with pytest.raises(OutsideModelError):
        compare(frost)


def test_the_tables_given_are_used(ask: Ask, compared: Compared, tables: Tables) -> None:
    """Without flex by side force a weave heats less."""
    heat = dict(tables.heat) | {"flex_side": 0.0}
    less = by_name(compare(ask("regular", laps=2), replace(tables, heat=heat)))
    usual = by_name(compared("regular"))
    assert less["weaving"].heat_j < usual["weaving"].heat_j
