"""A lap of ribs and layers beside the finer model, which places load and road by itself.

Bound: 1.5 K at skin, outer 2 mm and carcass, each third of the crown, at every step. Whole sessions, a stop
and other riders stand in docs/evidence/finer-model.md; why the finer model may judge, in
docs/physics/finer-model.md.
"""

from __future__ import annotations

import numpy as np
import pytest
from tests.finer.compare import compared, planned, thirds
from tests.finer.section import ELEMENTS_A_STRIP, Grid
from tests.trade.rides import COLD, WARMERS, Morning, session

from leanladder.domain.session import Start
from leanladder.planning.rubber import RIBS

BOUND_K = 1.5
LONGEST_S = 0.2


@pytest.mark.parametrize(("start", "is_rear"), [(COLD, False), (WARMERS, True)], ids=["cold", "warmers"])
def test_a_lap_is_within_the_bound(start: Start, *, is_rear: bool) -> None:
    ride = planned(session(Morning(15.0, 18.0), "experienced", 1, start), 1.0)
    (lap,) = compared(ride, is_rear=is_rear, grid=Grid(), longest_s=LONGEST_S, laps=1)
    assert np.ptp(lap.finer[:, 0], axis=0).max() > 10.0  # a lap that works the skin
    assert np.abs(thirds(lap.ours - lap.finer)).max() < BOUND_K


def test_it_is_at_least_three_times_as_fine() -> None:
    assert Grid().across >= ELEMENTS_A_STRIP * RIBS
    assert Grid().skin_m <= 0.1e-3
