"""The small marks that say what sets a limit; each always stands in a legend."""

from __future__ import annotations

from leanladder.domain.ladder import PlanLimit
from leanladder.drawing.svg import PAPER, Inks, Point, document, fill, number, stroke

# Each is drawn in a square of 10 with its middle at 0, 0.
_FILLED = {
    "caution_card": "M-3.6 -4.6H1.2L4 -1.8V4.6H-3.6Z",
    "rear_grip": "M-4.4 0A4.4 4.4 0 0 1 4.4 0A4.4 4.4 0 0 1 -4.4 0Z",
}
_STROKED = {
    "front_grip": "M-3.7 0A3.7 3.7 0 0 1 3.7 0A3.7 3.7 0 0 1 -3.7 0Z",
    "level_top": "M-4.2 -3.4H4.2M0 -3.4V4.6",
    "clearance": "M4.6 3.9H-4.2L2.8 -4.6",
    "scrubbing": "M-4.2 -2.4H4.2M-4.2 2.4H4.2",
    "power": "M-4.4 3.4L0 -3.4L4.4 3.4",
    "braking": "M-4.4 -3.4L0 3.4L4.4 -3.4",
    "line": "M-4.4 3.2C-0.8 3.2 0.8 -3.2 4.4 -3.2",
}
_PEN = 2.1


def glyph(limit: PlanLimit, at: Point = (5.0, 5.0), size: float = 10.0, *, inks: Inks = PAPER) -> str:
    """Return the mark of a limit, its middle at a point, for a drawing of ours.

    A folded card: caution card; a ring: front grip; a disc: rear grip; a T: top of the level; a slope on
    the ground: clearance; two bars: scrubbing. Of the planned lap, an arrow up: power; an arrow down:
    braking; a bend: line.
    """
    place = f'<g transform="translate({number(at[0])} {number(at[1])}) scale({number(size / 10)})">'
    if limit in _FILLED:
        return place + fill(_FILLED[limit], inks.ink) + "</g>"
    return place + stroke(_STROKED[limit], inks.ink, _PEN) + "</g>"


def glyph_picture(limit: PlanLimit, size: float = 15.0, *, inks: Inks = PAPER) -> str:
    """Return the mark of a limit as a drawing of its own."""
    return document(size, size, [glyph(limit, (size / 2, size / 2), size, inks=inks)])
