"""Section, walls, rim and gas of one tyre, moved on in time by an implicit scheme.

Stages of a two-stage, second-order, L-stable diagonally implicit Runge-Kutta scheme (Alexander, SIAM J.
Numer. Anal. 14:1006, 1977, from memory). Conduction is solved with factors kept for the step; loads, which
depend on the temperatures (road, air, radiation, gas, flexing), are iterated until they agree.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from scipy.sparse import csr_matrix, diags, vstack
from scipy.sparse.linalg import SuperLU
from tests.finer.section import Floats, Points, Section

GAMMA = 1.0 - 0.5 * np.sqrt(2.0)
AGREED_K = 1e-4
MOST_ROUNDS = 30
STEFAN_BOLTZMANN = 5.670374e-8  # W/m2K4, CODATA 2018
KELVIN = 273.15
LEFT_WALL, RIGHT_WALL, RIM, GAS = range(4)


@dataclass(frozen=True)
class Lumps:
    """What is not the section.

    heat_j_k (4,) of left wall, right wall, rim, gas; wall_m2, rim_m2 [m2]; wall_reach_m [m] from the
    section's edge to the middle of the wall; bead_w_k [W/K].
    """

    heat_j_k: Floats
    wall_m2: float
    rim_m2: float
    wall_reach_m: float
    bead_w_k: float


class Load(NamedTuple):
    """What a moment does to the tyre; densities are a metre of arc.

    contact_m [m]; road_w_k [W/K] and road_c [degC]; skin_w, bulk_w [W] under the load; flex_w [W] at the
    reference temperature; brake_w [W]; sun_w_m2; air (tread, wall, rim) [W/m2K]; air_c, wall_air_c [degC];
    gas_w_m2k; emissivity of tread and walls.
    """

    contact_m: float
    road_w_k: float
    road_c: float
    skin_w: float
    bulk_w: float
    flex_w: float
    brake_w: float
    sun_w_m2: float
    tread_w_m2k: float
    wall_w_m2k: float
    rim_w_m2k: float
    air_c: float
    wall_air_c: float
    gas_w_m2k: float
    emissivity: float


@dataclass(frozen=True)
class Losses:
    """Flexing's heat: shares of tread and wall; reference [degC] and fall [1/K]; half-widths [m]."""

    tread: float
    wall: float
    ref_c: float
    per_k: float
    patch_half_m: float
    flex_half_m: float


class State(NamedTuple):
    """Temperatures [degC]: field (nodes,), lumps (4,)."""

    field: Floats
    lumps: Floats


@dataclass(frozen=True)
class Columns:
    """A layer of the section seen from above: places s_m [m], weight_m [m], and what reaches the nodes."""

    s_m: Floats
    weight_m: Floats
    spread: csr_matrix

    @classmethod
    def of(cls, points: Points, depth_m: float) -> Columns:
        """Return the columns of a layer depth_m [m] deep."""
        places, gathered = points.columns()
        per_depth = (gathered / depth_m).tocsr()
        return cls(places, np.asarray(per_depth.sum(axis=1)).ravel(), per_depth.T.tocsr())

    def nodes(self, density: Floats) -> Floats:
        """Return the nodes' shares [-] of a density [1/m] along the arc, even through the depth."""
        return np.asarray(self.spread @ density)


class Placed(NamedTuple):
    """A load placed on a section: heat at the nodes a watt, and densities at the surface's points.

    patch (points,) [1/m2] on the surface; skin, rubber, bending (nodes,) [-] sum to 1 each; carcass (nodes,)
    [-] reads the carcass's mean under the load.
    """

    load: Load
    patch: Floats
    skin: Floats
    rubber: Floats
    bending: Floats
    carcass: Floats


class Wheel:
    """One tyre: its section with walls, rim and gas."""

    def __init__(self, section: Section, lumps: Lumps, losses: Losses) -> None:
        self.section, self.lumps, self.losses = section, lumps, losses
        girth = section.sizes.girth_m
        self.sides = [section.surface, section.liner, *section.edges]
        self.values = vstack([side.values for side in self.sides]).tocsr()
        weights = np.concatenate([girth * side.weight for side in self.sides])
        self.gather = (self.values.T @ diags(weights)).tocsr()
        self.weights = weights
        stops = np.cumsum([0, *(side.s_m.size for side in self.sides)])
        self.parts = [slice(start, stop) for start, stop in pairwise(stops)]
        self.tread = Columns.of(section.tread, section.sizes.tread_m)
        self.carcass = Columns.of(section.carcass, section.sizes.carcass_m)
        self._factor: tuple[float, SuperLU] | None = None  # of the last step's length

    def even(self, temperature_c: float) -> State:
        """Return the tyre at one temperature throughout."""
        return State(np.full(self.section.nodes, temperature_c), np.full(4, temperature_c))

    def bearing(self, s_m: Floats, weight_m: Floats, contact_m: float, half_m: float) -> Floats:
        """Return a parabola about contact_m at s_m, 1/m, whose integral by weight_m is 1.

        A patch that reaches beyond the tread bears on what is left of it; its middle stays on the tread.
        """
        arc_m = self.section.sizes.half_arc_m
        shape = np.maximum(1.0 - ((s_m - np.clip(contact_m, -arc_m, arc_m)) / half_m) ** 2, 0.0)
        return np.asarray(shape / float(shape @ weight_m))

    def placed(self, load: Load) -> Placed:
        """Return a load with where it bears on this section."""
        surface, losses, girth = self.section.surface, self.losses, self.section.sizes.girth_m
        patch = self.bearing(surface.s_m, surface.weight, load.contact_m, losses.patch_half_m)
        under = self.bearing(self.tread.s_m, self.tread.weight_m, load.contact_m, losses.patch_half_m)
        bent = self.bearing(self.carcass.s_m, self.carcass.weight_m, load.contact_m, losses.flex_half_m)
        read = self.bearing(self.carcass.s_m, self.carcass.weight_m, load.contact_m, losses.patch_half_m)
        return Placed(
            load, patch / girth, self.gather[:, self.parts[0]] @ (patch / girth),
            self.tread.nodes(under), self.carcass.nodes(bent), self.carcass.nodes(read),
        )  # fmt: skip

    def loads(self, state: State, placed: Placed) -> State:
        """Return what flows into the nodes, but for conduction [W], and into the lumps [W]."""
        load, losses, at = placed.load, self.losses, state.lumps
        points_c = self.values @ state.field
        top, inner, left, right = (points_c[part] for part in self.parts)
        into = np.empty_like(points_c)
        radiated = load.emissivity * STEFAN_BOLTZMANN * ((top + KELVIN) ** 4 - (load.air_c + KELVIN) ** 4)
        into[self.parts[0]] = (
            load.sun_w_m2 - load.tread_w_m2k * (top - load.air_c) - radiated
            - placed.patch * (load.road_w_k * (top - load.road_c))
        )  # fmt: skip
        into[self.parts[1]] = load.gas_w_m2k * (at[GAS] - inner)
        per_m2 = self.section.sizes.conductivity / self.lumps.wall_reach_m
        into[self.parts[2]] = per_m2 * (at[LEFT_WALL] - left)
        into[self.parts[3]] = per_m2 * (at[RIGHT_WALL] - right)
        cooler = float(placed.carcass @ state.field) - losses.ref_c
        flex_w = load.flex_w * float(np.exp(-losses.per_k * cooler)) if load.flex_w else 0.0
        flow = (
            self.gather @ into
            + load.skin_w * placed.skin
            + (flex_w * losses.tread + load.bulk_w) * placed.rubber
            + flex_w * (1.0 - losses.tread - losses.wall) * placed.bending
        )
        out_w = [-float(self.weights[part] @ into[part]) for part in self.parts[1:]]
        return State(flow, self._lumps(at, load, flex_w * losses.wall, out_w))

    def _lumps(self, at: Floats, load: Load, wall_w: float, out_w: list[float]) -> Floats:
        """Return what flows into walls, rim and gas [W]; out_w [W] leaves liner, left and right edge."""
        lumps, half = self.lumps, self.section.sizes.half_arc_m
        rates = np.array([0.0, 0.0, load.brake_w, out_w[0]])
        beside = min(max(load.contact_m / half, -1.0), 1.0)
        for wall, sign in ((LEFT_WALL, -1.0), (RIGHT_WALL, 1.0)):
            to_rim = lumps.bead_w_k * (at[wall] - at[RIM])
            to_gas = load.gas_w_m2k * lumps.wall_m2 * (at[wall] - at[GAS])
            lost = load.wall_w_m2k * (at[wall] - load.wall_air_c) + load.emissivity * STEFAN_BOLTZMANN * (
                (at[wall] + KELVIN) ** 4 - (load.wall_air_c + KELVIN) ** 4
            )
            share = 0.5 * (1.0 + sign * beside)
            rates[wall] = wall_w * share + out_w[1 + wall] - to_rim - to_gas - lumps.wall_m2 * lost
            rates[RIM] += to_rim
            rates[GAS] += to_gas
        to_gas = load.gas_w_m2k * lumps.rim_m2 * (at[RIM] - at[GAS])
        rates[RIM] -= to_gas + lumps.rim_m2 * load.rim_w_m2k * (at[RIM] - load.wall_air_c)
        rates[GAS] += to_gas
        return rates

    def step(self, state: State, load: Load, dt_s: float) -> State:
        """Return the state after dt_s [s] under a load that stays."""
        part = GAMMA * dt_s
        if self._factor is None or self._factor[0] != part:
            self._factor = part, self.section.factor(part)
        solve, placed = self._factor[1].solve, self.placed(load)
        first = self._stage(state, state, placed, part, solve)
        slope = State((first.field - state.field) / part, (first.lumps - state.lumps) / part)
        rest = dt_s - part
        base = State(state.field + rest * slope.field, state.lumps + rest * slope.lumps)
        guess = State(state.field + dt_s * slope.field, state.lumps + dt_s * slope.lumps)
        return self._stage(base, guess, placed, part, solve)

    def _stage(
        self, base: State, guess: State, placed: Placed, part_s: float, solve: Callable[[Floats], Floats]
    ) -> State:
        """Return Y with heat (Y - base) = part_s (loads(Y) - conduction Y)."""
        held = self.section.heat @ base.field
        for _ in range(MOST_ROUNDS):
            into = self.loads(guess, placed)
            found = State(
                solve(held + part_s * into.field), base.lumps + part_s * into.lumps / self.lumps.heat_j_k
            )
            moved = max(np.abs(found.field - guess.field).max(), np.abs(found.lumps - guess.lumps).max())
            guess = found
            if moved < AGREED_K:
                return guess
        raise ArithmeticError(f"loads did not agree within {MOST_ROUNDS} rounds")
