"""Members that follow a lap: one near it need not be followed anew."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from leanladder.domain.session import Session, Start
from leanladder.planning.laps import ride, started
from leanladder.planning.odds.crowd import NEARBY_DEG, carried, follow_lap, followed_nearby, gather
from leanladder.planning.odds.told import no_offsets
from leanladder.planning.riding import ride_lap
from leanladder.planning.setting import setting
from leanladder.planning.tables import Tables

Ask = Callable[..., Session]


def test_a_lap_near_one_that_was_followed_need_not_be_followed_anew(ask: Ask, tables: Tables) -> None:
    place = setting(ask(level="experienced", start=Start("warmers", 80.0, 60.0, 5.0), laps=2), tables)
    begins = started(place)
    crowd = gather(place, begins, carried_on=False)
    first, second = ride(place, begins, 2, crowd)
    assert first.told is not None
    crowd, start = replace(crowd, now=first.told.now), first.ridden.heated.end
    whole = no_offsets(place)
    lower = whole._replace(front=whole.front - 5.0, rear=whole.rear - 5.0)
    least = lower._replace(front=lower.front - NEARBY_DEG, rear=lower.rear - NEARBY_DEG)
    laps = [
        ride_lap(place, second.way, start, second.orders._replace(offsets=some)) for some in (lower, least)
    ]
    one, other = (follow_lap(crowd, second.way, lap.speeds, start) for lap in laps)
    near = followed_nearby(place, one, laps[0].heated, laps[1].heated)
    moved = max(np.abs(a - b).max() for a, b in zip(one[0], other[0], strict=True))
    left = max(np.abs(a - b).max() for a, b in zip(near[0], other[0], strict=True))
    assert left < 0.35
    assert left < 0.5 * moved
    leans = [carried(crowd, arrived) for arrived in (near[0], other[0])]
    apart = np.degrees(np.minimum(leans[0].front, leans[0].rear) - np.minimum(leans[1].front, leans[1].rear))
    assert np.abs(apart).max() < 0.03
