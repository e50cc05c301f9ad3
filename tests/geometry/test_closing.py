"""One lap out of points as they come."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from leanladder.geometry.closing import close

Floats = NDArray[np.float64]


def round_track(laps: float, radius_m: float = 100.0, step_m: float = 8.0, drift_m: float = 0.0) -> Floats:
    count = round(laps * 2.0 * np.pi * radius_m / step_m)
    angle = np.linspace(0.0, laps * 2.0 * np.pi, count)
    away = radius_m + np.linspace(0.0, drift_m, count)
    return np.column_stack([away * np.cos(angle), away * np.sin(angle)])


def length_of(points: Floats) -> float:
    step = np.diff(np.vstack([points, points[:1]]), axis=0)
    return float(np.hypot(step[:, 0], step[:, 1]).sum())


def test_a_repeated_first_point_is_dropped() -> None:
    lap = close(round_track(1.0))
    assert lap.gap_m == 0.0
    assert lap.laps == 1.0
    assert len(lap.points) == len(round_track(1.0)) - 1


def test_repeated_points_are_dropped_and_rows_remembered() -> None:
    points = np.repeat(round_track(1.0), 3, axis=0)
    lap = close(points)
    np.testing.assert_array_equal(points[lap.index], lap.points)
    assert len(lap.points) == len(round_track(1.0)) - 1


@pytest.mark.parametrize("laps", [1.03, 1.5, 2.0, 2.4, 5.0])
def test_a_track_past_its_start_is_cut_to_its_first_lap(laps: float) -> None:
    lap = close(round_track(laps, drift_m=6.0))
    assert length_of(lap.points) == pytest.approx(2.0 * np.pi * 100.0, rel=0.04)
    assert lap.laps == pytest.approx(laps, rel=0.05)


def test_a_gap_is_closed_and_told() -> None:
    points = round_track(1.0)[:-7]
    lap = close(points)
    assert len(lap.points) == len(points)
    assert lap.gap_m == pytest.approx(55.0, abs=5.0)


def test_few_points_are_closed_by_a_side_as_long_as_the_others() -> None:
    lap = close(np.array([[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]]))
    assert lap.gap_m == 300.0


def test_a_crossing_is_no_lap() -> None:
    angle = np.linspace(0.0, 2.0 * np.pi, 200)[:-1]
    eight = np.column_stack([200.0 * np.sin(angle), 100.0 * np.sin(2.0 * angle)])
    assert len(close(eight).points) == 199


def test_a_way_back_beside_the_start_is_no_lap() -> None:
    there = np.column_stack([np.arange(0.0, 500.0, 5.0), np.zeros(100)])
    angle = np.linspace(-np.pi / 2.0, np.pi / 2.0, 10)
    bend = np.column_stack([500.0 + 8.0 * np.cos(angle), 8.0 + 8.0 * np.sin(angle)])
    back = np.add(there[::-1], [0.0, 16.0])
    end = -(bend - [500.0, 8.0]) + [0.0, 8.0]
    lap = close(np.vstack([there[20:], bend, back, end, there[:20]]))
    assert length_of(lap.points) == pytest.approx(1000.0 + 2.0 * np.pi * 8.0, abs=15.0)


@pytest.mark.parametrize(
    ("points", "word"),
    [
        (np.zeros((1, 2)), "few"),
        (np.zeros((50, 2)), "few"),
        (np.array([[0.0, 0.0], [300.0, 0.0]]), "few"),
        (round_track(1.0, radius_m=20.0), "short"),
        (round_track(1.0)[:-18], "open"),
        (round_track(0.5), "route"),
        (np.column_stack([np.arange(0.0, 500.0, 5.0), np.zeros(100)]), "route"),
    ],
)
def test_what_is_no_lap_is_named(points: Floats, word: str) -> None:
    with pytest.raises(ValueError, match=word):
        close(points)
