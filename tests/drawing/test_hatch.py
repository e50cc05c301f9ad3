"""Hatching: strokes lean by the cap, and the ink they take rises with the rubber's temperature."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Side
from leanladder.drawing.cell import shoulder
from leanladder.drawing.hatch import LEAST_PEN, STEPS, area, hatching, step_of
from leanladder.drawing.svg import Point

CAPS = st.floats(0, 60)
WARM = st.floats(-10, 90)
SIDES = st.sampled_from(("left", "right"))


def strokes(d: str) -> list[list[Point]]:
    return [
        [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", part)]
        for part in d.split("Z")
        if part
    ]


def end(side: Side, height: float = 46.0) -> list[Point]:
    return shoulder(side, 7.0, 7.0, 82.0, height)


def cover(region: Sequence[Point], d: str) -> float:
    return sum(map(area, strokes(d))) / area(region)


@given(side=SIDES, cap=CAPS, warm=WARM, height=st.sampled_from((30.0, 46.0)))
def test_ink_covers_the_share_of_its_step(side: Side, cap: float, warm: float, height: float) -> None:
    region = end(side, height)
    assert cover(region, hatching(region, side, cap, warm)) == pytest.approx(step_of(warm).cover, abs=0.02)


@given(side=SIDES, cap=CAPS, other=CAPS, colder=WARM, by=st.floats(5.0, 60.0))
def test_warmer_rubber_is_never_lighter(
    side: Side, cap: float, other: float, colder: float, by: float
) -> None:
    region = end(side)
    less = cover(region, hatching(region, side, cap, colder))
    more = cover(region, hatching(region, side, other, colder + by))
    assert more >= less - 0.02
    if step_of(colder) is not step_of(colder + by):
        assert more > less


@given(side=SIDES, cap=CAPS, warm=WARM)
def test_strokes_lean_from_upright_by_the_cap_to_the_side_leaned_to(
    side: Side, cap: float, warm: float
) -> None:
    region = end(side)
    long = 0
    for stroke in strokes(hatching(region, side, cap, warm)):
        (x1, y1), (x2, y2) = max(
            pairwise([*stroke, stroke[0]]),
            key=lambda ends: hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]),
        )
        if hypot(x2 - x1, y2 - y1) < 20:
            continue  # clipped short at the rounded end
        (x1, y1), (x2, y2) = ((x1, y1), (x2, y2)) if y1 > y2 else ((x2, y2), (x1, y1))
        lean = degrees(atan2(x2 - x1, y1 - y2))
        assert lean == pytest.approx(cap if side == "right" else -cap, abs=0.1)
        long += 1
    assert long > 0


@given(cap=CAPS, warm=WARM, hot=st.booleans())
def test_left_is_right_in_a_mirror(cap: float, warm: float, hot: bool) -> None:
    left, right = (
        sorted(
            sorted((round(x if side == "left" else 96.0 - x, 1), round(y, 1)) for x, y in stroke)
            for stroke in strokes(hatching(end(side), side, cap, warm, hot=hot))
        )
        for side in ("left", "right")
    )
    ink = [sum(sum(point) for stroke in strokes_of for point in stroke) for strokes_of in (left, right)]
    assert len(left) == len(right)
    assert ink[0] == pytest.approx(ink[1], rel=2e-3)


@given(side=SIDES, cap=CAPS, warm=WARM, hot=st.booleans())
def test_strokes_stay_inside(side: Side, cap: float, warm: float, hot: bool) -> None:
    region = end(side)
    xs, ys = [x for x, _ in region], [y for _, y in region]
    for stroke in strokes(hatching(region, side, cap, warm, hot=hot)):
        assert all(min(xs) - 0.01 <= x <= max(xs) + 0.01 for x, _ in stroke)
        assert all(min(ys) - 0.01 <= y <= max(ys) + 0.01 for _, y in stroke)


@given(side=SIDES, cap=CAPS, warm=WARM)
def test_too_hot_crosses_and_is_not_denser_than_the_warmest(side: Side, cap: float, warm: float) -> None:
    region = end(side)
    d = hatching(region, side, cap, warm, hot=True)
    assert d == hatching(region, side, cap, warm + 30, hot=True)
    assert cover(region, d) < STEPS[-1].cover
    ways = [
        degrees(atan2(y2 - y1, x2 - x1)) % 180
        for stroke in strokes(d)
        for (x1, y1), (x2, y2) in pairwise([*stroke, stroke[0]])
        if hypot(x2 - x1, y2 - y1) > 12
    ]
    along = (90 + (cap if side == "right" else -cap)) % 180
    off = [min(abs(way - along), 180 - abs(way - along)) for way in ways]
    assert any(turned < 1 for turned in off)
    assert any(turned > 89 for turned in off)


def test_steps_print_evenly_in_one_ink() -> None:
    # CIE 1976 lightness of black strokes on white: L* = 116 Y^(1/3) - 16 (CIE 15:2004).
    lightness = [116 * (1 - step.cover) ** (1 / 3) - 16 for step in STEPS]
    falls = [lighter - darker for lighter, darker in pairwise(lightness)]
    assert min(falls) > 4.0
    assert max(falls) < 8.0


def test_every_pen_prints() -> None:
    # 0.18 mm at 150 to the inch
    assert pytest.approx(0.18 / 25.4 * 150, abs=0.01) == LEAST_PEN
    assert all(step.pen >= LEAST_PEN for step in STEPS)


@pytest.mark.parametrize(
    ("rubber_c", "index"), [(-20, 0), (9.99, 0), (10, 1), (14.9, 1), (44.9, 7), (45, 8), (120, 8)]
)
def test_steps_begin_where_the_legend_says(rubber_c: float, index: int) -> None:
    assert step_of(rubber_c) is STEPS[index]
