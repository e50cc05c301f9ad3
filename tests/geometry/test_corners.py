"""The corner rule, on shapes whose corners are known."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from leanladder.geometry.corners import Bend, bend, can_split, find_pieces, merged, split, straightened_m
from leanladder.geometry.line import Line, survey_line
from leanladder.geometry.matching import apart_m

Floats = NDArray[np.float64]
Lap = Callable[..., Floats]


def bends(line: Line) -> list[Bend]:
    return [bend(line, piece) for piece in find_pieces(line)]


def of(points: Floats) -> list[Bend]:
    return bends(survey_line(points))


def sides(found: list[Bend]) -> str:
    return "".join(item.side[0].upper() for item in found)


def test_a_stadium_has_two_half_turns(lap_of: Lap) -> None:
    found = of(lap_of(((400.0, 180.0, 50.0),)))
    assert sides(found) == "LL"
    arc, lap = np.pi * 50.0, 800.0 + 2.0 * np.pi * 50.0
    for item, start in zip(found, (400.0, 800.0 + arc), strict=True):
        assert item.turn_deg == pytest.approx(180.0, abs=4.0)
        assert item.radius_m == pytest.approx(50.0, rel=0.06)
        assert apart_m(item.start_m, start, lap) < 8.0
        assert apart_m(item.end_m, (start + arc) % lap, lap) < 8.0
        assert apart_m(item.apex_m, start + arc / 2.0, lap) < 70.0


def figure_of_eight(radius_m: float = 80.0) -> Floats:
    """Two circles joined by their crossing tangents, ridden one left and one right."""
    reach = 3.0 * radius_m
    tangent = np.sqrt(reach**2 - radius_m**2)
    opening = np.arccos(radius_m / reach)
    angles = np.linspace(-(np.pi - opening), np.pi - opening, 120)
    loop = np.column_stack([reach + radius_m * np.cos(angles), radius_m * np.sin(angles)])
    ramp = np.linspace(0.0, 1.0, round(2 * tangent / 5.0))[1:-1, None]
    across = loop[-1] + ramp * (-loop[-1] * [1.0, 1.0] - loop[-1])
    other = loop * [-1.0, 1.0]
    back = other[-1] + ramp * (loop[0] - other[-1])
    return np.vstack([loop, across, other, back])


def test_the_figure_of_eight_turns_both_ways_and_not_round() -> None:
    line = survey_line(figure_of_eight())
    assert line.net_turns == 0
    found = bends(line)
    assert sorted(item.side for item in found) == ["left", "right"]
    for item in found:
        assert item.radius_m == pytest.approx(80.0, rel=0.05)
        assert item.turn_deg == pytest.approx(2.0 * np.degrees(np.pi - np.arccos(1.0 / 3.0)), abs=6.0)


def test_a_chicane_is_two_corners(lap_of: Lap) -> None:
    found = of(lap_of(((300.0, 35.0, 30.0), (10.0, -35.0, 30.0), (300.0, 180.0, 60.0))))
    assert sides(found) == "LRL" * 2


def double_apex(apart_m: float) -> tuple[tuple[float, float, float], ...]:
    """Two tight parts of one side with something flatter between, then back round."""
    between = np.degrees(apart_m / 60.0)
    return (
        (300.0, 50.0, 25.0),
        (0.0, between, 60.0),
        (0.0, 50.0, 25.0),
        (300.0, 80.0 - between, 60.0),
    )


def test_a_double_apex_is_one_corner_while_the_line_does_not_open(lap_of: Lap) -> None:
    assert sides(of(lap_of(double_apex(40.0)))) == "LL" * 2


def test_a_straight_between_two_apexes_makes_two(lap_of: Lap) -> None:
    half = ((300.0, 50.0, 25.0), (60.0, 50.0, 25.0), (300.0, 80.0, 60.0))
    assert sides(of(lap_of(half))) == "LLL" * 2


def test_a_few_metres_straight_between_two_apexes_leave_one(lap_of: Lap) -> None:
    half = ((300.0, 50.0, 25.0), (8.0, 50.0, 25.0), (300.0, 80.0, 60.0))
    assert sides(of(lap_of(half))) == "LL" * 2


def kinked(turn_deg: float, radius_m: float, straight_m: float) -> tuple[tuple[float, float, float], ...]:
    """A kink on a straight; all else turns left."""
    return ((straight_m, -turn_deg, radius_m), (straight_m, 180.0 + turn_deg, 30.0))


@pytest.mark.parametrize(
    ("turn_deg", "radius_m", "straight_m", "counts"),
    [
        (26.0, 150.0, 300.0, True),  # 20 degrees and more, under 200 m
        (12.0, 30.0, 60.0, False),  # small, tight and slow: the road is wide enough to straighten it
        (35.0, 500.0, 700.0, True),  # over 200 m, but at 60 m/s it needs 36 degrees of lean
        (4.0, 400.0, 700.0, False),  # ridden straight
        (30.0, 2500.0, 1500.0, False),  # 8 degrees of lean at 60 m/s
    ],
)
def test_what_counts_as_a_corner(
    lap_of: Lap, turn_deg: float, radius_m: float, straight_m: float, counts: bool
) -> None:
    found = of(lap_of(kinked(turn_deg, radius_m, straight_m)))
    assert sides(found) == ("RL" if counts else "L") * 2


def test_the_lean_a_kink_needs_is_that_of_its_widest_arc() -> None:
    # Right triangle: an arc that touches both straights and passes 4 m outside the corner's own
    # middle has a radius larger by 4 m / (1 - cos(half the turn)).
    assert straightened_m(100.0, 60.0) == pytest.approx(100.0 + 4.0 / (1.0 - np.cos(np.radians(30.0))))
    assert straightened_m(100.0, 180.0) == pytest.approx(104.0)


HALF = (
    (180.0, 60.0, 40.0),
    (90.0, -50.0, 25.0),
    (220.0, 110.0, 30.0),
    (70.0, -40.0, 60.0),
    (120.0, 100.0, 80.0),
)


def assert_same(one: Bend, other: Bend, rel: float) -> None:
    for name in ("start_m", "apex_m", "end_m", "radius_m", "turn_deg"):
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=rel, abs=1e-9)


def test_the_mirror_image_has_the_same_corners_with_sides_swapped(lap_of: Lap) -> None:
    points = lap_of(HALF)
    found, mirrored = of(points), of(points * [1.0, -1.0])
    assert sides(mirrored) == sides(found).translate(str.maketrans("LR", "RL"))
    for one, other in zip(found, mirrored, strict=True):
        assert_same(one, other, 1e-9)


def test_ridden_backwards_the_same_corners_come_in_reverse_order(lap_of: Lap) -> None:
    points = lap_of(HALF)
    line = survey_line(points)
    found = bends(line)
    back = of(np.vstack([points[:1], points[:0:-1]]))[::-1]
    assert sides(back) == sides(found).translate(str.maketrans("LR", "RL"))
    for one, other in zip(found, back, strict=True):
        assert other.turn_deg == pytest.approx(one.turn_deg, abs=0.5)
        assert other.radius_m == pytest.approx(one.radius_m, rel=1e-4)
        assert other.start_m == pytest.approx(line.length_m - one.end_m, abs=2.1 * line.step_m)


@settings(max_examples=40)
@given(
    turns=st.lists(
        st.tuples(st.floats(80.0, 300.0), st.sampled_from([-80.0, -55.0, -30.0, 30.0, 55.0, 80.0])),
        min_size=1,
        max_size=4,
    ),
    radius=st.floats(15.0, 110.0),
)
def test_every_clear_corner_is_found_once(
    lap_of: Lap, turns: list[tuple[float, float]], radius: float
) -> None:
    whole = [(straight, turn, radius) for straight, turn in turns]
    rest = 180.0 - sum(turn for _, turn, _ in whole)
    found = of(lap_of([*whole, (150.0, rest, 40.0)] if abs(rest) > 25.0 else [*whole, (150.0, rest, 400.0)]))
    expected = [turn for _, turn, _ in whole] + ([rest] if abs(rest) > 25.0 else [])
    wanted = "".join("L" if turn > 0 else "R" for turn in expected) * 2
    clear = abs(rest) > 25.0 or abs(rest) < 1e-9
    if clear:
        assert sides(found) == wanted
        for item, turn in zip(found, expected * 2, strict=True):
            assert item.turn_deg == pytest.approx(abs(turn), abs=4.0)


@settings(max_examples=20)
@given(shift=st.integers(0, 140))
def test_where_the_survey_starts_only_shifts_the_distances(lap_of: Lap, shift: int) -> None:
    points = lap_of(HALF)
    found = of(points)
    moved = of(np.roll(points, -shift, axis=0))
    assert sorted(item.side for item in moved) == sorted(item.side for item in found)
    assert sorted(item.turn_deg for item in moved) == pytest.approx(
        sorted(item.turn_deg for item in found), abs=1.5
    )


def test_a_circle_is_one_corner_all_round() -> None:
    angle = np.arange(160) / 160 * 2.0 * np.pi
    found = of(np.column_stack([60.0 * np.cos(angle), 60.0 * np.sin(angle)]))
    assert sides(found) == "L"
    assert found[0].turn_deg == pytest.approx(360.0, abs=3.0)


def test_pieces_can_be_split_and_merged_again(lap_of: Lap) -> None:
    line = survey_line(lap_of(((400.0, 180.0, 50.0),)))
    piece = find_pieces(line)[0]
    middle = bend(line, piece).apex_m
    assert can_split(line, piece, middle)
    assert not can_split(line, piece, 10.0)
    parts = split(line, piece, middle)
    turns = [bend(line, part).turn_deg for part in parts]
    assert sum(turns) == pytest.approx(bend(line, piece).turn_deg, rel=1e-9)
    assert merged(line, parts, 0.0) == piece
