"""The lap as points: over the line, from the pit exit, arrivals."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from leanladder.domain.circuit import Circuit
from leanladder.planning.course import LOOK_AHEAD_M, Course, course

Started = Callable[[Circuit, float], Circuit]
ARRIVAL_M = 50.0


def in_corner(circuit: Circuit, at_m: float) -> int:
    """The corner at a distance on the lap, -1 for none, in plain words."""
    for index, corner in enumerate(circuit.corners):
        if (at_m - corner.start_m) % circuit.length_m <= (corner.end_m - corner.start_m) % circuit.length_m:
            return index
    return -1


def agrees(circuit: Circuit, way: Course) -> None:
    """Check each point's corner against the distances themselves, but for a point at a corner's very end."""
    for point, index in zip(way.points, way.corner_of, strict=True):
        at_m = float(point * way.step_m)
        assert index == in_corner(circuit, at_m) or any(
            min(abs(at_m - edge) % circuit.length_m, -abs(at_m - edge) % circuit.length_m) <= way.step_m
            for corner in circuit.corners
            for edge in (corner.start_m, corner.end_m)
        )


def test_a_whole_lap_ends_where_it_began_and_looks_ahead(demo_circuit: Circuit) -> None:
    way = course(demo_circuit, 0.0, ARRIVAL_M)
    count = demo_circuit.s_m.size
    assert way.lap_steps == count
    assert way.points[0] == way.points[count] == 0
    assert way.step_m * count == pytest.approx(demo_circuit.length_m)
    assert (way.points.size - count) * way.step_m >= LOOK_AHEAD_M
    assert np.array_equal(
        way.curvature_per_m[count:], demo_circuit.curvature_per_m[: way.points.size - count]
    )
    assert way.ridden == tuple(range(len(demo_circuit.corners)))
    agrees(demo_circuit, way)


def test_a_short_circuit_looks_ahead_one_lap_at_most(demo_circuit: Circuit) -> None:
    short = replace(demo_circuit, length_m=300.0, corners=())
    assert course(short, 0.0, ARRIVAL_M).points.size == 2 * demo_circuit.s_m.size


def test_arrivals_lie_50_m_before_the_turn(demo_circuit: Circuit) -> None:
    way = course(demo_circuit, 0.0, ARRIVAL_M)
    for corner, arrival in zip(demo_circuit.corners, way.arrivals, strict=True):
        before_m = corner.start_m - arrival * way.step_m
        assert ARRIVAL_M <= before_m < ARRIVAL_M + way.step_m


def test_from_the_pit_exit_passed_corners_are_not_ridden(demo_circuit: Circuit) -> None:
    third = demo_circuit.corners[2]
    exit_m = third.end_m + 20.0
    way = course(demo_circuit, exit_m, ARRIVAL_M)
    assert way.start_m == pytest.approx(exit_m, abs=0.5 * way.step_m)
    assert way.ridden == tuple(range(3, len(demo_circuit.corners)))
    assert way.lap_steps + way.points[0] == demo_circuit.s_m.size
    assert way.points[way.lap_steps] == 0
    for index in way.ridden:
        corner = demo_circuit.corners[index]
        assert way.start_m + way.arrivals[index] * way.step_m == pytest.approx(
            corner.start_m - ARRIVAL_M, abs=way.step_m
        )
        start, stop = way.ranges[index]
        assert np.all(way.corner_of[start:stop] == index)
    agrees(demo_circuit, way)


def test_a_pit_exit_close_before_a_corner_arrives_at_once(demo_circuit: Circuit) -> None:
    first = demo_circuit.corners[0]
    way = course(demo_circuit, first.start_m - 20.0, ARRIVAL_M)
    assert way.arrivals[0] == 0
    assert way.ridden[0] == 0


def test_a_pit_exit_past_an_apex_leaves_that_corner_to_the_next_lap(demo_circuit: Circuit) -> None:
    first = demo_circuit.corners[0]
    assert 0 not in course(demo_circuit, first.apex_m + 10.0, ARRIVAL_M).ridden


def test_a_corner_over_the_line(demo_circuit: Circuit, started_at: Started) -> None:
    first = demo_circuit.corners[0]
    circuit = started_at(demo_circuit, 0.5 * (first.start_m + first.apex_m))
    over = circuit.corners[0]
    assert over.end_m < over.start_m
    way = course(circuit, 0.0, ARRIVAL_M)
    agrees(circuit, way)
    # its beginning of the lap was begun on the lap before; the rest of it lies beyond the line
    assert way.corner_of[0] == 0
    assert way.carried[0]
    assert not way.carried[way.lap_steps - 1 :].any()
    start, stop = way.ranges[0]
    assert start < way.lap_steps < stop
    assert np.all(way.corner_of[start:stop] == 0)
    assert (way.lap_steps - way.arrivals[0]) * way.step_m > ARRIVAL_M
    assert 0 in way.ridden


@pytest.mark.parametrize("part", [0.1, 0.35, 0.6, 0.85])
def test_moving_the_start_line_moves_nothing_else(
    demo_circuit: Circuit, started_at: Started, part: float
) -> None:
    circuit = started_at(demo_circuit, part * demo_circuit.length_m)
    way, before = course(circuit, 0.0, ARRIVAL_M), course(demo_circuit, 0.0, ARRIVAL_M)
    by = round(part * demo_circuit.s_m.size)
    lap = way.lap_steps
    assert np.array_equal(np.roll(before.curvature_per_m[:lap], -by), way.curvature_per_m[:lap])
    assert np.count_nonzero(np.roll(before.corner_of[:lap], -by) != way.corner_of[:lap]) <= 2 * len(
        circuit.corners
    )


def test_slope_and_bank_come_with_the_points(demo_circuit: Circuit) -> None:
    way = course(demo_circuit, 0.0, ARRIVAL_M)
    lap = way.lap_steps
    rise = np.cumsum(way.slope[:lap]) * way.step_m
    assert rise[-1] == pytest.approx(0.0, abs=1e-6)
    assert np.ptp(rise) == pytest.approx(np.ptp(demo_circuit.elevation_m), abs=1.0)
    turning = demo_circuit.curvature_per_m[way.points] < 0.0
    assert np.all(way.bank[turning] * demo_circuit.bank_deg[way.points][turning] <= 0.0)


def test_look_ahead_points_follow_on(demo_circuit: Circuit) -> None:
    way = course(demo_circuit, 1234.0, ARRIVAL_M)
    assert all((after - before) % demo_circuit.s_m.size == 1 for before, after in pairwise(way.points))
