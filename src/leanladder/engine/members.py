"""Heat in the tyres of an ensemble: many members ride one planned lap, each with a tyre and a day of its own.

Members stand innermost, in blocks of WIDTH. Equations are those of tyre_thermal.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine import pool
from leanladder.engine.tyre_thermal import (
    FLOW_COUNT,
    LAYERS,
    OUTER_LAYERS,
    Body,
    Floats,
    Forcing,
    Shares,
    heat_ride,
)

WIDTH = 16  # members in a block


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


def ride_members(
    states: Floats,
    body: Body,
    shares: Shares,
    forcing: Forcing,
    spin_part: Floats,
    differences: Differences,
    marks: NDArray[np.int64],
    threads: int | None = None,
) -> Floats:
    """Return the outer 2 mm's means (blocks, marks, ribs, WIDTH) [degC] at the start of the marked steps.

    Moves states (blocks, n, WIDTH) [degC] on in place. body, shares, forcing and marks as heat_ride takes
    them; spin_part (steps,) [-], the part of bulk_w and of skin_w that is camber spin. threads as each.
    """
    blocks = states.shape[0]
    kept = np.empty((blocks, marks.size, body.ribs, WIDTH))

    def run(block: int) -> None:
        for member in range(WIDTH):
            own = Differences(*(values[block, member : member + 1] for values in differences))
            state = np.ascontiguousarray(states[block, :, member])
            patch, flex = float(own.patch_half_m[0]), float(own.flex_half_m[0])
            tyre = body._replace(patch_half_m=patch, flex_half_m=flex)
            heat_j, load_s = np.zeros(FLOW_COUNT), np.zeros(body.ribs)
            ridden = heat_ride(state, tyre, shares, _forcing(forcing, spin_part, own), marks, heat_j, load_s)
            layers = ridden[:, : LAYERS * body.ribs].reshape(marks.size, LAYERS, body.ribs)
            kept[block, :, :, member] = np.einsum("l,mlr->mr", body.outer_share, layers[:, :OUTER_LAYERS])
            states[block, :, member] = state

    pool.each(run, blocks, threads)
    return kept


def _forcing(forcing: Forcing, spin_part: Floats, own: Differences) -> Forcing:
    """Return what the ride does to one member; own holds its differences, (1,) each."""
    scrubbed = 1.0 + (own.scrub - 1.0) * spin_part
    return forcing._replace(
        contact_m=forcing.contact_m * own.crown,
        rolling_w=forcing.rolling_w * own.loss,
        bulk_w=forcing.bulk_w * scrubbed,
        skin_w=forcing.skin_w * scrubbed,
        road_w_k=forcing.road_w_k * own.contact,
        road_c=forcing.road_c + own.road_k,
        sun_w_m2=forcing.sun_w_m2 * own.sun,
        air_w_m2k=forcing.air_w_m2k * own.air,
        tread_air_c=forcing.tread_air_c + own.air_k,
        wall_air_c=forcing.wall_air_c + own.air_k,
    )
