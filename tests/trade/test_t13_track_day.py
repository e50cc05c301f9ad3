"""T13, how soon it warms: a track-day tyre reaches its range sooner in the same session. Common practice.

The range is where grip is within 3 % of its peak, as T11 counts it. What is data alone of T13 stands in
tests/trade/test_grip.py.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.trade.rides import RIGHT, Morning, arrivals, run, session

from leanladder.engine.grip import table_axis
from leanladder.planning.gripping import surface_grip

MILD = Morning(16.0, 22.0)


def minutes(tyre: str, level: str) -> list[float]:
    """When the busier shoulder first arrives within its range, front and rear; infinite if never."""
    done = run(session(MILD, level, 12, tyre=tyre))
    asked, busy = done.place.session, done.rights()
    found = []
    for end, fitted in enumerate((asked.front, asked.rear)):
        grips = surface_grip(fitted.tyre.compound, asked.surface, done.place.tables)
        low_c = table_axis()[np.argmax(grips >= 0.97 * grips.max())]
        came = [
            float(minute)
            for lap, step in enumerate(done.steps)
            for minute, rubber_c in zip(
                done.minutes(lap)[busy],
                arrivals(done.place, step.ridden.heated, RIGHT)[end][busy],
                strict=True,
            )
            if rubber_c >= low_c
        ]
        found.append(min(came, default=math.inf))
    return found


@pytest.mark.parametrize("level", ["regular", "experienced"])
def test_t13_a_track_day_tyre_reaches_its_range_sooner(level: str) -> None:
    everyday, quick = minutes("sport-road", level), minutes("track-day", level)
    assert all(math.isfinite(each) for each in quick)
    assert all(soon < late for soon, late in zip(quick, everyday, strict=True))
