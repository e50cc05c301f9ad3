"""From the parts that a session names to what the kernels count with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import pi
from typing import Any

import numpy as np
import pytest

from leanladder.domain.circuit import Circuit, Patch, Stretch
from leanladder.domain.motorcycle import Motorcycle
from leanladder.domain.session import ColdPressure, Session
from leanladder.domain.tyre import Tyre
from leanladder.engine import ride
from leanladder.engine.tyre_thermal import LAYERS
from leanladder.planning.forcing import pressure_bar, rolling_forcing
from leanladder.planning.rubber import RIBS, rubber
from leanladder.planning.setting import Setting, overlaps, setting
from leanladder.planning.tables import Tables

Ask = Callable[..., Session]
Place = Callable[..., Setting]


def figures(whole: Any, **values: float) -> Any:
    """Return a dataclass with some of its parameters given other values."""
    return replace(
        whole, **{name: replace(getattr(whole, name), value=value) for name, value in values.items()}
    )


@pytest.fixture
def tyre(ask: Ask) -> Tyre:
    return ask().rear.tyre


def test_tyre_and_road_in_series(ask: Ask, tyre: Tyre, tables: Tables) -> None:
    # k .25, rho 1150, c 1900 on asphalt 1.5, 2300, 920: 522.38 W s^0.5/m2K (Carslaw and Jaeger 1959,
    # from memory; computed from the formula).
    soft = figures(tyre, conductivity_w_mk=0.25, density_kg_m3=1150.0, heat_capacity_j_kgk=1900.0)
    asphalt = {"road_conductivity_w_mk": 1.5, "road_density_kg_m3": 2300.0, "road_heat_capacity_j_kgk": 920.0}
    on = replace(tables, heat=dict(tables.heat) | asphalt)
    made = rubber(soft, ask().motorcycle.rear, on, np.ones((1, 801)), is_rear=True)
    assert made.effusivity == pytest.approx(522.38, abs=0.01)


def test_the_layers_hold_the_treads_and_carcasss_heat(ask: Ask, tyre: Tyre, tables: Tables) -> None:
    wheel = ask().motorcycle.rear
    body = rubber(tyre, wheel, tables, np.ones((1, 801)), is_rear=True).body
    stored = tyre.density_kg_m3.value * tyre.heat_capacity_j_kgk.value
    area = (
        2.0
        * pi
        * wheel.rolling_radius_m.value
        * tyre.width_m.value
        * wheel.tyre_width_m.value
        / tyre.section_m.value
    )
    volume = area * (tyre.tread_m.value + tyre.carcass_m.value)
    assert body.heat_j_k[: LAYERS * RIBS].sum() == pytest.approx(stored * volume, rel=1e-12)
    assert body.rib_m2 * RIBS == pytest.approx(area)
    assert body.depth_share.sum() == pytest.approx(1.0)
    assert body.outer_share == pytest.approx([0.15, 0.3, 0.55])  # 0.3, 0.6 and 1.1 mm
    # the air's heat: p V cv / (R T) at 3 bar and 300 K, 0.02 m3: 50 J/K (ideal gas; R 287.05, cv 718)
    roomy = figures(wheel, cavity_m3=0.02)
    gas_j_k = rubber(tyre, roomy, tables, np.ones((1, 801)), is_rear=True).body.heat_j_k[-1]
    assert gas_j_k == pytest.approx(3e5 * 0.02 / (287.05 * 300.0) * 718.0, rel=2e-3)


def test_a_smaller_wheel_scales_the_section(ask: Ask, tyre: Tyre, tables: Tables) -> None:
    wheel = ask().motorcycle.rear
    small = figures(wheel, tyre_width_m=0.5 * wheel.tyre_width_m.value)
    one, half = (rubber(tyre, each, tables, np.ones((1, 801)), is_rear=True) for each in (wheel, small))
    for name in ("rib_m", "half_arc_m", "patch_half_m", "crown_radius_m"):
        assert getattr(half.crown, name) == pytest.approx(0.5 * getattr(one.crown, name))


def test_lift_limits_of_the_machine(ask: Ask, tables: Tables) -> None:
    # p 1.40, b 0.70, h 0.62 m: 11.072 m/s2 both (Cossalter 2006, from memory; computed).
    bike = figures(ask().motorcycle, wheelbase_m=1.40, cg_height_m=0.62, front_share=0.5)
    machine = setting(ask(motorcycle=bike), tables).machine
    assert [machine.drive_lift_mps2, machine.brake_lift_mps2] == pytest.approx([11.072, 11.072], abs=5e-4)
    rearward = figures(bike, front_share=0.4)
    machine = setting(ask(motorcycle=rearward), tables).machine
    assert machine.drive_lift_mps2 < 11.072 < machine.brake_lift_mps2


ON_THE_CROWN = [
    (0.06, [10, 21, 31, 42, 52]),
    (0.10, [17, 35, 52, 70, 87]),
]


@pytest.mark.parametrize(("crown_m", "place_mm"), ON_THE_CROWN)
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_where_the_load_stands_on_the_crown(
    place: Place, crown_m: float, place_mm: list[int], side: float
) -> None:
    # Arc t gamma at 10, 20, 30, 40 and 50 deg of bike lean (derived); a left lean loads the left.
    here = place()
    lean = side * np.radians([10.0, 20.0, 30.0, 40.0, 50.0])
    one, nothing = np.ones(5), np.zeros(5)
    moves = ride.Motion(20.0 * one, nothing, 0.1 * one, 0.9 * lean, lean, nothing, nothing)
    forces = ride.WheelForces(1400.0 * one, nothing, nothing)
    tyre = here.rear._replace(crown=here.rear.crown._replace(crown_radius_m=crown_m))
    made = rolling_forcing(moves, forces, tyre, here, 20.0, np.zeros(5, dtype=bool))
    assert -side * 1000.0 * made.contact_m == pytest.approx(place_mm, abs=0.5)
    banked = rolling_forcing(moves._replace(bank=lean), forces, tyre, here, 20.0, np.zeros(5, dtype=bool))
    assert banked.contact_m == pytest.approx(nothing)


def test_shade_is_colder_and_has_no_sun(place: Place) -> None:
    here = place()
    one, nothing = np.ones(2), np.zeros(2)
    moves = ride.Motion(20.0 * one, nothing, 0.1 * one, nothing, nothing, nothing, nothing)
    forces = ride.WheelForces(1400.0 * one, nothing, nothing)
    made = rolling_forcing(moves, forces, here.rear, here, 20.0, np.array([False, True]))
    assert made.road_c.tolist() == [here.session.road.open_c, here.session.road.shaded_c]
    assert made.sun_w_m2[0] > made.sun_w_m2[1] == 0.0


def test_pressures_are_each_ends_own(place: Place) -> None:
    here = place(cold_pressure=ColdPressure(2.4, 1.8, 15.0))
    assert pressure_bar(here, False, 15.0) == pytest.approx(2.4)
    assert pressure_bar(here, True, 15.0) == pytest.approx(1.8)
    assert pressure_bar(here, True, 60.0) > 1.8


def test_bends_take_the_apexs_bank_and_the_patchs_surface(
    ask: Ask, demo_circuit: Circuit, tables: Tables
) -> None:
    corner = demo_circuit.corners[2]
    patched = replace(
        demo_circuit, patches=(Patch(Stretch(corner.start_m + 5.0, corner.start_m + 10.0), "polished"),)
    )
    here = setting(ask(circuit=patched), tables)
    assert here.bends[:, 3].tolist() == [1.0 if row == 2 else 0.0 for row in range(len(demo_circuit.corners))]
    assert here.front.crown.tables.shape[0] == 2
    assert here.bends[:, 0].tolist() == [-1.0 if c.side == "left" else 1.0 for c in demo_circuit.corners]
    assert here.bends[:, 2].tolist() == [c.radius_m for c in demo_circuit.corners]
    rows = np.round([c.apex_m / demo_circuit.length_m * demo_circuit.s_m.size for c in demo_circuit.corners])
    assert np.degrees(here.bends[:, 1]) == pytest.approx(demo_circuit.bank_deg[rows.astype(int)])


def test_a_bank_that_helps_gives_no_clearance_and_one_against_takes_some(
    ask: Ask, demo_circuit: Circuit, tables: Tables
) -> None:
    bank = np.full(demo_circuit.s_m.size, 4.0)
    bike: Motorcycle = figures(ask().motorcycle, clearance_left_deg=44.0, clearance_right_deg=41.0)
    own = [44.0 if corner.side == "left" else 41.0 for corner in demo_circuit.corners]
    helped = setting(ask(circuit=replace(demo_circuit, bank_deg=bank), motorcycle=bike), tables)
    against = setting(ask(circuit=replace(demo_circuit, bank_deg=-bank), motorcycle=bike), tables)
    assert helped.clearance == pytest.approx(own)
    assert against.clearance == pytest.approx(np.array(own) - 4.0)


@pytest.mark.parametrize("seed", range(40))
def test_overlaps_as_seen_point_by_point(demo_circuit: Circuit, seed: int) -> None:
    draw = np.random.default_rng(seed)
    length = 1000.0
    from_m, start_m = draw.uniform(0.0, length, 2)
    long_m, wide_m = draw.uniform(1.0, 300.0, 2)
    stretch = Stretch(from_m, (from_m + long_m) % length)
    corner = replace(demo_circuit.corners[0], start_m=start_m, end_m=(start_m + wide_m) % length)
    points = np.arange(0.0, length, 0.25)
    both = ((points - from_m) % length <= long_m) & ((points - start_m) % length <= wide_m)
    assert overlaps(stretch, corner, length) == bool(both.any())


def test_machine_figures_are_the_machines(ask: Ask, tables: Tables) -> None:
    bike = ask().motorcycle
    here = setting(ask(), tables)
    assert here.chassis.mass_kg == here.machine.mass_kg == bike.mass_kg.value
    assert here.machine.drive_share == pytest.approx(1.0 - bike.front_share.value)
    low, high = sorted((here.front.crown.crown_radius_m, here.rear.crown.crown_radius_m))
    assert low <= here.stance.crown_m <= high
