"""Lean, load and the friction asked for.

Cossalter, Motorcycle Dynamics, 2nd ed. 2006, ch. 4 (from memory), each formula derived again in
docs/physics; the figures were computed from those formulae by hand, apart from this code.
"""

from __future__ import annotations

from math import atan, degrees, radians, tan

import numpy as np
import pytest

from leanladder.engine import cornering, pace, ride
from leanladder.engine.constants import GRAVITY_MPS2


@pytest.mark.parametrize(
    ("speed_mps", "radius_m", "lean_deg"),
    [(15.0, 30.0, 37.408), (20.0, 40.0, 45.559), (30.0, 100.0, 42.544), (40.0, 200.0, 39.207)],
)
def test_lean_of_speed(speed_mps: float, radius_m: float, lean_deg: float) -> None:
    # tan(phi) = v^2/(g R): thin tyres, steady, flat.
    assert degrees(cornering.lean_of_speed(speed_mps, radius_m)) == pytest.approx(lean_deg, abs=5e-4)


def test_radius_at_45_deg() -> None:
    assert degrees(cornering.lean_of_speed(25.0, 63.732)) == pytest.approx(45.0, abs=5e-4)


CROWNS = [
    (0.60, 0.10, 45.0, 53.130),
    (0.62, 0.08, 45.0, 51.013),
    (0.62, 0.08, 30.0, 34.248),
    (0.62, 0.06, 50.0, 54.708),
    (0.65, 0.10, 40.0, 46.712),
]


@pytest.mark.parametrize(("height_m", "crown_m", "lean_deg", "bike_deg"), CROWNS)
def test_crown_adds_to_the_machines_lean(
    height_m: float, crown_m: float, lean_deg: float, bike_deg: float
) -> None:
    # phi = phi_i + asin(t sin(phi_i)/(h - t)).
    found = cornering.bike_lean_of_lean(radians(lean_deg), crown_m, height_m)
    assert degrees(found) == pytest.approx(bike_deg, abs=5e-4)
    assert degrees(cornering.lean_of_bike_lean(radians(bike_deg), crown_m, height_m)) == pytest.approx(
        lean_deg, abs=5e-4
    )
    many = np.degrees(cornering.bike_leans(np.radians([lean_deg, -lean_deg]), crown_m, height_m))
    assert many == pytest.approx([bike_deg, -bike_deg], abs=5e-4)


def test_the_centre_of_gravity_sinks_by_the_crown() -> None:
    # h' = t + (h - t) cos(phi), with h = 0.60, t = 0.10 and phi = 53.130 deg: 0.400 m. The engine
    # has it in the inverse formula's denominator.
    bike = cornering.bike_lean_of_lean(radians(45.0), 0.10, 0.60)
    assert 0.10 + 0.50 * np.cos(bike) == pytest.approx(0.400, abs=5e-4)


def test_hang_off() -> None:
    # 80 of 280 kg moved by 0.15 m, centre of gravity at 0.60 m: derived, y = m_r y_r / m.
    assert degrees(cornering.hang_off_lean(80.0 / 280.0, 0.15, 0.60)) == pytest.approx(4.086, abs=5e-4)


@pytest.mark.parametrize(("bank_deg", "demand"), [(5.0, 0.8391), (-5.0, 1.1918)])
def test_bank(bank_deg: float, demand: float) -> None:
    # tan(atan(1) - bank); a bank against the turn asks for more.
    assert cornering.banked_demand(atan(1.0), radians(bank_deg)) == pytest.approx(demand, abs=5e-5)


def test_friction_ellipse() -> None:
    # (Fx/(mu N))^2 + (Fy/(mu N))^2 = 1: Pacejka, Tire and Vehicle Dynamics, 3rd ed. 2012 (from memory).
    assert 1.2 * cornering.ellipse_left(1.0 / 1.2) == pytest.approx(0.66332, abs=5e-6)
    assert 1.2 * cornering.ellipse_left(0.8) == pytest.approx(0.7200, abs=5e-6)
    assert cornering.ellipse_left(1.0) == 0.0


def steady(
    speed_mps: float, along_mps2: float = 0.0, lean_deg: float = 0.0, bike_deg: float = 0.0
) -> ride.Motion:
    def one(value: float) -> np.ndarray:
        return np.array([value])

    return ride.Motion(
        one(speed_mps),
        one(along_mps2),
        one(0.1),
        one(radians(lean_deg)),
        one(radians(bike_deg)),
        one(0.0),
        one(0.0),
    )


PLAIN = ride.Chassis(280.0, 1.40, 0.62, 0.5, 0.0, 0.62)


def test_static_loads() -> None:
    # p = 1.40, b = 0.70, m = 280: 1372.93 N each.
    front, rear = ride.wheel_forces(steady(10.0), PLAIN, 0.0)
    assert [front.load_n[0], rear.load_n[0]] == pytest.approx([1372.93, 1372.93], abs=5e-3)


@pytest.mark.parametrize("along_mps2", [5.0, -5.0])
def test_load_moves_along(along_mps2: float) -> None:
    # m a h'/p: 620.0 N at 5 m/s2, to the rear when driving.
    front, rear = ride.wheel_forces(steady(10.0, along_mps2), PLAIN, 0.0)
    moved = np.sign(along_mps2) * 620.0
    assert rear.load_n[0] - 1372.93 == pytest.approx(moved, abs=1e-2)
    assert front.load_n[0] - 1372.93 == pytest.approx(-moved, abs=1e-2)
    assert front.along_n[0] + rear.along_n[0] == pytest.approx(280.0 * along_mps2, abs=1e-9)


def test_a_turn_on_a_flat_road_leaves_the_loads_and_asks_for_n_tan() -> None:
    front, rear = ride.wheel_forces(steady(20.0, lean_deg=45.559, bike_deg=50.0), PLAIN, 0.0)
    assert front.load_n[0] + rear.load_n[0] == pytest.approx(280.0 * GRAVITY_MPS2, abs=1e-9)
    assert front.side_n[0] == pytest.approx(1372.93 * tan(radians(45.559)), abs=1e-2)


def test_drag_asks_for_drive_and_lightens_the_front() -> None:
    # 0.5 rho CdA v^2 with rho 1.2, CdA 0.35, 50 m/s: 525.0 N; over h_a/p it moves to the rear.
    dragged = PLAIN._replace(drag_kg_m=0.5 * 1.2 * 0.35)
    front, rear = ride.wheel_forces(steady(50.0), dragged, 0.0)
    assert rear.along_n[0] == pytest.approx(525.0, abs=1e-9)
    assert front.load_n[0] == pytest.approx(1372.93 - 525.0 * 0.62 / 1.40, abs=1e-2)


def test_a_wheel_lifts_at_11_072() -> None:
    # g b/h' and g (p - b)/h' with b = 0.70, h' = 0.62: 11.072 m/s2 both, 1.1290 g. The load left on
    # the lifting wheel is nothing there, and the engine's pace may not ask for more.
    limit = GRAVITY_MPS2 * 0.70 / 0.62
    assert limit == pytest.approx(11.072, abs=5e-4)
    assert limit / GRAVITY_MPS2 == pytest.approx(1.1290, abs=5e-5)
    for along in (0.9 * limit, -0.9 * limit):
        front, rear = ride.wheel_forces(steady(10.0, along), PLAIN, 0.0)
        left = front.load_n[0] if along > 0 else rear.load_n[0]
        assert left == pytest.approx(0.1 * 1372.93, rel=1e-6)


def test_pace_stays_under_the_lift_limits() -> None:
    points = 200
    flat = np.zeros(points)
    going = pace.Going(flat, flat, flat + 0.5, flat + 3.0, flat + 99.0, flat + 99.0, 2.0)
    machine = pace.Machine(280.0, 1e9, 0.0, 1.0, 11.072, 11.072, 90.0)
    going.curvature_per_m[-1] = 1.0  # something to brake for
    speeds, _ = pace.lap_speeds(going, machine, 90.0, 2.0)
    along = (speeds[1:] ** 2 - speeds[:-1] ** 2) / (2.0 * going.step_m)
    assert along.max() == pytest.approx(11.072, rel=1e-6)
    assert along.min() == pytest.approx(-11.072, rel=1e-6)
