"""The implicit cap: no more than may be used, and never lower for more grip or warmer rubber."""

from __future__ import annotations

from math import degrees, inf, radians, sqrt, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from leanladder.engine import caps, grip
from leanladder.engine.caps import Bend, Crown, Stance, corner_caps, patch_grip, physics_cap, rib_grips
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.cornering import lean_of_bike_lean
from leanladder.engine.tyre_thermal import LAYERS, OUTER_LAYERS, layers_c

Floats = NDArray[np.float64]
SEEDS = st.integers(0, 2**32 - 1)
RIBS = 15
CLOSE = 1e-9


def rising(draw: np.random.Generator) -> Floats:
    """A grip table that rises to a plateau."""
    axis = grip.table_axis()
    low, peak = draw.uniform(0.5, 0.9), draw.uniform(0.9, 1.4)
    return np.asarray(
        low + (peak - low) / (1.0 + np.exp(-(axis - draw.uniform(0, 60)) / draw.uniform(3, 20)))
    )


def crown(table: Floats, draw: np.random.Generator) -> Crown:
    arc_m = draw.uniform(0.11, 0.24)
    return Crown(
        RIBS,
        arc_m / RIBS,
        0.5 * arc_m,
        draw.uniform(0.015, 0.035),
        draw.uniform(0.05, 0.105),
        np.array([0.15, 0.3, 0.55]),
        table[None],
    )


def stance(draw: np.random.Generator) -> Stance:
    return Stance(
        draw.uniform(0.05, 0.105), draw.uniform(0.5, 0.72), draw.uniform(0.0, 5e-4), draw.uniform(0.0, 0.06)
    )


def bend(draw: np.random.Generator) -> Bend:
    return Bend(draw.choice([-1.0, 1.0]), radians(draw.uniform(-8, 12)), draw.uniform(10.0, 200.0), 0)


def patchy(draw: np.random.Generator) -> Floats:
    """A tyre warm in places."""
    return draw.uniform(-10.0, 100.0, LAYERS * RIBS + 4)


def shortfall(bike: float, asked: tuple[Bend, float, bool], tyre: Crown, on: Stance, state: Floats) -> float:
    """Demand less what may be used at a bike lean, written out once more."""
    at, share, driven = asked
    lean = lean_of_bike_lean(bike, on.crown_m, on.cg_height_m)
    along = on.rolling + on.drag_n * GRAVITY_MPS2 * at.radius_m * tan(lean) if driven else 0.0
    grips = np.empty(RIBS)
    rib_grips(tyre, 0, state, grips)
    held = patch_grip(tyre, grips, at.side * tyre.crown_radius_m * (bike - at.bank), np.empty(RIBS))
    return sqrt(tan(lean - at.bank) ** 2 + along**2) - share * held


@given(SEEDS, st.floats(0.3, 0.95), st.booleans())
def test_demand_stays_within_what_may_be_used_up_to_the_cap(seed: int, share: float, driven: bool) -> None:
    draw = np.random.default_rng(seed)
    tyre, on, at, state = crown(rising(draw), draw), stance(draw), bend(draw), patchy(draw)
    cap = physics_cap(at, share, driven, tyre, on, state)
    low = max(at.bank, 0.0)
    assert low <= cap <= radians(caps.MOST_DEG)
    for bike in np.arange(low + radians(1.0), cap, radians(1.0)):
        assert shortfall(float(bike), (at, share, driven), tyre, on, state) <= 0.0
    if cap > low:
        assert shortfall(cap, (at, share, driven), tyre, on, state) <= CLOSE
    if cap < radians(caps.MOST_DEG - caps.SCAN_DEG):
        assert shortfall(cap + 1e-7, (at, share, driven), tyre, on, state) > -CLOSE


@settings(max_examples=300)
@given(SEEDS, st.floats(0.3, 0.95), st.booleans())
def test_more_grip_never_lowers_a_cap(seed: int, share: float, driven: bool) -> None:
    draw = np.random.default_rng(seed)
    table = rising(draw)
    tyre, on, at, state = crown(table, draw), stance(draw), bend(draw), patchy(draw)
    better = tyre._replace(tables=(table + draw.uniform(0.0, 0.2, table.size) * draw.integers(0, 2))[None])
    cap = physics_cap(at, share, driven, tyre, on, state)
    assert physics_cap(at, share, driven, better, on, state) >= cap - CLOSE
    assert physics_cap(at, min(1.0, share * 1.1), driven, tyre, on, state) >= cap - CLOSE


@settings(max_examples=300)
@given(SEEDS, st.floats(0.3, 0.95), st.booleans())
def test_warmer_rubber_never_lowers_a_cap_below_the_peak(seed: int, share: float, driven: bool) -> None:
    draw = np.random.default_rng(seed)
    tyre, on, at, state = crown(rising(draw), draw), stance(draw), bend(draw), patchy(draw)
    warmer = state + draw.uniform(0.0, 30.0) * draw.uniform(0.0, 1.0, state.size)
    cap = physics_cap(at, share, driven, tyre, on, state)
    assert physics_cap(at, share, driven, tyre, on, warmer) >= cap - CLOSE


@given(SEEDS, st.floats(0.3, 0.95), st.booleans())
def test_the_other_side_of_a_mirrored_tyre(seed: int, share: float, driven: bool) -> None:
    draw = np.random.default_rng(seed)
    tyre, on, at, state = crown(rising(draw), draw), stance(draw), bend(draw), patchy(draw)
    other = state.copy()
    other[: LAYERS * RIBS] = state[: LAYERS * RIBS].reshape(LAYERS, RIBS)[:, ::-1].ravel()
    cap = physics_cap(at, share, driven, tyre, on, state)
    mirror = physics_cap(at._replace(side=-at.side), share, driven, tyre, on, other)
    assert mirror == pytest.approx(cap, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("friction", [0.4, 0.8, 1.2])
def test_even_rubber_carries_the_arctangent_of_its_share(friction: float) -> None:
    """Undriven, flat and evenly warm there is a closed form: lean = atan(share mu)."""
    draw = np.random.default_rng(1)
    tyre = crown(np.full(grip.TABLE_LENGTH, friction), draw)
    on = Stance(0.08, 0.63, 0.0, 0.0)
    cap = physics_cap(Bend(-1.0, 0.0, 50.0, 0), 0.65, False, tyre, on, np.full(LAYERS * RIBS + 4, 20.0))
    assert tan(lean_of_bike_lean(cap, 0.08, 0.63)) == pytest.approx(0.65 * friction, rel=1e-9)


def test_a_cold_rib_on_the_way_stops_the_lean_there() -> None:
    """Grip beyond a weak rib is never reached: the machine would pass the weak rib first."""
    table = np.where(grip.table_axis() < 30.0, 0.3, 1.2)
    draw = np.random.default_rng(2)
    tyre = crown(table, draw)._replace(rib_m=0.012, half_arc_m=0.09, patch_half_m=0.01, crown_radius_m=0.09)
    on = Stance(0.08, 0.63, 0.0, 0.0)
    state = np.full(LAYERS * RIBS + 4, 60.0)
    warm = physics_cap(Bend(1.0, 0.0, 50.0, 0), 0.8, False, tyre, on, state)
    layers_c(state, RIBS)[:OUTER_LAYERS, 10:12] = 10.0  # about 24 to 42 mm out
    stopped = physics_cap(Bend(1.0, 0.0, 50.0, 0), 0.8, False, tyre, on, state)
    left = physics_cap(Bend(-1.0, 0.0, 50.0, 0), 0.8, False, tyre, on, state)
    assert left == pytest.approx(warm, rel=1e-12)
    assert degrees(stopped) < degrees(0.042 / 0.09)
    assert stopped < warm - radians(10.0)


def test_a_driven_wheel_carries_less() -> None:
    draw = np.random.default_rng(3)
    tyre = crown(rising(draw), draw)
    on = Stance(0.08, 0.63, 4e-4, 0.04)
    at, state = Bend(1.0, 0.0, 120.0, 0), np.full(LAYERS * RIBS + 4, 30.0)
    assert physics_cap(at, 0.65, True, tyre, on, state) < physics_cap(at, 0.65, False, tyre, on, state)


def test_a_bank_into_the_turn_carries_more() -> None:
    draw = np.random.default_rng(4)
    tyre, on, state = (
        crown(rising(draw), draw),
        Stance(0.08, 0.63, 0.0, 0.0),
        np.full(LAYERS * RIBS + 4, 30.0),
    )
    found = [
        physics_cap(Bend(1.0, radians(bank), 80.0, 0), 0.65, False, tyre, on, state)
        for bank in (-5.0, 0.0, 5.0)
    ]
    assert found[0] < found[1] < found[2] < inf


@given(SEEDS, st.floats(0.3, 0.95))
def test_corner_caps_are_each_tyres_own(seed: int, share: float) -> None:
    draw = np.random.default_rng(seed)
    front, rear, on = crown(rising(draw), draw), crown(rising(draw), draw), stance(draw)
    bends = [bend(draw) for _ in range(3)]
    rows = np.array([[*at] for at in bends], dtype=np.float64)
    states = np.stack([patchy(draw) for _ in range(3)]), np.stack([patchy(draw) for _ in range(3)])
    found = corner_caps(rows, share, front, rear, on, *states)
    for corner, at in enumerate(bends):
        assert found[corner, 0] == physics_cap(at, share, False, front, on, states[0][corner])
        assert found[corner, 1] == physics_cap(at, share, True, rear, on, states[1][corner])
    assert np.all(found[:, 2:] > 0.0)
