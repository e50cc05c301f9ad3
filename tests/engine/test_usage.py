"""What a ride asks of the grip, step by step: closed forms on even tyres, and a cold shoulder."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from leanladder.engine import grip
from leanladder.engine.caps import Crown
from leanladder.engine.ride import WheelForces
from leanladder.engine.tyre_thermal import LAYERS
from leanladder.engine.usage import demand, grips_at_hand

RIBS = 15
ARC_M = 0.18
WARM_C, COLD_C = 60.0, 0.0


def crown(table: NDArray[np.float64]) -> Crown:
    return Crown(RIBS, ARC_M / RIBS, 0.5 * ARC_M, 0.025, 0.09, np.array([0.15, 0.3, 0.55]), table[None])


def at_hand(tyre: Crown, state: NDArray[np.float64], contact_m: list[float]) -> NDArray[np.float64]:
    steps = len(contact_m)
    surfaces = np.zeros(steps, dtype=np.int64)
    return grips_at_hand(np.tile(state, (steps, 1)), np.array(contact_m), surfaces, tyre)


def test_demand_is_the_force_over_the_load() -> None:
    """A 3-4-5 triangle of forces."""
    load, along, side = (np.array([newton]) for newton in (1000.0, 300.0, -400.0))
    assert demand(WheelForces(load, along, side))[0] == pytest.approx(0.5)


def test_even_grip_is_at_hand_wherever_the_load_stands() -> None:
    tyre = crown(np.full(grip.table_axis().size, 0.9))
    state = np.full(LAYERS * RIBS + 4, 30.0)
    assert at_hand(tyre, state, [-0.06, 0.0, 0.06]) == pytest.approx(0.9)


def test_a_cold_shoulder_has_less_at_hand_than_a_warm_centre() -> None:
    """Grip that grows with warmth, the ribs of one side cold: less the further the load is on them."""
    tyre = crown(np.interp(grip.table_axis(), [COLD_C, WARM_C], [0.6, 1.2]))
    state = np.full(LAYERS * RIBS + 4, WARM_C)
    state[: LAYERS * RIBS].reshape(LAYERS, RIBS)[:, :5] = COLD_C
    cold, edge, warm, other = at_hand(tyre, state, [-0.06, -0.03, 0.0, 0.06])
    assert cold < edge < warm
    assert cold == pytest.approx(0.6, abs=0.05)
    assert warm == pytest.approx(other)
