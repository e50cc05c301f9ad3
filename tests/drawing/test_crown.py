"""The crown: which side is down, how warm it looks, and where the rider stands."""

from __future__ import annotations

import re
from itertools import pairwise
from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Side
from leanladder.domain.ladder import Rubber
from leanladder.domain.why import RibReading
from leanladder.drawing import CrownWords, Name, Standing, Strip, crown, half_crown_deg, ribs, thirds
from leanladder.drawing.hatch import step_of

NAME = Name("Front tyre", "front")
WORDS = CrownWords("Front", "stands here", "left 18, centre 23, right 27 °C")
HALF = 55.0
RADIUS = 104.0
STROKE = re.compile(
    r'<path d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)" fill="none" stroke="#422740" stroke-width="([\d.]+)"'
)
LEANS = st.floats(0, 54)
SIDES = st.sampled_from(("left", "right"))


def rubber(left: float, centre: float, right: float) -> Rubber:
    return Rubber(left, centre, right, left, centre, right, centre)


def drawn(strips: tuple[Strip, ...], side: Side = "left", lean: float = 22.0, patch: float = 10.0) -> str:
    return crown(Standing(strips, side, lean, patch), WORDS, NAME, radius=RADIUS)


def ink(svg: str) -> float:
    """The ink of strokes across the tread [px2]."""
    strokes = [tuple(map(float, told)) for told in STROKE.findall(svg)]
    return sum(pen * hypot(x2 - x1, y2 - y1) for x1, y1, x2, y2, pen in strokes)


def mark_at(svg: str) -> float:
    found = re.search(r'<path d="M([\d.]+) [\d.]+l7 11h-14z"', svg)
    assert found
    return float(found[1])


def bracket(svg: str) -> tuple[float, float]:
    found = re.search(r'<path d="M([\d.]+) [\d.]+v5H([\d.]+)v-5"', svg)
    assert found
    return float(found[1]), float(found[2])


@given(warm=st.floats(-5, 80), side=SIDES, lean=LEANS)
def test_ink_covers_the_share_of_its_step(warm: float, side: Side, lean: float) -> None:
    svg = drawn(thirds(rubber(warm, warm, warm), HALF), side, lean)
    # The ring between the outer radius and 0.29 of it inside, over the crown's angle.
    area = radians(2 * HALF) * RADIUS**2 * (1 - 0.71**2) / 2
    assert ink(svg) / area == pytest.approx(step_of(warm).cover, abs=0.01)


@given(side=SIDES, lean=LEANS)
def test_the_lowest_point_of_the_arc_is_the_lean_and_the_mark_is_below_it(side: Side, lean: float) -> None:
    svg = drawn(thirds(rubber(18, 23, 27), HALF), side, lean)
    assert mark_at(svg) == pytest.approx(RADIUS * 1.16, abs=0.01)
    left, right = bracket(svg)
    assert left <= mark_at(svg) <= right


@pytest.mark.parametrize(("side", "way"), [("left", -1), ("right", 1)])
def test_the_motorcycle_leans_to_its_side_by_its_lean(side: Side, way: int) -> None:
    svg = drawn(thirds(rubber(18, 23, 27), HALF), side, 30.0)
    found = re.search(
        r'<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)" fill="none" stroke="#1D1620" stroke-width="2.5" '
        r'stroke-linecap="butt" stroke-linejoin="round"/><path d="[^"]+" fill="none" stroke="#1D1620" '
        r'stroke-width="5"',
        svg,
    )
    assert found
    x1, y1, x2, y2 = map(float, found.groups())
    length = hypot(x2 - x1, y2 - y1)
    assert (x2 - x1) / length == pytest.approx(way * sin(radians(30)), abs=0.01)
    assert (y1 - y2) / length == pytest.approx(cos(radians(30)), abs=0.01)


@pytest.mark.parametrize(("side", "bold"), [("left", "18"), ("right", "27")])
def test_the_figure_under_the_load_is_bold(side: Side, bold: str) -> None:
    svg = drawn(thirds(rubber(18, 23, 27), HALF), side, 45.0, 8.0)
    figures = re.findall(r'font-weight="(\d+)"[^>]*>(\d+)</text>', svg)
    assert [words for weight, words in figures if weight == "700"] == [bold]
    assert sorted(words for _, words in figures) == ["18", "23", "27"]


def test_the_patch_ends_where_the_tread_does() -> None:
    svg = drawn(thirds(rubber(18, 23, 27), HALF), "left", HALF, 14.0)
    assert bracket(svg)[0] == pytest.approx(mark_at(svg), abs=0.01)


def test_leant_past_the_tread_it_stands_on_its_edge() -> None:
    svg = drawn(thirds(rubber(18, 23, 27), 40.0), "right", 50.0, 10.0)
    assert mark_at(svg) < RADIUS * 1.16
    assert bracket(svg)[1] == pytest.approx(mark_at(svg), abs=0.5)


def test_past_its_range_strokes_cross() -> None:
    cold = drawn(thirds(rubber(62, 82, 99), HALF))
    hot = drawn(thirds(rubber(62, 82, 99), HALF, hot_from_c=90.0))
    along = r'<path d="M[^"]*A[^"]*" fill="none" stroke="#422740"'
    assert len(re.findall(along, cold)) == 0
    assert len(re.findall(along, hot)) == 1


def test_thirds_interpolate_nothing() -> None:
    strips = thirds(rubber(18, 23, 27), 54.0)
    assert [(strip.from_deg, strip.to_deg, strip.rubber_c) for strip in strips] == [
        (-54.0, -18.0, 18),
        (-18.0, 18.0, 23),
        (18.0, 54.0, 27),
    ]


def readings(count: int) -> tuple[RibReading, ...]:
    each = 2 * HALF / count
    return tuple(
        RibReading((index + 0.5) * each - HALF, 0.0, 12.0 + 2 * index, 0.0, 0.0) for index in range(count)
    )


@pytest.mark.parametrize("count", [3, 11, 18])
def test_ribs_lie_side_by_side_from_edge_to_edge(count: int) -> None:
    strips = ribs(readings(count))
    assert strips[0].from_deg == pytest.approx(-HALF)
    assert strips[-1].to_deg == pytest.approx(HALF)
    assert all(one.to_deg == pytest.approx(other.from_deg) for one, other in pairwise(strips))


def test_figures_of_many_ribs_stand_apart() -> None:
    svg = drawn(ribs(readings(18)))
    places = [
        (float(x), float(y))
        for x, y in re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*font-size="13"[^>]*>\d+</text>', svg)
    ]
    assert len(places) >= 4
    for index, (x, y) in enumerate(places):
        assert all((x - a) ** 2 + (y - b) ** 2 >= 18.9**2 for a, b in places[index + 1 :])


def test_a_crown_has_two_ribs_or_more() -> None:
    with pytest.raises(ValueError, match="two ribs"):
        ribs(readings(1))


def test_a_readers_unit_is_written() -> None:
    strips = thirds(rubber(10, 20, 30), HALF, worded=lambda rubber_c: f"{rubber_c * 1.8 + 32:.0f}")
    assert [strip.words for strip in strips] == ["50", "68", "86"]


def test_half_a_crown_is_its_arc_over_its_radius() -> None:
    # An arc of radius r and length r * pi / 2 is a right angle.
    assert half_crown_deg(3.14159265, 1.0) == pytest.approx(90.0)
