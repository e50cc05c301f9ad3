"""Grip's curve: marks lie on it where they are, and words find room."""

from __future__ import annotations

import re

import pytest

from leanladder.drawing import Axis, Name, Now, Plot, curve

NAME = Name("Grip", "g")
PLOT = Plot(Axis("rubber, °C", 0, 100), Axis("grip", 0, 1.5))
ALONG = [(float(warm), 0.6 + 0.006 * warm) for warm in range(0, 101, 10)]


def now(rubber_c: float) -> Now:
    return Now(rubber_c, 0.6 + 0.006 * rubber_c, f"front {rubber_c:.0f}", "front", "left")


def mark_at(svg: str) -> tuple[float, float]:
    found = re.search(r'transform="translate\(([\d.]+) ([\d.]+)\)"', svg)
    assert found
    return float(found[1]), float(found[2])


def curve_of(svg: str) -> list[tuple[float, float]]:
    found = re.search(r'<path d="(M[^"]+)" fill="none" stroke="#1D1620" stroke-width="2.6"', svg)
    assert found
    return [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", found[1])]


@pytest.mark.parametrize("rubber_c", [0.0, 30.0, 100.0])
def test_a_mark_lies_on_the_curve(rubber_c: float) -> None:
    svg = curve(PLOT, ALONG, [now(rubber_c)], NAME)
    assert mark_at(svg) == pytest.approx(curve_of(svg)[int(rubber_c / 10)], abs=0.02)


@pytest.mark.parametrize(("rubber_c", "way"), [(20.0, 1), (95.0, -1)])
def test_words_stand_where_there_is_room(rubber_c: float, way: int) -> None:
    svg = curve(PLOT, ALONG, [now(rubber_c)], NAME)
    found = re.search(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>front', svg)
    assert found
    x, y = mark_at(svg)
    assert (float(found[1]) - x) * way > 0
    assert float(found[2]) > y


def test_a_curve_without_marks_is_a_curve() -> None:
    assert "translate" not in curve(PLOT, ALONG, [], NAME)
