"""The lean that two tyres can carry at a corner, implicit in lean: leaning further moves the load.

Least lean at which demand passes what may be used, front or rear: scan upward, then close in. A
region of grip beyond a weak rib is never reached, since the machine would pass the weak rib first.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leanladder.engine.compiled import compiled, inlined
from leanladder.engine.constants import GRAVITY_MPS2
from leanladder.engine.cornering import banked_demand, lean_of_bike_lean
from leanladder.engine.grip import grip_at
from leanladder.engine.tyre_thermal import outer_c, spread_weights

Floats = NDArray[np.float64]

SCAN_DEG = 1.0  # a patch is some 20 degrees of lean wide: grip along the crown has no finer detail
CLOSE = 1e-13  # rad
MOST_HALVINGS = 40
MOST_DEG = 65.0


class Crown(NamedTuple):
    """One tyre as the cap sees it.

    ribs; rib_m, half_arc_m, patch_half_m, crown_radius_m [m]; outer_share (OUTER_LAYERS,)
    [-] of the outer 2 mm by layer; tables (surfaces, TABLE_LENGTH) of friction [-].
    """

    ribs: int
    rib_m: float
    half_arc_m: float
    patch_half_m: float
    crown_radius_m: float
    outer_share: Floats
    tables: Floats


class Stance(NamedTuple):
    """The machine at an apex.

    crown_m [m], load-weighted crown radius; cg_height_m [m]; drag_n [s2/m2], drag over the rear
    wheel's load per (m/s)^2; rolling [-], driving force for rolling alone over that load.
    """

    crown_m: float
    cg_height_m: float
    drag_n: float
    rolling: float


class Bend(NamedTuple):
    """A corner.

    side -1.0 left, 1.0 right (where the load goes on the crown); bank [rad, positive into the
    turn]; radius_m [m]; surface, the row of the grip tables.
    """

    side: float
    bank: float
    radius_m: float
    surface: int


@inlined
def rib_grips(crown: Crown, surface: int, state: Floats, grips: Floats) -> None:
    """Fill grips (ribs,) [-] with each rib's friction in state (n,) [degC]; surface is a row of tables."""
    for rib in range(crown.ribs):
        grips[rib] = grip_at(crown.tables[surface], outer_c(state, crown.ribs, rib, crown.outer_share))


@inlined
def patch_grip(crown: Crown, grips: Floats, contact_m: float, load: Floats) -> float:
    """Return the friction [-] of the patch centred at contact_m [m]; grips (ribs,) [-]; load is scratch."""
    spread_weights(load, contact_m, crown.patch_half_m, crown.rib_m, crown.half_arc_m)
    total = 0.0
    for rib in range(crown.ribs):
        total += load[rib] * grips[rib]
    return total


@inlined
def _short(
    bike_lean: float,
    bend: Bend,
    share: float,
    driven: bool,
    crown: Crown,
    stance: Stance,
    grips: Floats,
    load: Floats,
) -> float:
    """Return demand less usable friction [-] at bike_lean [rad]; positive: more than may be used."""
    lean = lean_of_bike_lean(bike_lean, stance.crown_m, stance.cg_height_m)
    across = banked_demand(lean, bend.bank)
    along = stance.rolling + stance.drag_n * GRAVITY_MPS2 * bend.radius_m * math.tan(lean) if driven else 0.0
    contact_m = bend.side * crown.crown_radius_m * (bike_lean - bend.bank)
    return math.sqrt(across * across + along * along) - share * patch_grip(crown, grips, contact_m, load)


@inlined
def _crossing(
    low: float,
    high: float,
    bend: Bend,
    share: float,
    driven: bool,
    crown: Crown,
    stance: Stance,
    grips: Floats,
    load: Floats,
) -> float:
    """Return the lean in low..high [rad] at which the shortfall turns positive, from below.

    Ridders' method (Ridders 1979), which keeps the root between both ends; the lower end is
    returned, at which demand is still within what may be used.
    """
    at_low = _short(low, bend, share, driven, crown, stance, grips, load)
    at_high = _short(high, bend, share, driven, crown, stance, grips, load)
    for _ in range(MOST_HALVINGS):
        if high - low < CLOSE:
            break
        middle = 0.5 * (low + high)
        at_middle = _short(middle, bend, share, driven, crown, stance, grips, load)
        bow = math.sqrt(at_middle * at_middle - at_low * at_high)
        place = middle if bow == 0.0 else middle - (middle - low) * at_middle / bow
        for point, short in (
            (middle, at_middle),
            (place, _short(place, bend, share, driven, crown, stance, grips, load)),
        ):
            if low < point < high:
                if short > 0.0:
                    high, at_high = point, short
                else:
                    low, at_low = point, short
    return low


@compiled
def physics_cap(bend: Bend, share: float, driven: bool, crown: Crown, stance: Stance, state: Floats) -> float:
    """Return the bike lean [rad] one tyre carries, 0..65 deg.

    share [-] of the friction that may be used; driven: the tyre also pushes against drag; state
    (n,) [degC] on arrival.
    """
    load, grips = np.empty(crown.ribs), np.empty(crown.ribs)
    rib_grips(crown, bend.surface, state, grips)
    low = max(bend.bank, 0.0)
    step = math.radians(SCAN_DEG)
    high = low
    while True:
        high = low + step
        if high > math.radians(MOST_DEG):
            return math.radians(MOST_DEG)
        if _short(high, bend, share, driven, crown, stance, grips, load) > 0.0:
            break
        low = high
    return _crossing(low, high, bend, share, driven, crown, stance, grips, load)


@inlined
def _held(crown: Crown, surface: int, state: Floats, lean: float) -> float:
    """Return the friction [-] at a lean [rad] from the road, signed as a Bend's side."""
    load, grips = np.empty(crown.ribs), np.empty(crown.ribs)
    rib_grips(crown, surface, state, grips)
    return patch_grip(crown, grips, crown.crown_radius_m * lean, load)


@compiled
def corner_caps(
    bends: Floats,
    share: float,
    front: Crown,
    rear: Crown,
    stance: Stance,
    front_states: Floats,
    rear_states: Floats,
) -> Floats:
    """Return what the tyres carry at every corner, (corners, 5).

    Bike lean [rad] of front and rear, friction [-] of each at the lesser of the two, and the
    lesser friction [-] upright. bends (corners, 4) holds each corner's side, bank, radius and
    surface row; states (corners, n) [degC] are those on arrival; share [-] as in physics_cap.
    """
    corners = bends.shape[0]
    answer = np.empty((corners, 5))
    for corner in range(corners):
        bend = Bend(bends[corner, 0], bends[corner, 1], bends[corner, 2], int(bends[corner, 3]))
        on_front, on_rear = front_states[corner], rear_states[corner]
        answer[corner, 0] = physics_cap(bend, share, False, front, stance, on_front)
        answer[corner, 1] = physics_cap(bend, share, True, rear, stance, on_rear)
        lean = bend.side * (min(answer[corner, 0], answer[corner, 1]) - bend.bank)
        answer[corner, 2] = _held(front, bend.surface, on_front, lean)
        answer[corner, 3] = _held(rear, bend.surface, on_rear, lean)
        answer[corner, 4] = min(_held(front, 0, on_front, 0.0), _held(rear, 0, on_rear, 0.0))
    return answer
