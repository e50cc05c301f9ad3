"""Everything of a session that stays the same from lap to lap, as the kernels want it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leanladder import catalogue
from leanladder.domain.circuit import Circuit, Corner, Stretch
from leanladder.domain.motorcycle import Motorcycle
from leanladder.domain.session import Session, Surface
from leanladder.domain.tyre import Tyre
from leanladder.engine import air, gas
from leanladder.engine.caps import Stance
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.pace import Machine
from leanladder.engine.ride import Chassis
from leanladder.planning.condition import grip_kept
from leanladder.planning.gripping import surface_grip
from leanladder.planning.rubber import Rubber, rubber
from leanladder.planning.tables import Tables


@dataclass(frozen=True, slots=True)
class Setting:
    """A session made ready: rubber of both tyres, the machine, and what bends each corner.

    bends (corners, 4): side (-1 left, 1 right), bank [rad], radius [m], row of the grip tables.
    clearance (corners,) [deg bike lean]; atmosphere_bar [bar]; kept [0..1]: what the condition of the worse
    tyre keeps of its grip, already within both tyres' tables and still to be taken off the card.
    """

    session: Session
    tables: Tables
    front: Rubber
    rear: Rubber
    stance: Stance
    machine: Machine
    chassis: Chassis
    bends: Floats
    clearance: Floats
    atmosphere_bar: float
    kept: float = 1.0


def setting(session: Session, tables: Tables) -> Setting:
    """Return the session made ready for riding."""
    surfaces = road_surfaces(session)
    motorcycle = session.motorcycle
    kept = _kept(session, tables)
    front = _rubber(session.front.tyre, session, tables, (surfaces, kept[0]), is_rear=False)
    rear = _rubber(session.rear.tyre, session, tables, (surfaces, kept[1]), is_rear=True)
    return Setting(
        session,
        tables,
        front,
        rear,
        _stance(motorcycle, front, rear, tables),
        _machine(motorcycle),
        _chassis(motorcycle),
        _bends(session.circuit, [surface.name for surface in surfaces]),
        _clearance(session.circuit, motorcycle),
        gas.atmosphere_bar(session.weather.altitude_m),
        min(kept),
    )


def _kept(session: Session, tables: Tables) -> tuple[float, float]:
    """What the condition of the front and the rear tyre keeps of their grip."""
    front, rear = (
        grip_kept(fitted.tyre, state, session.date, tables.condition)
        for fitted, state in ((session.front, session.front_state), (session.rear, session.rear_state))
    )
    return front, rear


def road_surfaces(session: Session) -> list[Surface]:
    """Return the session's own surface first, then each that a patch names: the rows of the grip tables."""
    names = dict.fromkeys(patch.surface for patch in session.circuit.patches)
    return [session.surface, *(catalogue.surface(name) for name in names)]


def _rubber(
    tyre: Tyre, session: Session, tables: Tables, road: tuple[list[Surface], float], is_rear: bool
) -> Rubber:
    """One tyre on its wheel; road: the surfaces, and what the tyre's condition keeps of the grip there."""
    surfaces, kept = road
    grips = kept * np.stack([surface_grip(tyre.compound, surface, tables) for surface in surfaces])
    wheel = session.motorcycle.rear if is_rear else session.motorcycle.front
    return rubber(tyre, wheel, tables, grips, is_rear)


def _stance(motorcycle: Motorcycle, front: Rubber, rear: Rubber, tables: Tables) -> Stance:
    share = motorcycle.front_share.value
    crown_m = share * front.crown.crown_radius_m + (1.0 - share) * rear.crown.crown_radius_m
    rear_load_n = motorcycle.mass_kg.value * GRAVITY_MPS2 * (1.0 - share)
    drag = 0.5 * air.AIR_DENSITY * motorcycle.drag_area_m2.value / rear_load_n
    rolling = tables.heat["driving_rolling"] / (1.0 - share)
    return Stance(crown_m, motorcycle.cg_height_m.value, drag, rolling)


def _machine(motorcycle: Motorcycle) -> Machine:
    height, base, share = (
        motorcycle.cg_height_m.value,
        motorcycle.wheelbase_m.value,
        motorcycle.front_share.value,
    )
    return Machine(
        motorcycle.mass_kg.value,
        motorcycle.power_w.value,
        0.5 * air.AIR_DENSITY * motorcycle.drag_area_m2.value,
        1.0 - share,
        GRAVITY_MPS2 * share * base / height,
        GRAVITY_MPS2 * (1.0 - share) * base / height,
        motorcycle.top_speed_mps.value,
    )


def _chassis(motorcycle: Motorcycle) -> Chassis:
    return Chassis(
        motorcycle.mass_kg.value,
        motorcycle.wheelbase_m.value,
        motorcycle.cg_height_m.value,
        motorcycle.front_share.value,
        0.5 * air.AIR_DENSITY * motorcycle.drag_area_m2.value,
        motorcycle.drag_height_m.value,
    )


def _bends(circuit: Circuit, surfaces: list[str]) -> Floats:
    rows = []
    for corner in circuit.corners:
        apex = round(corner.apex_m / circuit.length_m * circuit.s_m.size) % circuit.s_m.size
        row = _surface_row(circuit, corner, surfaces)
        side = -1.0 if corner.side == "left" else 1.0
        rows.append((side, math.radians(circuit.bank_deg[apex]), corner.radius_m, float(row)))
    return np.array(rows, dtype=np.float64).reshape(-1, 4)


def _surface_row(circuit: Circuit, corner: Corner, surfaces: list[str]) -> int:
    """The patch that the corner touches, if any; the first row otherwise."""
    for patch in circuit.patches:
        if overlaps(patch.stretch, corner, circuit.length_m):
            return surfaces.index(patch.surface, 1)
    return 0


def overlaps(stretch: Stretch, corner: Corner, length_m: float) -> bool:
    """Return whether a stretch and a corner share any of the lap; both may cross the start line."""
    long_m = (stretch.to_m - stretch.from_m) % length_m
    wide_m = (corner.end_m - corner.start_m) % length_m
    after_m = (corner.start_m - stretch.from_m) % length_m
    return after_m <= long_m or (stretch.from_m - corner.start_m) % length_m <= wide_m


def _clearance(circuit: Circuit, motorcycle: Motorcycle) -> Floats:
    """Bike lean at which something touches [deg]; a bank that helps is not counted on."""
    left, right = motorcycle.clearance_left_deg.value, motorcycle.clearance_right_deg.value
    apex = [round(c.apex_m / circuit.length_m * circuit.s_m.size) % circuit.s_m.size for c in circuit.corners]
    against = np.minimum(circuit.bank_deg[apex], 0.0) if apex else np.zeros(0)
    own = np.array([left if corner.side == "left" else right for corner in circuit.corners])
    return np.asarray(own + against)
