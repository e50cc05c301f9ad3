"""Fans of a restart: black now, pale at the flag, at their true angles."""

from __future__ import annotations

import re
from math import atan2, degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Side
from leanladder.drawing import SCREEN, Name, Restart, fan, plank, restart_fan, rider_fan, turn_plank

NAME = Name("Turn 4", "r")
WEDGE = re.compile(
    r'<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)A[\d.]+ [\d.]+ 0 0 \d ([\d.]+) ([\d.]+)Z" fill="([^"]+)"/>'
)
SIDES = st.sampled_from(("left", "right"))


def wedges(svg: str, side: Side) -> dict[str, tuple[float, float]]:
    """From and to which angle [deg] each wedge opens, by its colour."""
    found: dict[str, tuple[float, float]] = {}
    way = -1 if side == "left" else 1
    for *told, colour in WEDGE.findall(svg):
        x, y, x1, y1, x2, y2 = map(float, told)
        first, last = (degrees(atan2(way * (a - x), y - b)) for a, b in ((x1, y1), (x2, y2)))
        found[colour] = (first, last)
    return found


@given(side=SIDES, now=st.integers(1, 50), more=st.integers(1, 15))
def test_black_to_the_cap_now_and_pale_to_that_at_the_flag(side: Side, now: int, more: int) -> None:
    found = wedges(restart_fan(Restart(4, side, now, now + more), NAME), side)
    assert found[SCREEN.ink] == pytest.approx((0, now), abs=0.1)
    assert found[SCREEN.pale] == pytest.approx((now, now + more), abs=0.1)


@given(side=SIDES, now=st.integers(10, 50), less=st.integers(0, 9))
def test_nothing_is_pale_where_the_cap_has_not_fallen(side: Side, now: int, less: int) -> None:
    found = wedges(restart_fan(Restart(4, side, now, now - less), NAME), side)
    assert set(found) == {SCREEN.ink}


def test_both_caps_are_written_and_only_the_least_margin_is_held() -> None:
    svg = restart_fan(Restart(4, "left", 17, 26), NAME)
    assert re.findall(r">(\d+)</text>", svg) == ["4", "17", "26"]
    assert 'stroke-linejoin="miter"' not in svg
    held = restart_fan(Restart(4, "left", 17, 26, least_margin=True), NAME)
    assert held.count('stroke-linejoin="miter"') == 1


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_page_shows_the_very_shapes_of_the_paper_card(side: Side) -> None:
    def paths(svg: str) -> list[str]:
        return re.findall(r'<path d="([^"]+)"', svg)

    assert paths(rider_fan(side, 3, NAME, radius=46)) == paths(fan(side, 3))
    assert paths(turn_plank(5, side, NAME, height=34)) == paths(plank(5, side))
