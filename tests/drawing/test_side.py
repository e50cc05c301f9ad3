"""The seldom-used side: lefts above, rights below, in the order of the lap."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.drawing import Name, Plot, SideLaps, axis_about, laps_axis, side_laps, turns_by_side

NAME = Name("Sides", "s")


def circuit(sides: list[Side]) -> Circuit:
    share = 2000.0 / len(sides)
    corners = tuple(
        Corner(
            number=index + 1,
            name="",
            side=side,
            start_m=index * share,
            apex_m=(index + 0.4) * share,
            end_m=(index + 0.8) * share,
            radius_m=50.0,
            turn_deg=60.0,
            same_side_gap_m=100.0,
        )
        for index, side in enumerate(sides)
    )
    flat = np.zeros(4)
    return Circuit(
        name="Ring",
        length_m=2000.0,
        net_turns=1,
        s_m=np.linspace(0.0, 1500.0, 4),
        x_m=flat,
        y_m=flat,
        curvature_per_m=flat,
        elevation_m=flat,
        bank_deg=flat,
        shaded=flat.astype(bool),
        corners=corners,
    )


def planks(svg: str) -> list[tuple[int, float, float]]:
    found = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*text-anchor="middle"[^>]*>(\d+)</text>', svg)
    return [(int(figure), float(x), float(y)) for x, y, figure in found]


@given(sides=st.lists(st.sampled_from(("left", "right")), min_size=1, max_size=25))
def test_lefts_stand_above_rights_in_order_and_apart(sides: list[Side]) -> None:
    found = planks(turns_by_side(circuit(sides), ("left", "right"), NAME))
    assert sorted(number for number, _, _ in found) == list(range(1, len(sides) + 1))
    for number, _, y in found:
        assert (y < 32) == (sides[number - 1] == "left")
    for side in ("left", "right"):
        row = sorted(told for told in found if sides[told[0] - 1] == side)
        assert all(after[1] - before[1] > 15 for before, after in pairwise(row))


def test_words_tell_how_many() -> None:
    svg = turns_by_side(circuit(["left", "right", "right"]), ("left 1", "right 2"), NAME)
    assert ">left 1</text>" in svg
    assert ">right 2</text>" in svg


def test_a_corner_moves_its_plank() -> None:
    lap = circuit(["left", "right"])
    later = replace(lap, corners=(replace(lap.corners[0], apex_m=900.0), lap.corners[1]))
    before, after = (planks(turns_by_side(one, ("left", "right"), NAME))[0][1] for one in (lap, later))
    assert after > before


def test_each_side_is_named_and_the_warmer_is_higher() -> None:
    told = [
        SideLaps("left", "left side", (8.0, 10.0, 12.0)),
        SideLaps("right", "right side", (12.0, 20.0, 28.0)),
    ]
    svg = side_laps(Plot(laps_axis("lap", 3), axis_about("°C", [8.0, 28.0])), told, NAME)
    heights = [float(y) for y in re.findall(r'y="([\d.]+)"[^>]*>(?:left|right) side', svg)]
    assert heights == sorted(heights)
    assert len(heights) == pytest.approx(2)
