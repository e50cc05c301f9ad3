"""Fans and planks: what is black, which side is round, and that left is right in a mirror."""

from __future__ import annotations

import re
from itertools import pairwise
from math import atan2, degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Side
from leanladder.drawing import Inks, fan, plank

PATH = re.compile(r'<path d="([^"]+)"([^>]*)/>')
TOKEN = re.compile(r"([MLHVAZ])([^MLHVAZ]*)")


def width_of(svg: str) -> float:
    found = re.search(r'width="([\d.]+)"', svg)
    assert found
    return float(found[1])


def mirrored(d: str, width: float) -> list[tuple[str, tuple[float, ...]]]:
    """A path's commands as seen in a mirror that stands upright."""
    found: list[tuple[str, tuple[float, ...]]] = []
    for command, rest in TOKEN.findall(d):
        values = [float(value) for value in rest.split()]
        if command in "ML":
            values[0] = width - values[0]
        elif command == "H":
            values = [width - values[0]]
        elif command == "A":
            values[4], values[5] = 1 - values[4], width - values[5]
        found.append((command, tuple(values)))
    return found


def plain(d: str) -> list[tuple[str, tuple[float, ...]]]:
    return [(command, tuple(map(float, rest.split()))) for command, rest in TOKEN.findall(d)]


def assert_mirrored(left: str, right: str) -> None:
    width = width_of(right)
    pairs = zip(PATH.findall(left), PATH.findall(right), strict=True)
    for (left_d, left_style), (right_d, right_style) in pairs:
        assert left_style == right_style
        for (a, at), (b, bt) in zip(plain(left_d), mirrored(right_d, width), strict=True):
            assert a == b
            assert at == pytest.approx(bt, abs=0.021)


@given(quarters=st.integers(0, 4), radius=st.floats(10, 200))
def test_a_left_fan_is_a_right_fan_in_a_mirror(quarters: int, radius: float) -> None:
    assert_mirrored(fan("left", quarters, radius=radius), fan("right", quarters, radius=radius))


@given(height=st.floats(10, 100), figure=st.integers(1, 30), chosen=st.booleans())
def test_a_left_plank_is_a_right_plank_in_a_mirror(height: float, figure: int, chosen: bool) -> None:
    left, right = (plank(figure, side, height=height, chosen=chosen) for side in ("left", "right"))
    assert_mirrored(left, right)


@pytest.mark.parametrize("quarters", range(5))
@pytest.mark.parametrize("side", ["left", "right"])
def test_as_many_black_wedges_as_quarters_from_the_post(side: Side, quarters: int) -> None:
    svg = fan(side, quarters, inks=Inks("#123456", "#ffffff"))
    black = [plain(d) for d, style in PATH.findall(svg) if 'fill="#123456"' in style]
    assert len(black) == quarters
    way = -1 if side == "left" else 1
    turned = []
    for commands in black:
        (_, foot), (_, first), (_, arc) = commands[0], commands[1], commands[2]
        last = arc[5], arc[6]
        for x, y in ((first[0], first[1]), last):
            turned.append(degrees(atan2(way * (x - foot[0]), foot[1] - y)))
    edges = sorted({round(angle, 1) for angle in turned})
    assert edges == pytest.approx(
        [22.5 * index for index in range(quarters + 1)] if quarters else [], abs=0.2
    )


@pytest.mark.parametrize("quarters", [-1, 5])
def test_there_are_four_quarters(quarters: int) -> None:
    with pytest.raises(ValueError, match="0 to 4"):
        fan("left", quarters)


def test_fuller_fans_bear_more_ink() -> None:
    black = [fan("left", quarters).count('fill="#000"') for quarters in range(5)]
    assert all(less < more for less, more in pairwise(black))


@pytest.mark.parametrize(("side", "round_at"), [("left", 0.3), ("right", 0.7)])
def test_the_round_end_is_the_side_leaned_to_and_the_number_stands_at_the_other(
    side: Side, round_at: float
) -> None:
    svg = plank(7, side)
    width = width_of(svg)
    arc = next(values for command, values in plain(PATH.findall(svg)[0][0]) if command == "A")
    assert (arc[5] < width / 2) == (round_at < 0.5)
    at = re.search(r'<text x="([\d.]+)"', svg)
    assert at
    assert (float(at[1]) > width / 2) == (side == "left")
    assert ">7</text>" in svg
