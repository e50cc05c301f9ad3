"""The smooth line: against circles and arcs of known radius, and unmoved by how the survey lies."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from leanladder.geometry.line import Line, distances, nodes_for, survey_line
from leanladder.geometry.smoothing import pinned, smooth

Floats = NDArray[np.float64]


def circle(radius_m: float, count: int, *, left: bool = True, turn_rad: float = 0.0) -> Floats:
    angle = turn_rad + np.arange(count) / count * 2.0 * np.pi * (1.0 if left else -1.0)
    return np.column_stack([radius_m * np.cos(angle), radius_m * np.sin(angle)])


@settings(max_examples=40)
@given(radius=st.floats(35.0, 1500.0), spacing=st.floats(3.0, 15.0), left=st.booleans())
def test_a_circle_has_its_radius_everywhere(radius: float, spacing: float, left: bool) -> None:
    count = max(16, round(2.0 * np.pi * radius / spacing))
    line = survey_line(circle(radius, count, left=left))
    assert line.net_turns == (1 if left else -1)
    expected = (1.0 if left else -1.0) / radius
    np.testing.assert_allclose(line.curvature_per_m, expected, rtol=0.01)


@given(length=st.floats(200.0, 30_000.0))
def test_the_grid_is_even_and_no_coarser_than_four_metres(length: float) -> None:
    n = nodes_for(length)
    assert n % 4 == 0
    assert length / n <= 4.0


def test_length_is_the_closed_polylines() -> None:
    points = np.array([[0.0, 0.0], [300.0, 0.0], [300.0, 400.0]])
    along, length = distances(points)
    assert length == pytest.approx(300.0 + 400.0 + 500.0)
    np.testing.assert_allclose(along, [0.0, 300.0, 700.0])


def test_the_tightest_radius_of_a_hairpin_is_right(lap_of: Callable[..., Floats]) -> None:
    for radius in (12.0, 25.0, 60.0):
        line = survey_line(lap_of(((300.0, 180.0, radius),), 2.0))
        assert 1.0 / np.abs(line.curvature_per_m).max() == pytest.approx(radius, rel=0.06)


HALF = ((180.0, 60.0, 40.0), (90.0, -50.0, 25.0), (220.0, 110.0, 30.0), (120.0, 60.0, 80.0))


def same(one: Floats, other: Floats, rel: float) -> None:
    np.testing.assert_allclose(one, other, rtol=rel, atol=rel * np.abs(one).max())


def test_the_mirror_image_has_the_opposite_curvature(lap_of: Callable[..., Floats]) -> None:
    points = lap_of(HALF)
    line, mirrored = survey_line(points), survey_line(points * [1.0, -1.0])
    same(line.curvature_per_m, -mirrored.curvature_per_m, 1e-12)
    assert line.net_turns == -mirrored.net_turns


@settings(max_examples=20)
@given(turn=st.floats(-180.0, 180.0), x=st.floats(-1e5, 1e5), y=st.floats(-1e5, 1e5))
def test_turning_or_moving_the_survey_changes_nothing(
    lap_of: Callable[..., Floats], turn: float, x: float, y: float
) -> None:
    points = lap_of(HALF)
    cos, sin = np.cos(np.radians(turn)), np.sin(np.radians(turn))
    moved = points @ np.array([[cos, sin], [-sin, cos]]) + [x, y]
    same(survey_line(points).curvature_per_m, survey_line(moved).curvature_per_m, 1e-5)


def test_riding_it_the_other_way_gives_the_same_line(lap_of: Callable[..., Floats]) -> None:
    points = lap_of(HALF)
    line = survey_line(points)
    other = survey_line(np.vstack([points[:1], points[:0:-1]]))
    same(np.roll(other.curvature_per_m[::-1], 1), -line.curvature_per_m, 1e-6)


def test_an_origin_shifts_the_grid_and_nothing_else(lap_of: Callable[..., Floats]) -> None:
    points = lap_of(HALF)
    line = survey_line(points)
    shifted = survey_line(points, origin_m=100.0 * line.step_m)
    same(np.roll(line.curvature_per_m, -100), shifted.curvature_per_m, 1e-6)
    assert shifted.length_m == line.length_m


def half_of(turns: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """Return a half lap whose last corner makes the turning 180 degrees."""
    rest = 180.0 - sum(turn for _, turn, _ in turns)
    return [*turns, (200.0, rest, 40.0)]


@settings(max_examples=30)
@given(
    turns=st.lists(
        st.tuples(st.floats(60.0, 400.0), st.floats(-50.0, 80.0), st.floats(20.0, 150.0)),
        min_size=1,
        max_size=5,
    )
)
def test_curvature_adds_up_to_the_whole_turn(
    lap_of: Callable[..., Floats], turns: list[tuple[float, float, float]]
) -> None:
    line = survey_line(lap_of(half_of(turns)))
    assert line.net_turns == 1
    total = float(line.curvature_per_m.sum() * line.step_m)
    assert total == pytest.approx(2.0 * np.pi, rel=0.02)
    assert line.whole_turn_rad == pytest.approx(2.0 * np.pi, rel=1e-9)


def scattered(points: Floats, error_m: float, seed: int) -> Floats:
    return points + np.random.default_rng(seed).normal(0.0, error_m, points.shape)


@pytest.mark.parametrize("error_m", [0.1, 0.4, 1.0])
def test_the_likeliest_stiffness_finds_the_surveys_own_error(
    lap_of: Callable[..., Floats], error_m: float
) -> None:
    points = lap_of(((250.0, 90.0, 50.0), (150.0, 90.0, 90.0)))
    found = [survey_line(scattered(points, error_m, seed)).noise_m for seed in range(8)]
    assert np.mean(found) == pytest.approx(error_m, rel=0.12)


def test_a_noisy_straight_does_not_wiggle(lap_of: Callable[..., Floats]) -> None:
    points = lap_of(((500.0, 180.0, 60.0),))
    for seed in range(4):
        line = survey_line(scattered(points, 0.3, seed))
        middle = (line.s_m > 120.0) & (line.s_m < 380.0)
        assert np.abs(line.curvature_per_m[middle]).max() < 1.0 / 400.0


def thinned_straights(points: Floats, line: Line) -> Floats:
    """Return only the points that lie in or just beside a bend, as one draws a circuit by hand."""
    along, _ = distances(points)
    bent = np.abs(np.interp(along, line.s_m, line.curvature_per_m)) > 1.0 / 1000.0
    near = bent | np.roll(bent, 1) | np.roll(bent, -1)
    return points[near]


def test_a_straight_without_points_stays_straight(lap_of: Callable[..., Floats]) -> None:
    points = lap_of(((570.0, 180.0, 45.0),), 13.0)
    drawn = thinned_straights(points, survey_line(points))
    along, length = distances(drawn)
    assert np.diff(np.append(along, length)).max() > 500.0
    line = survey_line(scattered(drawn, 0.3, 1))
    far = np.abs(line.curvature_per_m)
    assert np.sort(far)[: len(far) // 2].max() < 1.0 / 1000.0
    assert 1.0 / far.max() == pytest.approx(45.0, rel=0.15)


def test_only_a_gap_much_longer_than_its_neighbours_is_held_straight() -> None:
    even = circle(300.0, 30)  # 63 m apart all round: a coarse survey of a bend
    along, length = distances(even)
    assert len(pinned(even, along, length)[0]) == len(even)


def test_smoothing_needs_no_order_of_its_points() -> None:
    points = circle(80.0, 60)
    along, length = distances(points)
    shuffled = np.random.default_rng(3).permutation(60)
    one = smooth(points, along, length, 252).points
    other = smooth(points[shuffled], along[shuffled], length, 252).points
    np.testing.assert_allclose(one, other, atol=1e-8)


def test_a_known_error_makes_the_line_stiffer_but_not_further_off(lap_of: Callable[..., Floats]) -> None:
    points = lap_of(HALF)
    noisy = scattered(points, 0.1, 5)
    plain, stiff = survey_line(noisy), survey_line(noisy, error_m=0.2)
    rough = [np.abs(np.diff(line.curvature_per_m, n=2)).sum() for line in (plain, stiff)]
    assert rough[1] < rough[0]
