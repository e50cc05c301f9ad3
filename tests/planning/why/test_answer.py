"""Why a cap is what it is: the same rung as the ladder's, every part of it consistent with what set it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder import catalogue
from leanladder.domain.circuit import Circuit
from leanladder.domain.condition import Condition
from leanladder.domain.errors import InputError
from leanladder.domain.session import FittedTyre, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.domain.why import GripParts, HeatBudget, Why
from leanladder.planning.ladder import follow, plan
from leanladder.planning.laps import ride, started
from leanladder.planning.setting import setting
from leanladder.planning.tables import Tables
from leanladder.planning.why import why
from leanladder.planning.why.mechanisms import parts_at, patch

pytestmark = pytest.mark.usefixtures("without_changes")

Ask = Callable[..., Session]

LEVELS = ("new", "regular", "experienced")
STARTS = [Start("cold"), Start("warmers", 80.0, 60.0, 5.0), Start("stopped", None, 0.0, 20.0)]
BUDGET = 1e-6  # of the sum of |flows|: the design's bound


def check_limits(found: Why, session: Session) -> None:
    """The least limit is the ladder's own cap, to the last bit, and is the one that is said to set it."""
    rung = next(
        each for each in plan(session).laps[found.lap.lap - 1].rungs if each.number == found.corner.number
    )
    assert found.rung == rung
    leans = {each.limit: each.bike_lean_deg for each in found.limits if each.bike_lean_deg is not None}
    assert max(min(leans.values()), 0.0) == rung.cap_bike_deg
    assert [each.limit for each in found.limits if each.sets] == [rung.limited_by]
    assert leans["caution_card"] == rung.card_bike_deg
    assert min(leans["front_grip"], leans["rear_grip"]) == rung.physics_bike_deg
    assert found.card.bike_lean_deg == pytest.approx(rung.card_bike_deg, rel=1e-12)


def check_budget(heat: HeatBudget) -> None:
    """In less out is what temperatures say was stored (design: within 1e-6 of the sum of |flows|)."""
    flows = [*heat.heat_in_j.values(), *heat.heat_out_j.values()]
    moved_j = sum(heat.heat_in_j.values()) - sum(heat.heat_out_j.values()) - sum(heat.stored_j.values())
    assert abs(moved_j) <= BUDGET * sum(map(abs, flows))
    assert all(joule >= 0.0 for joule in heat.heat_in_j.values())


def check_grip(parts: GripParts, session: Session) -> None:
    assert parts.keying + parts.adhesion == pytest.approx(parts.grip, rel=1e-12)
    product = parts.peak_grip * parts.curve * parts.surface_kept * parts.condition_kept
    assert product == pytest.approx(parts.grip, rel=1e-12)
    assert parts.keying > 0.0
    assert parts.adhesion > 0.0
    assert parts.faded >= -1e-12
    assert 0.0 < parts.usable < session.level.grip_share.value * parts.grip
    assert parts.spare_grip == parts.usable - parts.demand


def check_ribs(found: Why) -> None:
    """Ribs are the states that the lap arrived with: their means are the rung's own thirds."""
    for tyre, rubber in ((found.front, found.rung.front), (found.rear, found.rung.rear)):
        third = len(tyre.ribs) // 3
        for place, name in enumerate(("left", "centre", "right")):
            part = tyre.ribs[place * third : (place + 1) * third]
            outer_c, skin_c = (
                math.fsum(getattr(rib, name) for rib in part) / third for name in ("outer_c", "skin_c")
            )
            assert outer_c == pytest.approx(getattr(rubber, f"{name}_c"), rel=1e-12)
            assert skin_c == pytest.approx(getattr(rubber, f"skin_{name}_c"), rel=1e-12)
        assert math.fsum(rib.load_share for rib in tyre.ribs) == pytest.approx(1.0, rel=1e-12)
        assert [rib.at_deg for rib in tyre.ribs] == sorted(rib.at_deg for rib in tyre.ribs)


def check(session: Session, lap: int, corner: int) -> Why:
    found = why(session, lap, corner)
    check_limits(found, session)
    check_ribs(found)
    for tyre in (found.front, found.rear):
        check_budget(tyre.since_rolling)
        for parts in (tyre.cap_grip, tyre.usual_grip):
            check_grip(parts, session)
        assert (tyre.last_lap is None) == (lap == 1)
        if tyre.last_lap is not None:
            check_budget(tyre.last_lap)
    return found


@pytest.mark.parametrize("start", STARTS, ids=lambda start: start.kind)
@pytest.mark.parametrize("level", LEVELS)
def test_it_is_the_ladders_own_rung_and_all_of_it_adds_up(ask: Ask, level: str, start: Start) -> None:
    session = ask(level=level, start=start, laps=3)
    for lap, corner in ((1, 1), (3, 5)):
        check(session, lap, corner)


@settings(max_examples=12)
@given(
    st.tuples(st.sampled_from(LEVELS), st.sampled_from(STARTS)),
    st.sampled_from(catalogue.motorcycle_names()),
    st.tuples(*(st.sampled_from(catalogue.tyre_names()) for _ in range(2))),
    st.tuples(st.floats(1.0, 40.0), st.floats(-2.0, 15.0), st.floats(0.0, 800.0)),
    st.tuples(st.integers(1, 3), st.integers(1, 11)),
)
def test_so_it_is_for_any_machine_tyre_and_morning(
    ask: Ask,
    riders: tuple[str, Start],
    machine: str,
    families: tuple[str, str],
    morning: tuple[float, float, float],
    where: tuple[int, int],
) -> None:
    air_c, above_k, sun_w_m2 = morning
    front, rear = (catalogue.tyre_family(name) for name in families)
    session = ask(
        level=riders[0],
        start=riders[1],
        laps=3,
        motorcycle=catalogue.motorcycle(machine),
        weather=Weather(air_c, air_c + above_k, 50.0),
        road=Road(air_c + above_k, air_c + 0.5 * above_k, "measured", 1.0, sun_w_m2),
        front=FittedTyre(front.name, front.front),
        rear=FittedTyre(rear.name, rear.rear),
    )
    check(session, *where)


def test_the_heat_is_that_of_the_lap_as_ridden(ask: Ask, tables: Tables) -> None:
    """All laps but the last, whole, and of that what flowed until the corner: less than all of it."""
    session = ask(laps=2)
    first, second = follow(session, tables).steps
    flexed_j = [step.ridden.heated.heat_j[1, 0] for step in (first, second)]
    found = [why(session, 2, corner).rear.since_rolling for corner in (1, 5, 11)]
    rolled_j = [heat.heat_in_j["rolling"] for heat in found]
    assert flexed_j[0] < rolled_j[0] < rolled_j[1] < rolled_j[2] < sum(flexed_j)
    assert [heat.minutes for heat in found] == sorted(heat.minutes for heat in found)
    last = why(session, 2, 5).rear.last_lap
    assert last is not None
    assert last.heat_in_j["rolling"] == flexed_j[0]


@pytest.mark.parametrize("start", STARTS, ids=lambda start: start.kind)
def test_at_a_physical_cap_nothing_is_spare(ask: Ask, tables: Tables, start: Start) -> None:
    """Where one tyre's grip sets its limit, what the turn asks is all that may be used."""
    session = ask(level="experienced", start=start, laps=2)
    place = setting(session, tables)
    *_, step = ride(place, started(place), 2)
    heated, caps, held = step.ridden.heated, step.ridden.caps, tables.margin["grip_held"]
    for index in range(len(session.circuit.corners)):
        for end, states, deg in (("front", heated.front, caps.front), ("rear", heated.rear, caps.rear)):
            parts = parts_at(
                patch(place, index, end, states[index], held),  # type: ignore[arg-type]
                float(deg[index]),
            )
            assert parts.spare_grip == pytest.approx(0.0, abs=1e-9)


def test_polish_and_a_worn_crown_take_their_share(ask: Ask) -> None:
    worn = Condition(crown="worn", heat_cycles=40)
    plain, polished, used = (
        why(ask(laps=2, **changes), 2, 5).rear.usual_grip
        for changes in (
            {},
            {"surface": catalogue.surface("polished")},
            {"front_state": worn, "rear_state": worn},
        )
    )
    assert plain.surface_kept == pytest.approx(1.0)
    assert plain.condition_kept == 1.0
    assert polished.surface_kept < 1.0
    assert polished.keying / polished.grip < plain.keying / plain.grip
    assert used.condition_kept < 1.0
    rough = why(ask(laps=2, surface=catalogue.surface("abrasive")), 2, 5).rear.usual_grip
    assert rough.surface_kept > 1.0  # more than ordinary asphalt holds


def test_cold_rubber_grips_less_by_both_mechanisms(ask: Ask) -> None:
    """Trade and theory: stiff rubber neither flows round the texture nor sticks as warm rubber does."""

    def usual(air_c: float) -> GripParts:
        road = Road(air_c + 1.0, air_c, "measured", 1.0, 0.0)
        return why(ask(laps=1, weather=Weather(air_c, road.open_c, 50.0), road=road), 1, 5).rear.usual_grip

    cold, warm = usual(4.0), usual(30.0)
    assert cold.rubber_c < warm.rubber_c
    assert cold.keying_developed < warm.keying_developed
    assert cold.adhesion_developed < warm.adhesion_developed
    assert cold.grip < warm.grip


def test_hot_rubber_loses_to_the_fade(ask: Ask) -> None:
    hot = ask(
        level="experienced",
        laps=8,
        weather=Weather(44.0, 64.0, 30.0),
        road=Road(64.0, 56.0, "measured", 1.0, 900.0),
    )
    found = why(hot, 8, 2)
    assert max(found.front.usual_grip.faded, found.rear.usual_grip.faded) > 0.01
    assert why(ask(laps=1), 1, 2).front.usual_grip.faded == pytest.approx(0.0, abs=1e-12)


def test_a_mirrored_circuit_has_a_mirrored_why(ask: Ask, mirrored: Callable[[Circuit], Circuit]) -> None:
    session = ask(laps=2)
    here, there = why(session, 2, 5), why(replace(session, circuit=mirrored(session.circuit)), 2, 5)
    assert (here.side, there.side) == ("left", "right")
    for one, other in ((here.front, there.front), (here.rear, there.rear)):
        for rib, opposite in zip(one.ribs, reversed(other.ribs), strict=True):
            assert opposite.at_deg == pytest.approx(-rib.at_deg, abs=1e-9)
            for name in ("skin_c", "outer_c", "carcass_c"):
                assert getattr(opposite, name) == pytest.approx(getattr(rib, name), rel=1e-9)
            assert opposite.load_share == pytest.approx(rib.load_share, abs=1e-9)
        assert other.cap_grip.grip == pytest.approx(one.cap_grip.grip, rel=1e-9)
    codes = [[sentence.code for sentence in found.sentences] for found in (here, there)]
    assert codes[0] == codes[1]


def test_the_idle_side_is_colder_and_bears_the_load_at_the_cap(ask: Ask) -> None:
    """The demo's one left turn: its shoulder, which the load stands on, is colder than the other's."""
    found = why(ask(laps=3), 3, 5)
    for tyre in (found.front, found.rear):
        ribs = tyre.ribs
        half = len(ribs) // 2
        assert sum(rib.load_share for rib in ribs[:half]) > 0.7
        assert ribs[half // 2].outer_c < ribs[-1 - half // 2].outer_c


@pytest.mark.parametrize(
    ("asked", "field", "allowed"),
    [
        ((0, 5), "lap", "1 to 3"),
        ((4, 5), "lap", "1 to 3"),
        ((-1, 5), "lap", "1 to 3"),
        ((2, 0), "corner", "1 to 11"),
        ((2, 12), "corner", "1 to 11"),
        ((2, -4), "corner", "1 to 11"),
    ],
)
def test_a_rung_that_is_not_there_is_an_input_error(
    ask: Ask, asked: tuple[int, int], field: str, allowed: str
) -> None:
    with pytest.raises(InputError) as caught:
        why(ask(laps=3), *asked)
    fault = caught.value.fault
    assert (fault.field, fault.allowed) == (field, allowed)
    assert fault.remedy


def test_a_corner_behind_the_pit_exit_is_not_on_the_first_lap(ask: Ask) -> None:
    late = replace(ask().circuit, pit_exit_m=ask().circuit.corners[1].end_m + 20.0)
    with pytest.raises(InputError, match="starts behind") as caught:
        why(ask(laps=2, circuit=late), 1, 1)
    assert caught.value.fault.allowed == ", ".join(map(str, range(3, 12)))
    check(ask(laps=2, circuit=late), 2, 1)


def test_where_every_corner_lies_behind_there_is_none_allowed(ask: Ask) -> None:
    circuit = ask().circuit
    late = replace(circuit, pit_exit_m=circuit.corners[-1].end_m + 20.0)
    with pytest.raises(InputError, match="starts behind") as caught:
        why(ask(laps=2, circuit=late), 1, 1)
    assert caught.value.fault.allowed == "none on lap 1"


def test_a_circuit_without_corners_says_so(ask: Ask) -> None:
    straight: Any = replace(ask().circuit, corners=())
    with pytest.raises(InputError) as caught:
        why(ask(circuit=straight), 1, 1)
    assert "no corners" in str(caught.value)
