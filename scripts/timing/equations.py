"""One tyre's heat as a solver of others wants it: dy/dt from t and y, compiled, and cheap to call.

The engine's own rates, with the tyre's figures in one array and its forcing in another, since handing wide
tuples to compiled code costs more than the work. Nodes go rib by rib, so that the Jacobian is a band but for
walls, rim and gas.
"""

from __future__ import annotations

from typing import NamedTuple

import numba
import numpy as np
from numpy.typing import NDArray
from scripts.timing.trace import Lap, Tyre

from leanladder.engine.tyre_thermal import (
    FLOW_COUNT,
    LAYERS,
    OUTER_LAYERS,
    Body,
    Forcing,
    Shares,
    _rates,
    spread_weights,
)
from leanladder.planning.rubber import NODES, RIBS

Floats = NDArray[np.float64]

WALLS = LAYERS * RIBS
# Left wall, the ribs from left to right with their layers, right wall, rim, gas.
ORDER = np.concatenate(
    [[WALLS], np.arange(WALLS).reshape(LAYERS, RIBS).T.ravel(), np.arange(WALLS + 1, NODES)]
)
BAND = LAYERS
TIME = 0  # column of the forcing's table; the Forcing's fields follow it, dt_s not counted
FORCED = len(Forcing._fields) - 1

# Where a Body's fields stand in the array of figures.
LAYER_W, LINER = 5, 4 + LAYERS
ACROSS, WALL_W = LINER + 1, LINER + 1 + LAYERS
HEAT = WALL_W + 2
RIB_M2 = HEAT + NODES
DEPTH = RIB_M2 + 3
OUTER = DEPTH + LAYERS
SHARES = OUTER + OUTER_LAYERS


class Problem(NamedTuple):
    """One lap of one tyre: figures and table as derivative takes them, start (n,), times [s].

    arrivals and the lap's end are where it is read.
    """

    figures: Floats
    table: Floats
    start: Floats
    times: Floats


def figures(tyre: Tyre) -> Floats:
    """Return body and shares in one array."""
    return np.concatenate([np.ravel(value) for value in (*tyre.body[1:], *tyre.shares)])


def table(lap: Lap, *, held: bool) -> Floats:
    """Return the forcing at the steps' ends, a row of time and forcing each: in between it is linear.

    held: as the engine has it, each row's forcing kept until the next.
    """
    steps = np.column_stack(lap.forcing[1:])
    middles = steps[1:] if held else 0.5 * (steps[1:] + steps[:-1])
    ends = np.concatenate([steps[:1], middles, steps[-1:]])
    return np.column_stack([np.concatenate([[0.0], np.cumsum(lap.forcing.dt_s)]), ends])


def problem(tyre: Tyre, lap: Lap, state: Floats, *, held: bool = False) -> Problem:
    """Return a lap that begins at state (n,) [degC], its forcing held through each step or linear."""
    forced = table(lap, held=held)
    times = np.append(forced[lap.marks, TIME], forced[-1, TIME])
    return Problem(figures(tyre), forced, state[ORDER], times)


def in_order(y: Floats) -> Floats:
    """Return states (..., n) in the engine's order of nodes."""
    states = np.empty_like(y)
    states[..., ORDER] = y
    return states


@numba.njit(inline="always", error_model="numpy")
def _body(own: Floats) -> Body:
    return Body(
        RIBS, own[0], own[1], own[2], own[3], own[4], own[LAYER_W:LINER], own[LINER], own[ACROSS:WALL_W],
        own[WALL_W], own[WALL_W + 1], own[HEAT:RIB_M2], own[RIB_M2], own[RIB_M2 + 1], own[RIB_M2 + 2],
        own[DEPTH:OUTER], own[OUTER:SHARES],
    )  # fmt: skip


@numba.njit(inline="always", error_model="numpy")
def _shares(own: Floats) -> Shares:
    at = own[SHARES:]
    return Shares(at[0], at[1], at[2], at[3], at[4], at[5], at[6], at[7], at[8])


@numba.njit(nogil=True, error_model="numpy")
def derivative(t: float, y: Floats, out: Floats, own: Floats, forced: Floats, held: bool) -> None:
    """Fill out (n,) [K/s] at t [s] and y (n,) [degC]; held: the forcing keeps a step's first row."""
    row = min(max(np.searchsorted(forced[:, TIME], t, "right") - 1, 0), forced.shape[0] - 2)
    part = (t - forced[row, TIME]) / (forced[row + 1, TIME] - forced[row, TIME])
    now = np.empty((FORCED + 1, 1))
    for field in range(1, FORCED + 1):
        moved = 0.0 if held else part * (forced[row + 1, field] - forced[row, field])
        now[field, 0] = forced[row, field] + moved
    forcing = Forcing(
        now[0], now[1], now[2], now[3], now[4], now[5], now[6], now[7], now[8], now[9], now[10], now[11]
    )
    body, shares = _body(own), _shares(own)
    work = np.empty((2, NODES))
    weights, flows = np.empty((2, RIBS)), np.empty(FLOW_COUNT)
    state, rate, load, flex = work[0], work[1], weights[0], weights[1]
    spread_weights(load, now[1, 0], body.patch_half_m, body.rib_m, body.half_arc_m)
    spread_weights(flex, now[1, 0], body.flex_half_m, body.rib_m, body.half_arc_m)
    for node in range(NODES):
        state[ORDER[node]] = y[node]
    _rates(state, rate, flows, load, flex, body, shares, forcing, 0)
    for node in range(NODES):
        out[node] = rate[ORDER[node]] / own[HEAT + ORDER[node]]


@numba.njit(nogil=True, error_model="numpy")
def derivatives(t: float, y: Floats, out: Floats, own: Floats, forced: Floats) -> None:
    """Fill out (members x n,) [K/s] for members one behind the other, own (members, figures)."""
    for member in range(own.shape[0]):
        first = member * NODES
        derivative(t, y[first : first + NODES], out[first : first + NODES], own[member], forced, False)
