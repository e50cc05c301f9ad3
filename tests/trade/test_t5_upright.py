"""T5: upright drive and braking heat mainly the centre; the shoulders come late. Common practice.

As `leanladder ways` rides it: straights over 60 % of the time, corners at no more than 12 deg, three laps.
tests/trade/test_warming.py holds the same fact to a lap without swings of speed.
"""

from __future__ import annotations

import numpy as np
from tests.trade.rides import Morning, session

from leanladder.planning.tables import shipped_tables
from leanladder.planning.ways import compare
from leanladder.planning.ways.base import base
from leanladder.planning.ways.motions import upright

MORNING = Morning(8.0, 10.0)


def test_t5_the_ride_is_as_the_fact_says() -> None:
    made = base(session(MORNING, "experienced", 3), shipped_tables())
    laps = upright(made, 20.0)
    seconds = in_corners = 0.0
    for lap in laps:
        inside = lap.way.corner_of[: lap.way.lap_steps] >= 0
        assert np.degrees(np.abs(lap.moves.bike_lean[inside])).max() <= 12.5
        seconds += float(lap.moves.dt_s.sum())
        in_corners += float(lap.moves.dt_s[inside].sum())
    assert in_corners < 0.4 * seconds


def test_t5_upright_drive_and_braking_heat_mainly_the_centre() -> None:
    ways = compare(session(MORNING, "experienced", 3))
    upright = next(way for way in ways.ways if way.name == "upright")
    for end in (upright.tread_rise_c.front, upright.tread_rise_c.rear):
        assert end.centre >= 2.0 * end.shoulders
