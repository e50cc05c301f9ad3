"""A circuit seen in a mirror: left and right change places in the whole ladder and nothing else moves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder import catalogue
from leanladder.domain.circuit import Circuit
from leanladder.domain.session import FittedTyre, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.planning.ladder import plan

Ask = Callable[..., Session]
Mirror = Callable[[Circuit], Circuit]

SAME = ("time_s", "minute", "least_margin")
NUMBERS = (
    "cap_lean_deg",
    "cap_bike_deg",
    "physics_bike_deg",
    "card_bike_deg",
    "plan_lean_deg",
    "plan_bike_deg",
    "speed_kmh",
    "grip",
    "margin_deg",
)
CODES = ("number", "limited_by", "plan_limited_by", "cap_reached", "shoulder_in")
ENDS = ("loaded_c", "base_c", "gas_c", "rim_c", "pressure_bar")
LEVELS = ("new", "regular", "experienced")
STARTS = [Start("cold"), Start("warmers", 80.0, 60.0, 5.0), Start("stopped", None, 0.0, 20.0)]


def swapped(name: str) -> str:
    if "left" in name:
        return name.replace("left", "right")
    return name.replace("right", "left")


def alike(one: Any, other: Any) -> None:
    """Check two tyres' rubber, left of one against right of the other."""
    theirs = asdict(other)
    for name, value in asdict(one).items():
        assert theirs[swapped(name)] == pytest.approx(value, rel=1e-9), name


def flipped(session: Session, mirrored: Mirror) -> Session:
    bike = session.motorcycle
    turned = replace(
        bike, clearance_left_deg=bike.clearance_right_deg, clearance_right_deg=bike.clearance_left_deg
    )
    return replace(session, circuit=mirrored(session.circuit), motorcycle=turned)


def swaps_sides(session: Session, mirrored: Mirror) -> None:
    """Check a session's whole ladder against that of its mirror."""
    ladder, mirror = plan(session), plan(flipped(session, mirrored))
    assert [notice.code for notice in mirror.warnings] == [notice.code for notice in ladder.warnings]
    for lap, other in zip(ladder.laps, mirror.laps, strict=True):
        assert other.straights == lap.straights
        for name in SAME:
            assert getattr(other, name) == pytest.approx(getattr(lap, name), rel=1e-9), name
        for rung, opposite in zip(lap.rungs, other.rungs, strict=True):
            assert {rung.side, opposite.side} == {"left", "right"}
            assert [getattr(opposite, code) for code in CODES] == [getattr(rung, code) for code in CODES]
            for name in NUMBERS:
                assert getattr(opposite, name) == pytest.approx(getattr(rung, name), rel=1e-9, abs=1e-12), (
                    name
                )
            alike(rung.front, opposite.front)
            alike(rung.rear, opposite.rear)
        for one, end in ((lap.front_end, other.front_end), (lap.rear_end, other.rear_end)):
            alike(one.rubber, end.rubber)
            for name in ENDS:
                assert getattr(end, name) == pytest.approx(getattr(one, name), rel=1e-9), name


@pytest.mark.parametrize("start", STARTS, ids=lambda start: start.kind)
@pytest.mark.parametrize("level", LEVELS)
def test_a_mirrored_circuit_swaps_sides_in_the_whole_ladder(
    ask: Ask, mirrored: Mirror, level: str, start: Start
) -> None:
    bike = ask().motorcycle
    lame = replace(bike, clearance_left_deg=replace(bike.clearance_left_deg, value=24.0))
    swaps_sides(ask(level=level, start=start, laps=4, motorcycle=lame), mirrored)


@settings(max_examples=15)
@given(
    st.tuples(st.sampled_from(LEVELS), st.sampled_from(STARTS)),
    st.sampled_from(catalogue.motorcycle_names()),
    st.tuples(*(st.sampled_from(catalogue.tyre_names()) for _ in range(2))),
    st.tuples(st.floats(1.0, 40.0), st.floats(-2.0, 15.0), st.floats(0.0, 800.0)),
)
def test_so_it_does_for_any_machine_tyre_and_morning(
    ask: Ask,
    mirrored: Mirror,
    riders: tuple[str, Start],
    machine: str,
    families: tuple[str, str],
    morning: tuple[float, float, float],
) -> None:
    air_c, above_k, sun_w_m2 = morning
    front, rear = (catalogue.tyre_family(name) for name in families)
    session = ask(
        level=riders[0],
        start=riders[1],
        laps=2,
        motorcycle=catalogue.motorcycle(machine),
        weather=Weather(air_c, air_c + above_k, 50.0),
        road=Road(air_c + above_k, air_c + 0.5 * above_k, "measured", 1.0, sun_w_m2),
        front=FittedTyre(front.name, front.front),
        rear=FittedTyre(rear.name, rear.rear),
    )
    swaps_sides(session, mirrored)


def test_the_mirror_matters(ask: Ask, mirrored: Mirror) -> None:
    """The demo is no circuit of equal sides: unswapped, its mirror is another circuit."""
    here, there = plan(ask(laps=3)).laps[-1], plan(ask(laps=3, circuit=mirrored(ask().circuit))).laps[-1]
    assert here.rear_end.rubber.left_c < here.rear_end.rubber.right_c - 1.0
    assert there.rear_end.rubber.right_c < there.rear_end.rubber.left_c - 1.0
