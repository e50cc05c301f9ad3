"""Figures of cornering, ride, caps and pace."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scripts.physics.machines import (
    LEVELS,
    patch_friction,
    place,
    rib_leans_deg,
    tables,
    through,
)
from scripts.plot import Axis, Dots, Line, Panel, figure

from leanladder import catalogue
from leanladder.engine import caps, cornering, pace, ride
from leanladder.engine.caps import Bend
from leanladder.engine.ride import Motion

Floats = NDArray[np.float64]

CROWNS_M = (0.06, 0.08, 0.10)
HEIGHT_M = 0.62
RADII_M = (30.0, 60.0, 120.0)
BANKS_DEG = (5.0, 0.0, -5.0)
PRESSURES_BAR = (2.0, 2.4, 2.9)
STEP_M = 4.0


def cornering_figures() -> dict[str, str]:
    """Return lean against speed and crown, and friction asked for against lean and bank."""
    speeds = np.linspace(0.0, 40.0, 81)
    leans = np.linspace(0.0, 50.0, 101)
    rad = np.radians(leans)
    lean = Panel(
        "Lean that grip carries, by radius",
        Axis("speed, m/s", 0, 40, 10),
        Axis("lean, °", 0, 60, 10),
        [
            Line(
                f"{radius:g} m",
                speeds,
                np.degrees(cornering.leans_of_speeds(speeds, np.full(81, 1.0 / radius))),
            )
            for radius in RADII_M
        ],
    )
    crown = Panel(
        "What the crown adds",
        Axis("lean, °", 0, 50, 10),
        Axis("bike lean less lean, °", 0, 10, 2),
        [
            Line(
                f"crown {crown * 100:g} cm",
                leans,
                np.degrees(cornering.bike_leans(rad, crown, HEIGHT_M)) - leans,
            )
            for crown in CROWNS_M
        ],
    )
    bank = Panel(
        "Friction asked for, by bank",
        Axis("lean, °", 0, 50, 10),
        Axis("friction across the road", 0, 1.6, 0.4),
        [
            Line(
                {5.0: "5° into the turn", 0.0: "level", -5.0: "5° out of it"}[slope],
                leans,
                [max(0.0, cornering.banked_demand(float(one), float(np.radians(slope)))) for one in rad],
            )
            for slope in BANKS_DEG
        ],
    )
    used = np.linspace(0.0, 1.0, 101)
    ellipse = Panel(
        "Friction left along the line",
        Axis("share used across", 0, 1, 0.2),
        Axis("share left along", 0, 1, 0.2),
        [Line("ellipse", used, [cornering.ellipse_left(float(share)) for share in used])],
    )
    return {
        "cornering-lean.svg": figure("Lean against speed, and what the crown adds to it", [lean, crown]),
        "cornering-friction.svg": figure("Friction asked for and left in a turn", [bank, ellipse]),
    }


def _steady(speed: Floats, lean: Floats, along: Floats) -> Motion:
    """Steps of a second at speeds [m/s], leans [rad] and accelerations [m/s2] on a level road."""
    stance = place().stance
    nothing = np.zeros_like(speed)
    bike = cornering.bike_leans(lean, stance.crown_m, stance.cg_height_m)
    return Motion(speed, along, np.ones_like(speed), lean, bike, nothing, nothing)


def ride_figures() -> dict[str, str]:
    """Return wheel loads, rolling coefficient, slip power and the road's conductance."""
    setting, heat = place(), tables().heat
    along = np.linspace(-8.0, 6.0, 57)
    upright = ride.wheel_forces(
        _steady(np.full(57, 25.0), np.zeros(57), along), setting.chassis, heat["driving_rolling"]
    )
    loads = Panel(
        "Loads at 25 m/s, upright",
        Axis("acceleration along, m/s²", -8, 6, 2),
        Axis("load, kN", 0, 3, 0.5),
        [
            Line(name, along, force.load_n / 1e3)
            for name, force in zip(("front", "rear"), upright, strict=True)
        ],
    )
    speeds = np.linspace(5.0, 60.0, 111)
    rolling = Panel(
        "Rolling coefficient, warm",
        Axis("speed, m/s", 0, 60, 10),
        Axis("loss over load", 0, 0.05, 0.01),
        [Line(f"{bar:g} bar", speeds, ride.rolling_coefficient(speeds, bar)) for bar in PRESSURES_BAR],
    )
    return {
        "ride-loads.svg": figure(
            "Wheel loads against acceleration, and the rolling coefficient", [loads, rolling]
        ),
        "ride-heat.svg": figure(
            "Slip power against lean, and the road's conductance", [_slip(), _road(speeds)]
        ),
    }


def _slip() -> Panel:
    setting, heat = place(), tables().heat
    leans = np.linspace(0.0, 40.0, 81)
    moves = _steady(np.full(81, 25.0), np.radians(leans), np.zeros(81))
    forces = ride.wheel_forces(moves, setting.chassis, heat["driving_rolling"])
    tyres = (setting.front, setting.rear)
    return Panel(
        "Slip power in a steady turn at 25 m/s",
        Axis("lean, °", 0, 40, 10),
        Axis("slip power, kW", 0, 1, 0.2),
        [
            Line(name, leans, ride.slip_power_w(force, moves, tyre.grips, tyre.body.patch_half_m) / 1e3)
            for name, force, tyre in zip(("front", "rear"), forces, tyres, strict=True)
        ],
    )


def _road(speeds: Floats) -> Panel:
    tyre, heat = place().rear, tables().heat
    loads_n = (1000.0, 1500.0, 2000.0)
    return Panel(
        "Conductance of the rear patch to the road",
        Axis("speed, m/s", 0, 60, 10),
        Axis("W/K", 0, 60, 10),
        [
            Line(
                f"{load / 1e3:g} kN",
                speeds,
                ride.road_conductance_w_k(
                    np.full_like(speeds, load),
                    speeds,
                    2.4,
                    tyre.body.patch_half_m,
                    tyre.effusivity,
                    heat["contact_factor"],
                ),
            )
            for load in loads_n
        ],
    )


def caps_figures() -> dict[str, str]:
    """Return caps against even temperature, and how a cold shoulder sets one."""
    rubber_c = np.linspace(0.0, 120.0, 61)
    setting = place()
    bend = Bend(1.0, 0.0, 60.0, 0)
    by_level = []
    for level in LEVELS:
        share = catalogue.level(level).grip_share.value * tables().margin["grip_held"]
        found = [_cap_deg(bend, share, through(np.full(setting.front.body.ribs, one))) for one in rubber_c]
        by_level.append(Line(f"{level}, share {catalogue.level(level).grip_share.value:g}", rubber_c, found))
    even = Panel(
        "Physical cap, tyres even in temperature",
        Axis("rubber, °C", 0, 120, 20),
        Axis("bike lean, °", 0, 60, 10),
        by_level,
    )
    return {
        "caps-temperature.svg": figure(
            "The physical cap against rubber temperature, and where a cold shoulder sets it",
            [even, _cold_shoulder()],
        )
    }


def _cap_deg(bend: Bend, share: float, state: Floats) -> float:
    """The lesser of both tyres' caps [deg] where both are in one state."""
    setting = place()
    front = caps.physics_cap(bend, share, False, setting.front.crown, setting.stance, state)
    rear = caps.physics_cap(bend, share, True, setting.rear.crown, setting.stance, state)
    return float(np.degrees(min(front, rear)))


def _cold_shoulder() -> Panel:
    """A race rear at 75 degC throughout, and with its shoulders, beyond 20 degrees, left at 3."""
    setting = place("regular", "race")
    stance, tyre = setting.stance, setting.rear
    share = catalogue.level("regular").grip_share.value * tables().margin["grip_held"]
    bikes = np.linspace(0.0, 50.0, 101)
    asked = np.tan(
        [
            cornering.lean_of_bike_lean(float(one), stance.crown_m, stance.cg_height_m)
            for one in np.radians(bikes)
        ]
    )
    drawn: list[Line | Dots] = [Line("asked for", bikes, asked)]
    caps_deg = []
    for name, shoulder_c in (("may be used, all at 75 °C", 75.0), ("shoulders at 3 °C", 3.0)):
        ribs_c = np.where(np.abs(rib_leans_deg(tyre)) > 20.0, shoulder_c, 75.0)
        drawn.append(Line(name, bikes, [share * patch_friction(tyre, ribs_c, float(bike)) for bike in bikes]))
        cap = caps.physics_cap(Bend(1.0, 0.0, 60.0, 0), share, False, tyre.crown, stance, through(ribs_c))
        caps_deg.append(float(np.degrees(cap)))
    drawn.append(Dots("caps", caps_deg, np.interp(caps_deg, bikes, asked), filled=True))
    return Panel(
        "What a cold shoulder does, race rear",
        Axis("bike lean, °", 0, 50, 10),
        Axis("friction", 0, 1.2, 0.2),
        drawn,
    )


HOLDS = {
    pace.AT_POWER: "drive",
    pace.AT_BRAKING: "braking",
    pace.AT_CAP: "lean limit",
    pace.AT_LINE: "straight's limit",
}


def pace_figures() -> dict[str, str]:
    """Return the speed over a straight, a turn and a straight by level, and what holds one of them."""
    along = np.arange(0.0, 900.0, STEP_M)
    distance, speed = Axis("distance, m", 0, 900, 150), Axis("speed, m/s", 0, 60, 10)
    found = {level: _lap(level, along) for level in LEVELS}
    speeds, codes = found["regular"]
    all_levels = Panel(
        "One turn of 45 m radius between straights",
        distance,
        speed,
        [Line(level, along, lap[0]) for level, lap in found.items()],
    )
    held = Panel(
        "What holds the regular one",
        distance,
        speed,
        [
            Line(name, along, np.where(codes == code, speeds, np.nan))
            for code, name in HOLDS.items()
            if np.sum(codes == code) > 1
        ],
    )
    return {
        "pace-speeds.svg": figure(
            "Speed along two straights and a turn, and what holds it", [all_levels, held]
        )
    }


def _lap(level: str, along: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """Speeds [m/s] and what holds them; lean is held where it asks for 19 parts in 20 of what may be used."""
    asked = catalogue.level(level)
    grip = np.full_like(along, asked.grip_share.value * 1.1)
    going = pace.Going(
        _turn(along),
        np.zeros_like(along),
        np.arctan(0.95 * grip),
        grip,
        np.full_like(along, asked.drive_mps2.value),
        np.full_like(along, asked.brake_mps2.value),
        STEP_M,
    )
    return pace.lap_speeds(going, place().machine, asked.straight_mps.value, 15.0)


def _turn(along: Floats) -> Floats:
    """Curvature [1/m]: a turn of 45 m radius from 420 to 500 m, entered and left over 30 m."""
    return np.asarray(np.interp(along, [390.0, 420.0, 500.0, 530.0], [0.0, 1.0 / 45.0, 1.0 / 45.0, 0.0]))
