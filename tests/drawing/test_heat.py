"""Bars of heat: one scale, one line, and a figure at each."""

from __future__ import annotations

import re

import pytest

from leanladder.drawing import Flow, Flows, Name, heat

NAME = Name("Heat", "h")
GROUPS = (
    Flows("In", "in", (Flow("flex", 200.0), Flow("sun", -20.0))),
    Flows("Out", "out", (Flow("road", 100.0),)),
    Flows("Stays", "stored", (Flow("carcass", 80.0),)),
)
BAR = re.compile(r'<path d="M([\d.]+) [\d.]+h([\d.]+)v15[^"]*" fill="([^"]+)"/>')


def bars(svg: str) -> list[tuple[float, float, str]]:
    return [(float(left), float(width), colour) for left, width, colour in BAR.findall(svg)]


def test_bars_are_as_long_as_their_flows() -> None:
    widths = [width for _, width, _ in bars(heat(GROUPS, NAME))]
    assert [width / widths[0] for width in widths] == pytest.approx([1.0, 0.1, 0.5, 0.4], abs=1e-3)


def test_bars_begin_at_one_line_and_what_is_below_nothing_ends_there() -> None:
    flex, sun, road, carcass = bars(heat(GROUPS, NAME))
    assert flex[0] == road[0] == carcass[0]
    assert sun[0] + sun[1] == pytest.approx(flex[0], abs=0.02)


def test_in_is_full_out_is_empty_and_what_stays_is_hatched() -> None:
    svg = heat(GROUPS, NAME)
    assert [colour for _, _, colour in bars(svg)] == ["#1D1620", "#1D1620", "#fff", "#fff"]
    assert svg.count('fill="#422740"') == 1


def test_figures_and_names_stay_inside() -> None:
    svg = heat(GROUPS, NAME, width=400, worded=lambda kj: f"{kj:.0f} kJ")
    assert ">200 kJ<" in svg
    assert ">-20 kJ<" in svg
    assert max(left + width for left, width, _ in bars(svg)) < 400 - 6 * len("200 kJ")


def test_there_is_something_to_draw() -> None:
    with pytest.raises(ValueError, match="no flow"):
        heat([], NAME)
