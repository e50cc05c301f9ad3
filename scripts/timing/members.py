"""The pass that is timed: an ensemble of members through a ride, and how far off it is.

Each member's tyre and surroundings differ from the plan's by draws of a fixed seed. One member alone can be
followed by the plain kernel, with the tyre and the forcing changed as its differences say.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scripts.timing.trace import Lap, Tyre

from leanladder.engine.members import WIDTH, Differences, in_blocks, ride_members
from leanladder.engine.tyre_thermal import FLOW_COUNT, OUTER_LAYERS, Body, Forcing, heat_ride, layers_c

Floats = NDArray[np.float64]

MEMBERS = 1024
SEED = 1
# How widely members are drawn here, one standard deviation: factors [-], or degrees [K]. Wide enough that
# members differ as those of a ladder do; what a ladder draws from stands in its own data file.
DRAWN = {
    "crown": 0.03,
    "patch_half_m": 0.08,
    "flex_half_m": 0.08,
    "loss": 0.12,
    "scrub": 0.30,
    "contact": 0.25,
    "air": 0.20,
    "road_k": 1.5,
    "air_k": 1.0,
    "sun": 0.25,
}
DEGREES = ("road_k", "air_k")
WIDEST = 2.0  # deviations: draws are cut there
CUT = 32  # parts that a reference cuts each step into


def drawn(body: Body, members: int) -> Differences:
    """Return the differences of members, the first of them neutral."""
    rng = np.random.default_rng(SEED)
    neutral = {"patch_half_m": body.patch_half_m, "flex_half_m": body.flex_half_m}
    columns = {}
    for name, deviation in DRAWN.items():
        moved = deviation * np.clip(rng.standard_normal(members), -WIDEST, WIDEST)
        moved[0] = 0.0
        columns[name] = moved if name in DEGREES else neutral.get(name, 1.0) * (1.0 + moved)
    return Differences(**{name: in_blocks(values) for name, values in columns.items()})


def states(tyre: Tyre, members: int) -> Floats:
    """Return the members' states at the start, (blocks, n, WIDTH) [degC]."""
    blocks = -(-members // WIDTH)
    return np.tile(tyre.at_start[None, :, None], (blocks, 1, WIDTH))


def ride(tyre: Tyre, at: Floats, differences: Differences, threads: int | None = None) -> list[Floats]:
    """Return what members read on arrival, a lap (blocks, corners, ribs, WIDTH) [degC]; moves `at` on."""
    return [
        ride_members(
            at, tyre.body, tyre.shares, lap.forcing, lap.spin_part, differences, lap.marks, threads=threads
        )
        for lap in tyre.laps
    ]


class Pass:
    """Both tyres' members, ready to ride again and again from the same start."""

    def __init__(self, tyres: Sequence[Tyre], members: int = MEMBERS) -> None:
        self.tyres = tyres
        self.differences = [drawn(tyre.body, members) for tyre in tyres]
        self.at_start = [states(tyre, members) for tyre in tyres]
        self.at = [start.copy() for start in self.at_start]

    def __call__(self, threads: int | None = None) -> list[list[Floats]]:
        """Return what both tyres' members read on arrival, lap by lap."""
        read = []
        for tyre, start, at, differences in zip(
            self.tyres, self.at_start, self.at, self.differences, strict=True
        ):
            at[:] = start
            read.append(ride(tyre, at, differences, threads))
        return read


def alone(tyre: Tyre, differences: Differences, member: int) -> Tyre:
    """Return one member's tyre as the plain kernel takes it: its own body, its laps' own forcing."""
    own = {name: float(values.reshape(-1)[member]) for name, values in differences._asdict().items()}
    body = tyre.body._replace(patch_half_m=own["patch_half_m"], flex_half_m=own["flex_half_m"])
    return tyre._replace(body=body, laps=tuple(lap._replace(forcing=_own(lap, own)) for lap in tyre.laps))


def _own(lap: Lap, own: dict[str, float]) -> Forcing:
    of = lap.forcing
    scrubbed = 1.0 + (own["scrub"] - 1.0) * lap.spin_part
    return of._replace(
        contact_m=of.contact_m * own["crown"],
        rolling_w=of.rolling_w * own["loss"],
        bulk_w=of.bulk_w * scrubbed,
        skin_w=of.skin_w * scrubbed,
        road_w_k=of.road_w_k * own["contact"],
        road_c=of.road_c + own["road_k"],
        sun_w_m2=of.sun_w_m2 * own["sun"],
        air_w_m2k=of.air_w_m2k * own["air"],
        tread_air_c=of.tread_air_c + own["air_k"],
        wall_air_c=of.wall_air_c + own["air_k"],
    )


def read_c(tyre: Tyre, kept: Floats) -> Floats:
    """Return the outer 2 mm's means (marks, ribs) [degC] of states (marks, n) [degC]."""
    layers = layers_c(kept, tyre.body.ribs)[:, :OUTER_LAYERS]
    return np.asarray(np.tensordot(tyre.body.outer_share, layers, axes=(0, 1)))


def followed(tyre: Tyre, parts: int = CUT) -> tuple[list[Floats], Floats]:
    """Return what one tyre reads on arrival, a lap (marks, ribs), and its state at the end (n,) [degC].

    By the plain kernel, each step cut into parts: third order, so that 32 leave nothing that counts.
    """
    state, read = tyre.at_start.copy(), []
    for lap in tyre.laps:
        cut = Forcing(*(np.repeat(values, parts) for values in lap.forcing))
        cut = cut._replace(dt_s=cut.dt_s / parts)
        flows, load_s = np.zeros(FLOW_COUNT), np.zeros(tyre.body.ribs)
        kept = heat_ride(state, tyre.body, tyre.shares, cut, lap.marks * parts, flows, load_s)
        read.append(read_c(tyre, kept))
    return read, state


def error_c(timed: Pass, read: list[list[Floats]], members: Sequence[int]) -> float:
    """Return the largest error [K] of some members over ribs, arrivals and laps of both tyres."""
    worst = 0.0
    for tyre, own, differences in zip(timed.tyres, read, timed.differences, strict=True):
        for member in members:
            exact, _ = followed(alone(tyre, differences, member))
            for lap, told in zip(exact, own, strict=True):
                here = told[member // WIDTH, :, :, member % WIDTH]
                worst = max(worst, float(np.max(np.abs(here - lap))))
    return worst
