"""Worlds ride a ladder as it was planned: what each rung asks of each, over the grip that is there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from tests.worlds.drawing import Tilts, fresh
from tests.worlds.laid import Laid

from leanladder.engine.cornering import bike_leans, leans_of_bike_leans
from leanladder.planning.laps import started
from leanladder.planning.odds.crowd import Crowd, asked, begun, follow_lap, scatter
from leanladder.planning.odds.draws import Draws
from leanladder.planning.odds.members import Members, enrol
from leanladder.planning.setting import Setting

Floats = NDArray[np.float64]


def ridden(laid: Laid, draws: Draws, truth: Setting | None = None) -> Floats:
    """Return demand over friction (laps, corners, worlds) [-] of the tyre that has less to spare.

    truth: the session as it really is, where that is not what was planned for; the same circuit's line. 1 is
    a fall, the level's share all that was to be used; 0 where a corner is not ridden.
    """
    truth = laid.place if truth is None else truth
    start = laid.begins[0] if truth is laid.place else started(truth)
    members = enrol(truth, draws)
    crowd = Crowd(truth, members, begun(truth, members, start, carried_on=False))
    used = np.zeros((*laid.planned_deg.shape, draws.members))
    for lap, (step, begins) in enumerate(zip(laid.steps, laid.begins, strict=True)):
        way = replace(step.way, shaded=truth.session.circuit.shaded[step.way.points])
        arrived, now = follow_lap(crowd, way, step.ridden.speeds, begins)
        crowd = replace(crowd, now=now)
        lean_deg, line = scatter(crowd, lap + 1)
        bike = forward(members, laid.planned_deg[lap], lean_deg, line)
        found = asked(crowd, arrived, bike)
        ahead, behind = found[:, 2] / found[:, 0], found[:, 3] / found[:, 1]
        on_way = list(step.way.ridden)
        used[lap, on_way] = np.maximum(ahead, behind)[on_way]
    return used


def forward(members: Members, planned_deg: Floats, lean_deg: Floats, line: Floats) -> Floats:
    """Return the bike lean [rad] ridden, (corners, worlds), of one planned [deg]: a lean amiss, a line amiss.

    lean_deg [deg] is added to the lean, line [-] multiplies the curvature at the speed of that lean.
    """
    crown_m, height_m = members.machines.stances.crown_m, members.machines.stances.cg_height_m
    planned = np.radians(planned_deg)[:, None]
    meant = leans_of_bike_leans(planned, crown_m, height_m)  # type: ignore[arg-type]  # broadcasts as floats do
    leaned = np.arctan(np.tan(meant + np.radians(lean_deg)) * line)
    return bike_leans(leaned, crown_m, height_m)  # type: ignore[arg-type]


def outing(
    laid: Laid, worlds: int, seed: int, truth: Setting | None = None, tilts: Tilts | None = None
) -> Floats:
    """Return ridden's answer for fresh worlds by seed."""
    return ridden(laid, fresh(laid.place.bends.shape[0], worlds, seed, tilts), truth)
