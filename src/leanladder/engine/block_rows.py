"""Where what stands in a block of members: rows of WIDTH, for ribs and for members.

One array holds a record for each rib (layers from the skin in, then what a spell sets for it), and one more
to look into after the last; another holds the members' rows. Rows stand at constant distances and the arrays
apart, so that the compiler sees that no row overlaps another, and steps through several members at once.
"""

from __future__ import annotations

from leanladder.engine.compiled import inlined
from leanladder.engine.tyre_thermal import LAYERS, Floats

WIDTH = 32  # members in a block
RIBS = 18
# A rib's record after its layers: its share of load and of bending, conductance to air and sky over the
# surface's own, heat that comes from them [W].
BEARS, BENDS, OPEN, COMES = range(LAYERS, LAYERS + 4)
RECORD = LAYERS + 4
# Rows of members: their differences, ...
CROWN, PER_PATCH, PER_FLEX, LOSS, SCRUB, TOUCH, WIND, ROAD_K, AIR_K, SUNLIT = range(10)
# walls, rim and gas, the gas in the middle of the spell, ...
LEFT, RIGHT, RIM, GAS, GAS_MID = range(10, 15)
# what a beat sets: heat in tread and surface and conductance of the road for all of the load, heat in a layer
# of the carcass for all of the bending, what the liner takes from the gas, ...
IN_TREAD, AT_SURFACE, TO_ROAD, IN_CARCASS, FROM_GAS = range(15, 20)
# the load's middle, its share up to the rib before, that up to the first rib, that of bending on the tread,
# twice the carcass under the load, ...
MIDDLE, EDGE, ON_LOAD, ON_BEND, UNDER_LOAD = range(20, 25)
# and sums over a spell: of the liner by rib and time, of rolling loss, and of it to the right wall.
LINER_S, ROLLED, ROLLED_RIGHT = range(25, 28)
PARTS, FLOWED = 28, 28 + LAYERS  # a row a layer: the part of a difference that flows across, what just did
ROWS = 28 + 2 * LAYERS
LINER, WALL_NODES = LAYERS - 1, LAYERS * RIBS  # the innermost layer, and where nodes of walls begin


@inlined
def width(rows: Floats) -> int:
    """Return WIDTH, hidden from the compiler: a short loop of known length it takes member by member."""
    return rows.size // ROWS
