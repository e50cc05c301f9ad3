"""Where a group closes up: the longest straights between turns."""

from __future__ import annotations

from leanladder.domain.circuit import Circuit
from leanladder.domain.paper import Straight
from leanladder.planning.paper.figures import count_of, paper_figures


def straights(circuit: Circuit) -> tuple[Straight, ...]:
    """Return the longest straights, from the exit of a turn to the entry of the next, longest first.

    At most four; short ones are left out. Around the start line the last turn is followed by the first.
    """
    corners = circuit.corners
    pairs = zip(corners, (*corners[1:], *corners[:1]), strict=True)
    found = [
        Straight(before.number, after.number, (after.start_m - before.end_m) % circuit.length_m)
        for before, after in pairs
        if before is not after
    ]
    least_m = paper_figures()["straight_least_m"]
    found = [straight for straight in found if straight.length_m >= least_m]
    found.sort(key=lambda straight: (-straight.length_m, straight.from_number))
    return tuple(found[: count_of("straights")])
