"""The pass that is timed: an ensemble of members through a ride, and how far off it is.

Members are those of a ladder's odds, but for the first, which is the plan's own tyre. One member alone can be
followed by the plain kernel, with the tyre and the forcing changed as its differences say.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scripts.timing.trace import Lap, Trace, Tyre

from leanladder import catalogue
from leanladder.engine.block_rows import WIDTH
from leanladder.engine.members import Differences, no_differences, ride_members
from leanladder.engine.tyre_thermal import FLOW_COUNT, OUTER_LAYERS, Forcing, heat_ride, layers_c
from leanladder.planning.odds.crowd import begun
from leanladder.planning.odds.draws import draw
from leanladder.planning.odds.members import enrol
from leanladder.planning.riding import Wheels

Floats = NDArray[np.float64]

MEMBERS = 1024
SEED = 1
CUT = 32  # parts that a reference cuts each step into


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

    def __init__(self, trace: Trace, members: int = MEMBERS) -> None:
        place, self.tyres = trace
        drawn = draw(catalogue.spreads(), place.bends.shape[0], members, SEED)
        enrolled = enrol(place, drawn)
        start = Wheels(*(tyre.at_start for tyre in self.tyres))
        own = (enrolled.front.differences, enrolled.rear.differences)
        self.differences = [_first_neutral(tyre, each) for tyre, each in zip(self.tyres, own, strict=True)]
        self.at_start = list(begun(place, enrolled, start, carried_on=False))
        for tyre, states in zip(self.tyres, self.at_start, strict=True):
            states[0, :, 0] = tyre.at_start
        self.at = [states.copy() for states in self.at_start]

    def __call__(self, threads: int | None = None) -> list[list[Floats]]:
        """Return what both tyres' members read on arrival, lap by lap."""
        read = []
        for tyre, start, at, differences in zip(
            self.tyres, self.at_start, self.at, self.differences, strict=True
        ):
            at[:] = start
            read.append(ride(tyre, at, differences, threads))
        return read

    def alone(self, which: int, member: int) -> Tyre:
        """Return one member's front (0) or rear (1) tyre as the plain kernel takes it."""
        start = self.at_start[which][member // WIDTH, :, member % WIDTH]
        return alone(self.tyres[which], self.differences[which], member, np.ascontiguousarray(start))


def _first_neutral(tyre: Tyre, differences: Differences) -> Differences:
    """The differences (blocks, WIDTH) with the plan's own tyre in the first place."""
    kept = Differences(*(values.copy() for values in differences))
    for values, own in zip(kept, no_differences(tyre.body, 1), strict=True):
        values[0, 0] = own[0, 0]
    return kept


def alone(tyre: Tyre, differences: Differences, member: int, at_start: Floats) -> Tyre:
    """Return a member that starts at (n,) [degC] as the plain kernel takes it: body and forcing its own."""
    own = {name: float(values.reshape(-1)[member]) for name, values in differences._asdict().items()}
    body = tyre.body._replace(patch_half_m=own["patch_half_m"], flex_half_m=own["flex_half_m"])
    laps = tuple(lap._replace(forcing=_own(lap, own)) for lap in tyre.laps)
    return tyre._replace(body=body, at_start=at_start, laps=laps)


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
    for which, own in enumerate(read):
        for member in members:
            exact, _ = followed(timed.alone(which, member))
            for lap, told in zip(exact, own, strict=True):
                here = told[member // WIDTH, :, :, member % WIDTH]
                worst = max(worst, float(np.max(np.abs(here - lap))))
    return worst
