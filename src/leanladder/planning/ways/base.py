"""What all ways share: the session made ready, the laps, how the tyres begin."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from leanladder import catalogue
from leanladder.domain.session import Session
from leanladder.engine import cornering
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.grip import Floats
from leanladder.engine.pace import Going
from leanladder.planning import scrubbing
from leanladder.planning.course import Course, course
from leanladder.planning.laps import started
from leanladder.planning.riding import Caps, Wheels, caps_on_arrival
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import Tables


def figures() -> MappingProxyType[str, float]:
    """Return the figures of data/ways.toml by name, without unit and spread."""
    return MappingProxyType({name: figure.value for name, figure in catalogue.parameters("ways").items()})


def usual_laps() -> int:
    """Return how many laps are compared where none are asked for."""
    return int(figures()["laps"])


@dataclass(frozen=True, slots=True)
class Base:
    """A session made ready for every way.

    place; laps, each a course, the first from the pit exit; start, both tyres as they roll; caps, every
    corner's as they roll; ways, the figures of data/ways.toml.
    """

    place: Setting
    laps: tuple[Course, ...]
    start: Wheels
    caps: Caps
    ways: MappingProxyType[str, float]


def base(session: Session, tables: Tables) -> Base:
    """Return the session made ready, its laps as many as it asks for."""
    place = setting(session, tables)
    circuit, arrival_m = session.circuit, tables.margin["arrival_m"]
    first = course(circuit, circuit.pit_exit_m or 0.0, arrival_m)
    whole = course(circuit, 0.0, arrival_m)
    start = started(place)
    return Base(place, (first, *[whole] * (session.laps - 1)), start, caps_at(place, start), figures())


def caps_at(place: Setting, wheels: Wheels) -> Caps:
    """Return the caps of tyres that arrive at every corner as given."""
    corners = place.bends.shape[0]
    front, rear = (np.tile(state, (corners, 1)) for state in wheels)
    scrubbed = scrubbing.at_start(place.session, place.tables.condition)
    return caps_on_arrival(place, front, rear, scrubbing.limits_deg(place, scrubbed))


def going(base: Base, way: Course, bike_deg: Floats, drive_mps2: float, brake_mps2: float) -> Going:
    """Return a lap's bounds with each corner at no more than bike_deg (corners,) [deg].

    Between corners the least of that side holds. The grip is what the level may use of the tyres as they
    roll, or as much as the lean asks for where that is more.
    """
    place, stance = base.place, base.place.stance
    most = cornering.leans_of_bike_leans(np.radians(bike_deg), stance.crown_m, stance.cg_height_m)
    limits = _between(base, way, most)
    if most.size:
        limits = np.where(way.corner_of >= 0, most[way.corner_of], limits)
    usable = share_held(place) * base.caps.upright.min(initial=1.0)
    size = way.points.size
    return Going(
        way.curvature_per_m,
        way.slope,
        limits,
        np.maximum(usable, np.tan(limits)),
        np.full(size, drive_mps2),
        np.full(size, brake_mps2),
        way.step_m,
    )


def _between(base: Base, way: Course, most: Floats) -> Floats:
    """Lean [rad] at each point as if between corners: the least of that side, of all if it has no corner."""
    lefts = base.place.bends[:, 0] < 0.0
    least = float(most.min(initial=math.radians(base.ways["slow_corner_deg"])))
    left, right = (float(most[side].min()) if side.any() else least for side in (lefts, ~lefts))
    return np.where(way.curvature_per_m > 0.0, left, right)


def share_held(place: Setting) -> float:
    """Return the share [-] of the modelled grip that a plan of the level uses."""
    return place.session.level.grip_share.value * place.tables.margin["grip_held"]


def upright_limits(base: Base, number: int, caps: Caps) -> tuple[float, float]:
    """Return drive and braking [m/s2] for a lap that warms upright, with the caps as it begins.

    At most the level's own, the figures of data/ways.toml, what the level may use of the grip, and on the
    early laps half of the grip then available.
    """
    place, level = base.place, base.place.session.level
    grip_mps2 = float(caps.upright.min(initial=1.0)) * GRAVITY_MPS2
    most = share_held(place) * grip_mps2
    if number <= place.tables.margin["early_laps"]:
        most = min(
            most, place.tables.margin["early_grip_share"] * place.tables.margin["grip_held"] * grip_mps2
        )
    drive = min(base.ways["drive_mps2"], level.drive_mps2.value, most * place.machine.drive_share)
    return drive, min(base.ways["brake_mps2"], level.brake_mps2.value, most)
