"""Cells of the coach's table, and their legend."""

from __future__ import annotations

import re
from typing import get_args
from xml.etree import ElementTree as ET

import pytest

from leanladder.domain.circuit import Side
from leanladder.domain.ladder import PlanLimit
from leanladder.domain.paper import CoachCell
from leanladder.drawing import cell, glyph_picture, hot_scale, warmth_scale
from leanladder.drawing.cell import ROOM

COLD = CoachCell(18, 45, 12.0, "caution_card", least_margin=False)


def figure_at(svg: str) -> float:
    found = re.search(r'<text x="([\d.]+)"', svg)
    assert found
    return float(found[1])


@pytest.mark.parametrize("height", [30.0, 46.0])
@pytest.mark.parametrize("side", ["left", "right"])
def test_the_cap_stands_on_clean_ground(side: Side, height: float) -> None:
    svg = cell(side, COLD, height=height)
    assert ">18</text>" in svg
    hatched = re.findall(r'<path d="([^"]+)"', svg)[1]
    xs = [float(x) for x in re.findall(r"[ML](-?[\d.]+) ", hatched)]
    # Half the width of two bold figures: their advance is half an em in the font that ships.
    size = re.search(r'font-size="([\d.]+)"', svg)
    assert size
    half = 0.55 * float(size[1])
    if side == "left":
        assert figure_at(svg) - half > max(xs)
    else:
        assert figure_at(svg) + half < min(xs)


def test_only_the_least_margin_is_held_by_the_clamp() -> None:
    held = cell("left", CoachCell(18, 45, 12.0, "front_grip", least_margin=True))
    assert held.count('stroke-linejoin="miter"') == 1
    assert 'stroke-linejoin="miter"' not in cell("left", COLD)


def test_cells_are_xml_of_the_size_asked_for() -> None:
    root = ET.fromstring(cell("right", COLD, width=82, height=46))  # noqa: S314  # our own
    assert float(root.attrib["width"]) == pytest.approx(82 + 2 * ROOM)
    assert float(root.attrib["height"]) == pytest.approx(46 + 2 * ROOM)


def test_every_limit_has_a_glyph_of_its_own() -> None:
    drawn = {glyph_picture(limit) for limit in get_args(PlanLimit)}
    assert len(drawn) == len(get_args(PlanLimit))


def test_the_legend_names_where_each_step_begins() -> None:
    svg = warmth_scale()
    assert re.findall(r">(\d+)</text>", svg) == ["10", "15", "20", "25", "30", "35", "40", "45"]
    assert "<text" not in hot_scale()
