"""Session in, ladder out: rules that every ladder keeps, and refusals."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import asdict, replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from leanladder import ENGINE, catalogue
from leanladder.domain.circuit import Circuit, Patch, Stretch
from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.domain.ladder import Ladder, Rung
from leanladder.domain.session import ColdPressure, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.engine import cornering
from leanladder.planning.ladder import plan
from leanladder.planning.riding import SETTLED_DEG

Ask = Callable[..., Session]
Scaled = Callable[[Circuit, float], Circuit]
Started = Callable[[Circuit, float], Circuit]
LEVELS = ("new", "regular", "experienced")
REACHED_DEG = 0.5


@pytest.fixture(scope="module")
def ladders(ask: Ask) -> dict[str, Ladder]:
    starts = (Start("cold"), Start("warmers", 80.0, 60.0, 5.0))
    return {
        f"{level} {start.kind}": plan(ask(level=level, start=start, laps=5))
        for level in LEVELS
        for start in starts
    }


def rungs(ladders: dict[str, Ladder]) -> Iterator[tuple[Ladder, Rung]]:
    for ladder in ladders.values():
        for lap in ladder.laps:
            for rung in lap.rungs:
                yield ladder, rung


def figures(value: Any) -> Iterator[float]:
    """Every number within a value."""
    if isinstance(value, bool | str) or value is None:
        return
    if isinstance(value, int | float):
        yield float(value)
    elif isinstance(value, dict):
        for part in value.values():
            yield from figures(part)
    elif isinstance(value, list | tuple):
        for part in value:
            yield from figures(part)


@pytest.mark.parametrize("laps", [0, -1, 41, 1000])
def test_more_than_40_laps_or_none_are_refused(ask: Ask, laps: int) -> None:
    with pytest.raises(InputError) as caught:
        plan(ask(laps=laps))
    assert caught.value.fault.field == "laps"
    assert caught.value.fault.allowed == "1 to 40"


def test_more_than_three_hours_are_refused(ask: Ask, demo_circuit: Circuit, scaled: Scaled) -> None:
    long = scaled(demo_circuit, 6.0)
    with pytest.raises(InputError) as caught:
        plan(ask(level="new", laps=40, circuit=long))
    assert caught.value.fault.field == "laps"
    assert "3 h" in str(caught.value)
    assert len(plan(ask(level="new", laps=4, circuit=long)).laps) == 4


@pytest.mark.parametrize(
    "start", [Start("cold"), Start("stopped", None, 0.0, 30.0)], ids=lambda start: start.kind
)
def test_rubber_below_zero_is_refused(ask: Ask, start: Start) -> None:
    frost = Weather(air_c=-0.5, track_c=4.0, humidity_pct=40.0)
    with pytest.raises(OutsideModelError) as caught:
        plan(ask(weather=frost, start=start))
    assert caught.value.code == "rubber_below_zero"
    assert caught.value.exit_code == 3


def test_at_zero_there_is_a_number(ask: Ask) -> None:
    cool = Weather(air_c=0.0, track_c=4.0, humidity_pct=40.0)
    road = Road(4.0, 4.0, "measured", 0.5, 100.0)
    first = plan(ask(level="new", weather=cool, road=road, laps=1)).laps[0].rungs[0]
    assert first.cap_bike_deg > 5.0


def test_the_same_question_has_the_same_answer(ask: Ask) -> None:
    one, other = plan(ask(laps=2)), plan(ask(laps=2))
    assert one.laps == other.laps
    assert one.warnings == other.warnings
    assert (one.engine, one.parameters) == (ENGINE, other.parameters)


def test_fewer_laps_are_the_first_of_more(ask: Ask) -> None:
    assert plan(ask(laps=2)).laps == plan(ask(laps=4)).laps[:2]


def test_every_number_is_finite(ladders: dict[str, Ladder]) -> None:
    for ladder in ladders.values():
        for lap in ladder.laps:
            assert all(math.isfinite(figure) for figure in figures(asdict(lap)))


def test_the_cap_is_the_least_of_all_and_named_for_it(ladders: dict[str, Ladder]) -> None:
    for ladder, rung in rungs(ladders):
        session = ladder.session
        bike = session.motorcycle
        clearance = bike.clearance_left_deg if rung.side == "left" else bike.clearance_right_deg
        parts = {
            "caution_card": rung.card_bike_deg,
            "level_top": session.level.top_lean_deg.value,
            "clearance": clearance.value,
        }
        least = min(rung.physics_bike_deg, *parts.values())
        assert rung.cap_bike_deg <= least
        assert rung.cap_bike_deg == least or rung.limited_by == "clearance"
        if rung.limited_by in parts and rung.limited_by != "clearance":
            assert rung.cap_bike_deg == parts[rung.limited_by]
        if rung.limited_by in {"front_grip", "rear_grip"}:
            assert rung.cap_bike_deg == rung.physics_bike_deg
        assert rung.reason


def test_the_plan_never_leans_past_a_cap(ladders: dict[str, Ladder]) -> None:
    for _, rung in rungs(ladders):
        assert rung.plan_lean_deg <= rung.cap_lean_deg
        assert rung.plan_bike_deg <= rung.cap_bike_deg + 1e-9
        assert rung.cap_reached == (rung.cap_lean_deg - rung.plan_lean_deg <= REACHED_DEG)
        if rung.cap_reached:
            assert rung.plan_limited_by == rung.limited_by


def test_lean_is_less_than_bike_lean(ladders: dict[str, Ladder]) -> None:
    for _, rung in rungs(ladders):
        assert 0.0 < rung.cap_lean_deg < rung.cap_bike_deg
        assert 0.0 < rung.plan_lean_deg < rung.plan_bike_deg


def test_speed_and_lean_tell_of_one_radius(ladders: dict[str, Ladder]) -> None:
    """Lean = atan(v^2/(g R)) at a radius of the corner, its tightest or wider."""
    for ladder, rung in rungs(ladders):
        corner = ladder.session.circuit.corners[rung.number - 1]
        radius = (rung.speed_kmh / 3.6) ** 2 / (9.80665 * math.tan(math.radians(rung.plan_lean_deg)))
        assert radius > 0.97 * corner.radius_m
        at_tightest = cornering.lean_of_speed(rung.speed_kmh / 3.6, corner.radius_m)
        assert math.degrees(at_tightest) >= rung.plan_lean_deg - 1.0


def test_margin_and_least_margin(ladders: dict[str, Ladder]) -> None:
    for ladder in ladders.values():
        usual = ladder.session.level.usual_lean_deg.value
        for lap in ladder.laps:
            margins = {rung.number: rung.margin_deg for rung in lap.rungs}
            assert margins[lap.least_margin] == min(margins.values())
            assert all(rung.margin_deg == pytest.approx(rung.cap_bike_deg - usual) for rung in lap.rungs)


def test_minutes_run_on(ladders: dict[str, Ladder]) -> None:
    for ladder in ladders.values():
        assert ladder.laps[0].minute == 0.0
        for before, after in pairwise(ladder.laps):
            assert after.minute == pytest.approx(before.minute + before.time_s / 60.0)
            assert after.lap == before.lap + 1


def test_cold_tyres_only_gain(ladders: dict[str, Ladder]) -> None:
    for level in LEVELS:
        laps = ladders[f"{level} cold"].laps
        for before, after in pairwise(laps):
            caps = {rung.number: rung.cap_bike_deg for rung in before.rungs}
            assert all(
                rung.cap_bike_deg > caps[rung.number] - 0.1 for rung in after.rungs if rung.number in caps
            )
            assert after.rear_end.gas_c > before.rear_end.gas_c
            assert after.rear_end.pressure_bar > before.rear_end.pressure_bar


def test_more_experienced_riders_have_higher_caps(ladders: dict[str, Ladder]) -> None:
    for start in ("cold", "warmers"):
        for less, more in pairwise(LEVELS):
            last = zip(
                ladders[f"{less} {start}"].laps[-1].rungs,
                ladders[f"{more} {start}"].laps[-1].rungs,
                strict=True,
            )
            assert all(one.cap_bike_deg <= other.cap_bike_deg for one, other in last)


def test_warmers_go_before_cold_on_the_first_lap(ladders: dict[str, Ladder]) -> None:
    for level in LEVELS:
        first = zip(
            ladders[f"{level} cold"].laps[0].rungs, ladders[f"{level} warmers"].laps[0].rungs, strict=True
        )
        assert all(cold.cap_bike_deg < warm.cap_bike_deg for cold, warm in first)


def test_a_new_rider_is_never_told_to_drive_or_brake_harder(ladders: dict[str, Ladder]) -> None:
    coach = {lap.straights for lap in ladders["new cold"].laps}
    assert len(coach) == 1
    assert coach != {lap.straights for lap in ladders["experienced cold"].laps}


def test_a_circuit_that_does_not_allow_it_keeps_early_laps_to_the_coach(
    ask: Ask, demo_circuit: Circuit
) -> None:
    asked = {
        allowed: plan(
            ask(level="experienced", laps=2, circuit=replace(demo_circuit, hard_upright_allowed=allowed))
        )
        for allowed in (True, False)
    }
    coach = plan(ask(level="new", laps=1)).laps[0].straights
    assert [lap.straights for lap in asked[False].laps] == [coach, coach]
    assert coach not in [lap.straights for lap in asked[True].laps]
    assert asked[False].laps[0].time_s > asked[True].laps[0].time_s


def test_the_pit_exit_leaves_out_what_lies_before_it(ask: Ask, demo_circuit: Circuit) -> None:
    exit_m = demo_circuit.corners[1].end_m + 10.0
    laps = plan(ask(laps=2, circuit=replace(demo_circuit, pit_exit_m=exit_m))).laps
    everything = [corner.number for corner in demo_circuit.corners]
    assert [rung.number for rung in laps[0].rungs] == everything[2:]
    assert [rung.number for rung in laps[1].rungs] == everything
    assert laps[0].time_s < plan(ask(laps=1, circuit=replace(demo_circuit, pit_exit_m=None))).laps[0].time_s


def test_a_corner_over_the_start_line(ask: Ask, demo_circuit: Circuit, started_at: Started) -> None:
    first = demo_circuit.corners[0]
    circuit = started_at(demo_circuit, 0.5 * (first.start_m + first.apex_m))
    plain = plan(ask(laps=6, circuit=replace(demo_circuit, pit_exit_m=None, patches=()))).laps[-1]
    moved = plan(ask(laps=6, circuit=circuit)).laps[-1]
    by_number = {rung.number: rung for rung in moved.rungs}
    assert set(by_number) == {rung.number for rung in plain.rungs}
    # a lap that began elsewhere, on tyres a part of a lap older: nearly the same caps
    assert all(abs(by_number[rung.number].cap_bike_deg - rung.cap_bike_deg) < 1.0 for rung in plain.rungs)


def test_a_circuit_without_corners_has_laps_without_rungs(ask: Ask, demo_circuit: Circuit) -> None:
    flat = np.zeros_like(demo_circuit.curvature_per_m)
    laps = plan(ask(laps=2, circuit=replace(demo_circuit, corners=(), patches=(), curvature_per_m=flat))).laps
    assert [lap.rungs for lap in laps] == [(), ()]
    assert laps[0].least_margin == 0


def test_a_polished_patch_is_its_corners_own(ask: Ask, demo_circuit: Circuit) -> None:
    corner = demo_circuit.corners[4]
    patch = Patch(Stretch(corner.start_m, corner.end_m), "polished")
    plain = plan(ask(laps=1, circuit=replace(demo_circuit, patches=()))).laps[0]
    patched = plan(ask(laps=1, circuit=replace(demo_circuit, patches=(patch,)))).laps[0]
    lower = [
        one.number
        for one, other in zip(plain.rungs, patched.rungs, strict=True)
        if other.physics_bike_deg < one.physics_bike_deg - 0.5
    ]
    assert lower == [corner.number]


def test_a_colder_shade_counts(ask: Ask) -> None:
    road = ask().road
    mild, cold = (
        plan(ask(laps=2, road=replace(road, shaded_c=shaded_c))).laps[-1] for shaded_c in (9.0, 3.5)
    )
    assert all(
        other.cap_bike_deg <= one.cap_bike_deg + SETTLED_DEG
        for one, other in zip(mild.rungs, cold.rungs, strict=True)
    )
    assert any(
        other.cap_bike_deg < one.cap_bike_deg - SETTLED_DEG
        for one, other in zip(mild.rungs, cold.rungs, strict=True)
    )


def test_a_road_known_less_well_gives_a_lower_card(ask: Ask) -> None:
    road = ask().road
    sure, unsure = (
        plan(ask(laps=1, road=replace(road, spread_k=spread_k))).laps[0] for spread_k in (0.0, 3.0)
    )
    for one, other in zip(sure.rungs, unsure.rungs, strict=True):
        assert other.card_bike_deg < one.card_bike_deg


def test_hot_pressures_follow_the_gas(ladders: dict[str, Ladder]) -> None:
    for ladder in ladders.values():
        cold = ladder.session.cold_pressure
        for lap in ladder.laps:
            for end, set_bar in ((lap.front_end, cold.front_bar), (lap.rear_end, cold.rear_bar)):
                hot = (set_bar + 1.01325) * (end.gas_c + 273.15) / (cold.set_c + 273.15) - 1.01325
                assert end.pressure_bar == pytest.approx(hot, abs=1e-9)


def test_altitude_takes_nothing_from_the_gauges_rise_but_its_share(ask: Ask) -> None:
    high = Weather(air_c=8.0, track_c=9.0, humidity_pct=60.0, altitude_m=2000.0)
    low_end, high_end = (
        plan(ask(laps=2, weather=weather)).laps[-1].rear_end for weather in (ask().weather, high)
    )
    assert 0.0 < high_end.pressure_bar - 1.9 < low_end.pressure_bar - 1.9


def test_softer_tyres_warm_more(ask: Ask) -> None:
    soft, hard = (
        plan(ask(laps=5, cold_pressure=ColdPressure(bar, bar, 8.0))).laps[-1].rear_end for bar in (1.6, 2.6)
    )
    assert soft.gas_c > hard.gas_c


def test_a_machine_that_touches_early_is_limited_by_clearance(ask: Ask) -> None:
    bike = ask().motorcycle
    low = replace(bike, clearance_left_deg=replace(bike.clearance_left_deg, value=12.0))
    for rung in plan(ask(level="experienced", laps=3, motorcycle=low)).laps[-1].rungs:
        assert (rung.limited_by == "clearance") == (rung.side == "left")
        assert rung.side == "right" or rung.cap_bike_deg <= 12.0


@pytest.mark.parametrize("machine", catalogue.motorcycle_names())
@pytest.mark.parametrize("family", catalogue.tyre_names())
def test_every_machine_on_every_family(ask: Ask, machine: str, family: str) -> None:
    tyres = catalogue.tyre_family(family)
    fitted = {"front": replace(ask().front, tyre=tyres.front), "rear": replace(ask().rear, tyre=tyres.rear)}
    laps = plan(ask(level="experienced", laps=2, motorcycle=catalogue.motorcycle(machine), **fitted)).laps
    for lap in laps:
        assert all(math.isfinite(figure) for figure in figures(asdict(lap)))
        assert all(5.0 < rung.cap_bike_deg < 60.0 for rung in lap.rungs)
        for end in (lap.front_end, lap.rear_end):
            assert 5.0 < end.gas_c < 110.0


def test_rubber_that_cools_below_zero_on_the_road_is_refused(ask: Ask) -> None:
    """Off warmers long enough, or for long enough in frost, there is no number either."""
    start = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=600.0)
    with pytest.raises(OutsideModelError) as caught:
        plan(ask(weather=Weather(air_c=-8.0, track_c=9.0), start=start, laps=1))
    assert caught.value.code == "rubber_below_zero"
    assert caught.value.fault.remedy


def test_heat_that_runs_away_is_refused_and_never_a_cap(ask: Ask) -> None:
    session = ask(start=Start("warmers", warmers_c=80.0, on_min=60.0, off_min=30.0), laps=1)
    wheel = session.motorcycle.front
    tiny = replace(wheel, cavity_m3=replace(wheel.cavity_m3, value=0.0002))
    with pytest.raises(InputError, match="cannot be followed"):
        plan(replace(session, motorcycle=replace(session.motorcycle, front=tiny)))
