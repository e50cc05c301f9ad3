"""Depth is plausible: what lies under the outer 2 mm, the shoulder in use, hot pressures.

Common practice and judgement, no published source: carcass and tread base stay within about 25 K of
the outer 2 mm while riding; a used shoulder at pace is not far below the centre; hot pressures rise
0.25 to 0.6 bar on a mild day. A change in one figure here shows a fault that caps alone would hide.
"""

from __future__ import annotations

import pytest
from tests.trade.rides import CENTRE, HOT_SUN_W_M2, RIGHT, Morning, depths, outer, run, session

from leanladder.planning.ladder import plan

RIDES = [
    (Morning(8.0, 10.0), "regular"),
    (Morning(16.0, 22.0), "regular"),
    (Morning(20.0, 28.0), "experienced"),
    (Morning(25.0, 45.0), "experienced"),
    (Morning(45.0, 65.0, HOT_SUN_W_M2), "experienced"),
]


@pytest.mark.parametrize(("morning", "level"), RIDES, ids=["cold", "mild", "warm", "sunny", "hot"])
def test_carcass_and_base_stay_near_the_outer_2_mm(morning: Morning, level: str) -> None:
    done = run(session(morning, level, 12))
    for step in done.steps:
        assert max(depths(done.place, step.ridden.heated)) <= 25.0


def test_a_used_shoulder_at_pace_is_not_far_below_the_centre() -> None:
    """On a circuit whose corners take little more than a quarter of the time: 20 K at most."""
    done = run(session(Morning(20.0, 28.0), "experienced", 12))
    for state in done.steps[-1].ridden.heated.end:
        assert outer(done.place, state, CENTRE) - outer(done.place, state, RIGHT) <= 20.0


def test_hot_pressures_on_a_mild_day() -> None:
    """Common practice: 0.25 to 0.6 bar above the cold ones, set in the morning's air."""
    ladder = plan(session(Morning(16.0, 22.0), "experienced", 12))
    cold = ladder.session.cold_pressure
    last = ladder.laps[-1]
    assert 0.25 <= last.front_end.pressure_bar - cold.front_bar <= 0.6
    assert 0.25 <= last.rear_end.pressure_bar - cold.rear_bar <= 0.6


def test_regular_riders_pressures_are_not_below_it_by_more_than_a_gauge_reads() -> None:
    ladder = plan(session(Morning(16.0, 22.0), "regular", 12))
    cold = ladder.session.cold_pressure
    last = ladder.laps[-1]
    assert last.front_end.pressure_bar - cold.front_bar >= 0.23
    assert last.rear_end.pressure_bar - cold.rear_bar >= 0.23
