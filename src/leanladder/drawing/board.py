"""The ladder on a page: one picture a cell, so that a table of laps and turns stays a table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from leanladder.domain.circuit import Side
from leanladder.domain.ladder import PlanLimit
from leanladder.drawing.cell import clamp, hot_scale, rounded
from leanladder.drawing.glyphs import glyph, glyph_picture
from leanladder.drawing.hatch import STEPS, hatching
from leanladder.drawing.shapes import outline
from leanladder.drawing.svg import (
    SCREEN,
    Inks,
    Name,
    box,
    document,
    fill,
    label,
    named,
    number,
    points,
    stroke,
)

# The plank, and the room round it for the clamp: together 44 high, for a finger [px].
_PLANK, _ROOM = (58.0, 34.0), 5.0
_LINE, _FIGURE, _GLYPH, _ARM = 1.5, 19.0, 9.0, 11.0
# Of a plank's width: its clean end.
_CLEAN = 0.56
# A legend's boxes are so high [px].
_LEGEND = 20.0


@dataclass(frozen=True, slots=True)
class LadderCell:
    """A turn on a lap: cap_deg [deg, bike lean, whole, rounded down], rubber_c [degC] and what sets it.

    rubber_c: the colder tyre's shoulder on arrival; hot: past its range; chosen: the point looked at;
    given: False for one that is only being tried or not final, drawn with a dashed frame.
    """

    cap_deg: int
    rubber_c: float
    limited_by: PlanLimit
    least_margin: bool = False
    hot: bool = False
    chosen: bool = False
    given: bool = True


def ladder_cell(side: Side, told: LadderCell, name: Name, *, inks: Inks = SCREEN) -> str:
    """Return a cell of the ladder, 68 by 44 px: the cap and its reason on clean ground, then the shoulder.

    Strokes lean as far as the cap and close up with warmth; past the hot limit they cross. The clamp holds
    the lap's least margin; a chosen cell's clean end is reversed.
    """
    width, height = _PLANK
    size = width + 2 * _ROOM, height + 2 * _ROOM
    d = outline(side, _ROOM, _ROOM, width, height)
    region = rounded(side, (_ROOM, _ROOM), _PLANK, 1 - _CLEAN)
    parts = [
        fill(d, inks.ground),
        fill(hatching(region, side, told.cap_deg, told.rubber_c, hot=told.hot), inks.hatch),
        *_clean_end(side, told, inks),
        stroke(d, inks.ink, _LINE, dash="" if told.given else "4 3"),
    ]
    if told.least_margin:
        parts.append(clamp(0, 0, *size, arm=_ARM, inks=inks))
    return named(document(*size, parts), name, "ladder-cell")


def limit_mark(limit: PlanLimit, name: Name, *, size: float = 15.0, inks: Inks = SCREEN) -> str:
    """Return the mark of what sets a limit, for a legend or beside its words."""
    return named(glyph_picture(limit, size, inks=inks), name, "limit")


def warmth_legend(
    name: Name, *, worded: Callable[[float], str] = number, width: float = 330.0, inks: Inks = SCREEN
) -> str:
    """Return the legend of the strokes: a box a step, cold to warm, and where each begins.

    worded writes a temperature [degC] in the reader's unit.
    """
    each, bottom = (width - 2) / len(STEPS), 1 + _LEGEND
    parts: list[str] = []
    for index, step in enumerate(STEPS):
        left = 1 + index * each
        right = left + each - 2
        corners = [(left, 1.0), (right, 1.0), (right, bottom), (left, bottom)]
        warm = step.from_c if index else STEPS[1].from_c - 1
        parts.append(fill(hatching(corners, "right", 0.0, warm), inks.hatch))
        parts.append(stroke(points(corners) + "Z", inks.ink, 1.0))
        if index:
            parts.append(label((left - 1, bottom + 15), worded(step.from_c), 12, inks.soft, bold=False))
    return named(document(width, bottom + 20, parts), name, "warmth-legend")


def hot_legend(name: Name, *, inks: Inks = SCREEN) -> str:
    """Return the legend's box for rubber past its range: crossed strokes."""
    return named(hot_scale(38.0, 1 + _LEGEND, inks=inks), name, "hot-legend")


def _clean_end(side: Side, told: LadderCell, inks: Inks) -> list[str]:
    """Return the cap over the mark of what sets it; both in ground on ink where chosen."""
    width, height = _PLANK
    clean = width * _CLEAN
    left = _ROOM + (width - clean if side == "left" else 0.0)
    ink = Inks(inks.ground, inks.ink) if told.chosen else inks
    plate = [fill(box(left, _ROOM, clean, height), inks.ink)] if told.chosen else []
    middle = left + clean / 2
    return [
        *plate,
        label((middle, _ROOM + height * 0.52), str(told.cap_deg), _FIGURE, ink.ink),
        glyph(told.limited_by, (middle, _ROOM + height * 0.77), _GLYPH, inks=ink),
    ]
