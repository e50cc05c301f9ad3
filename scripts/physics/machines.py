"""The machine, tyres and surfaces that the figures are drawn with: what ships, nothing of their own."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray
from tests.trade.rides import Morning, Run, run_plainly, session

from leanladder import catalogue
from leanladder.engine.grip import table_axis
from leanladder.engine.tyre_thermal import LAYERS, spread_weights
from leanladder.planning.gripping import surface_grip
from leanladder.planning.rubber import NODES, RIBS, Rubber
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import Tables, shipped_tables

Floats = NDArray[np.float64]

MORNING = Morning(8.0, 10.0)
LEVELS = ("new", "regular", "experienced")
FAMILIES = ("sport-road", "track-day", "race")


@cache
def tables() -> Tables:
    """Return the tables as shipped."""
    return shipped_tables()


@cache
def place(level: str = "experienced", family: str = "sport-road") -> Setting:
    """Return a cool morning on the demo circuit, middleweight machine, tyres of a family."""
    return setting(session(MORNING, level, 1, tyre=family), tables())


@cache
def ridden(level: str = "experienced", laps: int = 8) -> Run:
    """Return the laps of that morning from cold."""
    return run_plainly(session(MORNING, level, laps))


def curve(family: str, end: str = "front", surface: str = "ordinary") -> Floats:
    """Return friction [-] at table_axis() of a family's tyre on a surface."""
    tyre = getattr(catalogue.tyre_family(family), end)
    return surface_grip(tyre.compound, catalogue.surface(surface), tables())


def through(ribs_c: Floats) -> Floats:
    """Return a tyre whose ribs are at ribs_c (RIBS,) [degC] through all their depth, the rest at their mean.

    The one place here that knows how a state is laid out.
    """
    state = np.full(NODES, float(ribs_c.mean()))
    state[: LAYERS * RIBS] = np.tile(ribs_c, LAYERS)
    return state


def rib_leans_deg(tyre: Rubber) -> Floats:
    """Return the lean [deg] at which each rib's middle carries the patch's middle, left negative."""
    middles_m = -tyre.crown.half_arc_m + tyre.crown.rib_m * (np.arange(RIBS) + 0.5)
    return np.asarray(np.degrees(middles_m / tyre.crown.crown_radius_m))


def weights(tyre: Rubber, lean_deg: float, half_m: float) -> Floats:
    """Return the share (RIBS,) [-] that each rib bears at a lean [deg, right positive]."""
    found = np.zeros(RIBS)
    contact_m = tyre.crown.crown_radius_m * float(np.radians(lean_deg))
    spread_weights(found, contact_m, half_m, tyre.crown.rib_m, tyre.crown.half_arc_m)
    return found


def patch_friction(tyre: Rubber, ribs_c: Floats, lean_deg: float) -> float:
    """Return the friction [-] of the patch at a lean [deg] on ribs that are even through their depth."""
    grips = np.interp(ribs_c, table_axis(), tyre.crown.tables[0])
    return float(weights(tyre, lean_deg, tyre.body.patch_half_m) @ grips)
