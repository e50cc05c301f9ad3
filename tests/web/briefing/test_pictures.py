"""The drawings of the room: cold rubber never looks warm."""

from __future__ import annotations

import re

import pytest

from leanladder.web.briefing.figures import Sides
from leanladder.web.briefing.pictures import PHONE, WALL, Paper, side_warmth
from leanladder.web.briefing.reader import Reader

COLD = Sides(
    turns=(1, 10), few="left", first=None, laps=((10.0, 17.0), (11.0, 20.0)),
    warmth=(("cold", "cold"), ("cold", "cold")), low_c=30.0, colder=True,
)  # fmt: skip


@pytest.mark.parametrize("paper", [WALL, PHONE])
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_sides_are_drawn_up_to_where_warm_begins(paper: Paper, units: str) -> None:
    drawn = side_warmth(COLD, Reader(units=units), paper)
    assert "warm from here" in drawn
    assert not re.search("<text[^>]*>[0-9]+ ?°", drawn)
