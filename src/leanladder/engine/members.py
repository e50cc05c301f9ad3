"""Heat in the tyres of an ensemble: many members ride one planned lap, each with a tyre and day of its own.

Members stand innermost, in blocks of WIDTH. Equations are those of tyre_thermal; how they are stepped, and
how near that comes: docs/physics/members.md.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from leanladder.engine import pool, spells
from leanladder.engine.block import ride_block
from leanladder.engine.block_rows import CROWN, LEFT, RECORD, RIBS, ROWS, WALL_NODES, WIDTH
from leanladder.engine.compiled import compiled, inlined
from leanladder.engine.spells import Cut, Places
from leanladder.engine.tyre_thermal import LAYERS, Body, Floats, Forcing, Shares

__all__ = ["RIBS", "WIDTH", "Differences", "in_blocks", "no_differences", "out_of_blocks", "ride_members"]

NODES = LAYERS * RIBS + 4
TOGETHER = 8  # blocks that a thread takes at once: handing one over costs as much as a tenth of a lap


class Differences(NamedTuple):
    """How each member's tyre and surroundings differ from the plan's, (blocks, WIDTH) each.

    crown [-] of the crown radius, on contact_m; patch_half_m, flex_half_m [m] its own half-widths of load and
    bending; loss [-] on rolling_w; scrub [-] on the part of slip heat that is camber spin; contact [-] on
    road_w_k; air [-] on air_w_m2k; road_k [K] added to road_c; air_k [K] added to tread_air_c and
    wall_air_c; sun [-] on sun_w_m2.
    """

    crown: Floats
    patch_half_m: Floats
    flex_half_m: Floats
    loss: Floats
    scrub: Floats
    contact: Floats
    air: Floats
    road_k: Floats
    air_k: Floats
    sun: Floats


def in_blocks(values: Floats) -> Floats:
    """Return values (members, ...) as (blocks, ..., WIDTH), padded by repeating the last member's."""
    spare = -values.shape[0] % WIDTH
    padded = np.concatenate([values, np.repeat(values[-1:], spare, axis=0)])
    split = padded.reshape(-1, WIDTH, *values.shape[1:])
    return np.ascontiguousarray(np.moveaxis(split, 1, -1))


def out_of_blocks(blocks: Floats, count: int) -> Floats:
    """Return blocks (blocks, ..., WIDTH) as (count, ...), members first: what in_blocks does, undone."""
    split = np.moveaxis(blocks, -1, 1)
    return np.ascontiguousarray(split.reshape(-1, *blocks.shape[1:-1])[:count])


def no_differences(body: Body, blocks: int) -> Differences:
    """Return differences of (blocks, WIDTH) members that are all as the plan's own tyre of body."""
    one, none = np.ones((blocks, WIDTH)), np.zeros((blocks, WIDTH))
    patch, flex = body.patch_half_m * one, body.flex_half_m * one
    return Differences(one, patch, flex, one, one, one, one, none, none, one)


@inlined
def _copy(rows: Floats, row: int, values: Floats) -> None:
    for w in range(WIDTH):
        rows[row * WIDTH + w] = values[w]


@inlined
def _copy_back(values: Floats, rows: Floats, row: int) -> None:
    for w in range(WIDTH):
        values[w] = rows[row * WIDTH + w]


@compiled
def _ride_blocks(
    first: int,
    last: int,
    states: Floats,
    kept: Floats,
    cut: Cut,
    body: Body,
    shares: Shares,
    own: Floats,
    crowns: Floats,
    half_m: float,
) -> None:
    """Take blocks first to last - 1 through a ride; own (differences, blocks, WIDTH) as rows want them."""
    ribs, rows = np.zeros((RIBS + 1) * RECORD * WIDTH), np.zeros(ROWS * WIDTH)
    for block in range(first, last):
        for difference in range(own.shape[0]):
            _copy(rows, CROWN + difference, own[difference, block])
        for node in range(LAYERS * RIBS):
            _copy(ribs, (node % RIBS) * RECORD + node // RIBS, states[block, node])
        for node in range(WALL_NODES, NODES):
            _copy(rows, LEFT + node - WALL_NODES, states[block, node])
        ride_block(ribs, rows, kept[block], cut, crowns, half_m, body, shares)
        for node in range(LAYERS * RIBS):
            _copy_back(states[block, node], ribs, (node % RIBS) * RECORD + node // RIBS)
        for node in range(WALL_NODES, NODES):
            _copy_back(states[block, node], rows, LEFT + node - WALL_NODES)


def ride_members(
    states: Floats,
    body: Body,
    shares: Shares,
    forcing: Forcing,
    spin_part: Floats,
    differences: Differences,
    marks: Places,
    threads: int | None = None,
) -> Floats:
    """Return the outer 2 mm's means (blocks, marks, ribs, WIDTH) [degC] at the start of the marked steps.

    Moves states (blocks, n, WIDTH) [degC] on in place. body, shares, forcing and marks as heat_ride takes
    them; spin_part (steps,) [-], the part of bulk_w and of skin_w that is camber spin; threads as pool.each.
    Within some 0.05 K of heat_ride with ever shorter steps: docs/physics/members.md says where. Raises
    ValueError for a body of other than RIBS ribs, or of layers that differ from rib to rib.
    """
    _check(states, body)
    blocks = states.shape[0]
    kept = np.empty((blocks, marks.size, RIBS, WIDTH))
    cut = spells.cut(forcing, spin_part, marks, body, shares)
    rowed = differences._replace(
        patch_half_m=1.0 / differences.patch_half_m, flex_half_m=1.0 / differences.flex_half_m
    )
    own = np.stack(rowed)
    crowns = np.array([differences.crown.min(), differences.crown.max()])
    half_m = float(differences.patch_half_m.max())

    def run(part: int) -> None:
        first, last = part * TOGETHER, min((part + 1) * TOGETHER, blocks)
        _ride_blocks(first, last, states, kept, cut, body, shares, own, crowns, half_m)

    pool.each(run, -(-blocks // TOGETHER), threads)
    return kept


def _check(states: Floats, body: Body) -> None:
    if body.ribs != RIBS:
        raise ValueError(f"members are heated on {RIBS} ribs; this tyre has {body.ribs}")
    layers = body.heat_j_k[: LAYERS * RIBS].reshape(LAYERS, RIBS)
    if np.any(layers != layers[:, :1]):
        raise ValueError("members are heated on layers that store alike in every rib; this tyre's differ")
    if states.shape[1:] != (NODES, WIDTH):
        raise ValueError(f"states must be (blocks, {NODES}, {WIDTH}), not {states.shape}")
