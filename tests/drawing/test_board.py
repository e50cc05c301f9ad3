"""The ladder's cells on a page: a cap, why, how warm, and which one is held."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import get_args
from xml.etree import ElementTree as ET

import pytest

from leanladder.domain.circuit import Side
from leanladder.domain.ladder import PlanLimit
from leanladder.drawing import LadderCell, Name, hot_legend, ladder_cell, limit_mark, warmth_legend

NAME = Name("Turn 5, lap 3", "c")
COLD = LadderCell(18, 12.0, "caution_card")


def hatched(svg: str) -> str:
    found = re.search(r'<path d="([^"]+)" fill="#422740"', svg)
    assert found
    return found[1]


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_cap_stands_on_clean_ground(side: Side) -> None:
    svg = ladder_cell(side, COLD, NAME)
    xs = [float(x) for x in re.findall(r"[ML](-?[\d.]+) ", hatched(svg))]
    at = re.search(r'<text x="([\d.]+)"[^>]*>18</text>', svg)
    assert at
    # Half of two bold figures of 19 px.
    if side == "left":
        assert float(at[1]) - 10.5 > max(xs)
    else:
        assert float(at[1]) + 10.5 < min(xs)


def test_a_cell_is_high_enough_for_a_finger() -> None:
    root = ET.fromstring(ladder_cell("left", COLD, NAME))  # noqa: S314  # our own
    assert float(root.attrib["height"]) == 44
    assert float(root.attrib["width"]) >= 44


def test_each_thing_a_cell_may_say_looks_different() -> None:
    told = [
        COLD,
        replace(COLD, cap_deg=30),
        replace(COLD, rubber_c=32.0),
        replace(COLD, hot=True),
        replace(COLD, least_margin=True),
        replace(COLD, chosen=True),
        replace(COLD, given=False),
        *(replace(COLD, limited_by=limit) for limit in get_args(PlanLimit) if limit != "caution_card"),
    ]
    assert len({ladder_cell("left", cell, NAME) for cell in told}) == len(told)


def test_only_the_least_margin_is_held_by_the_clamp() -> None:
    assert 'stroke-linejoin="miter"' not in ladder_cell("left", replace(COLD, chosen=True), NAME)
    assert ladder_cell("left", replace(COLD, least_margin=True), NAME).count('stroke-linejoin="miter"') == 1


def test_a_chosen_cell_is_reversed() -> None:
    assert re.search(r'fill="#fff">18</text>', ladder_cell("right", replace(COLD, chosen=True), NAME))
    assert re.search(r'fill="#1D1620">18</text>', ladder_cell("right", COLD, NAME))


def test_what_is_only_tried_has_a_dashed_frame() -> None:
    assert "stroke-dasharray" not in ladder_cell("right", COLD, NAME)
    assert "stroke-dasharray" in ladder_cell("right", replace(COLD, given=False), NAME)


def test_legends_name_where_each_step_begins_in_the_readers_unit() -> None:
    assert re.findall(r">(\d+)</text>", warmth_legend(NAME)) == [
        "10",
        "15",
        "20",
        "25",
        "30",
        "35",
        "40",
        "45",
    ]
    fahrenheit = warmth_legend(NAME, worded=lambda rubber_c: f"{rubber_c * 1.8 + 32:.0f}")
    assert re.findall(r">(\d+)</text>", fahrenheit)[0] == "50"
    assert "<text" not in hot_legend(NAME)


def test_every_limit_has_a_mark_of_its_own() -> None:
    assert len({limit_mark(limit, NAME) for limit in get_args(PlanLimit)}) == len(get_args(PlanLimit))
