"""Conduction through ribs and layers against the finer section, both under the engine's own heat.

A lap of the demo circuit from cold, ridden hard. Bound: 1.5 K at skin, outer 2 mm and carcass, each third
of the crown, at every step of the lap. It shows what the cut into ribs and layers does, and nothing about
where load and road stand (docs/evidence/finer-model.md does).
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from tests.finer.compare import fitted, ours, planned, thirds
from tests.finer.conduction import conducted, heat_of_nodes
from tests.finer.section import Floats, Grid
from tests.trade.rides import Morning, session

from leanladder.engine.tyre_thermal import read_c

BOUND_K = 1.5
AIR_C = 15.0


@cache
def apart_k(*, is_rear: bool) -> Floats:
    """How far skin, outer 2 mm and carcass are apart at most (3,) [K]."""
    ride = planned(session(Morning(AIR_C, 18.0), "experienced", 1), 1.0)
    place, begin = ride.place, ride.begin.rear if is_rear else ride.begin.front
    rubber = place.rear if is_rear else place.front
    times, states, _ = ours(place, rubber, ride.laps[0], begin)
    heat_w = heat_of_nodes(rubber.body, states, np.diff(times))
    section = fitted(place, is_rear).built(Grid()).section
    finer = conducted(section, rubber.body, AIR_C, heat_w, np.diff(times))
    apart = thirds(read_c(states, rubber.body) - finer)
    return np.asarray(np.abs(apart).max(axis=(0, 2)))


@pytest.mark.parametrize("is_rear", [False, True], ids=["front", "rear"])
@pytest.mark.parametrize("depth", range(3), ids=["skin", "tread", "carcass"])
def test_conduction_is_within_the_bound(depth: int, *, is_rear: bool) -> None:
    assert apart_k(is_rear=is_rear)[depth] < BOUND_K
