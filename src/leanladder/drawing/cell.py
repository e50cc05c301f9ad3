"""A cell of the coach's table: the cap on clean ground, why, and hatching on the shoulder it is for."""

from __future__ import annotations

from math import cos, pi, sin

from leanladder.domain.circuit import Side
from leanladder.domain.paper import CoachCell
from leanladder.drawing.glyphs import glyph
from leanladder.drawing.hatch import STEPS, hatching
from leanladder.drawing.shapes import outline
from leanladder.drawing.svg import PAPER, Inks, Point, document, fill, label, number, points, stroke

# Room round a cell for the clamp [px at 150 to the inch].
ROOM = 7.0
_LINE, _HEAVY = 1.6, 4.5
# Below this height the mark stands beside the figure, not under it [px].
_ROW = 40.0
# Of a cell's width: the hatched end, of a high cell and of a low one.
_HATCHED, _HATCHED_LOW = 0.44, 0.35


def cell(
    side: Side, told: CoachCell, *, width: float = 82.0, height: float = 46.0, inks: Inks = PAPER
) -> str:
    """Return a cell's drawing, with room for the clamp all round it.

    width and height [px at 150 to the inch] are those of the plank; strokes keep their own measure.
    """
    region = shoulder(side, ROOM, ROOM, width, height)
    d = outline(side, ROOM, ROOM, width, height)
    parts = [
        fill(d, inks.ground),
        fill(hatching(region, side, told.cap_deg, told.rubber_c, hot=told.hot), inks.ink),
        stroke(d, inks.ink, _LINE),
        *_figure(side, told, width, height, inks),
    ]
    if told.least_margin:
        parts.append(clamp(0, 0, width + 2 * ROOM, height + 2 * ROOM, inks=inks))
    return document(width + 2 * ROOM, height + 2 * ROOM, parts)


def shoulder(side: Side, left: float, top: float, width: float, height: float) -> list[Point]:
    """Return the hatched end of a plank as a convex polygon: the side leaned to."""
    return rounded(side, (left, top), (width, height), _hatched(height))


def rounded(side: Side, corner: Point, size: Point, share: float) -> list[Point]:
    """Return the rounded end of a plank, a share of its width, as a convex polygon."""
    (left, top), (width, height) = corner, size
    radius, way = height / 2, -1 if side == "left" else 1
    middle = left + radius if side == "left" else left + width - radius
    inner = left + width * (share if side == "left" else 1 - share)
    arc = [
        (middle + way * radius * sin(pi * index / 24), top + radius - radius * cos(pi * index / 24))
        for index in range(25)
    ]
    return [(inner, top), *arc, (inner, top + height)]


def clamp(
    left: float, top: float, width: float, height: float, *, arm: float = 15.0, inks: Inks = PAPER
) -> str:
    """Return four heavy corners round a place: the least margin, and nothing else."""
    half = _HEAVY / 2
    x1, x2, y1, y2 = left + half, left + width - half, top + half, top + height - half
    corners = [
        [(x1 + arm, y1), (x1, y1), (x1, y1 + arm)],
        [(x2 - arm, y1), (x2, y1), (x2, y1 + arm)],
        [(x1 + arm, y2), (x1, y2), (x1, y2 - arm)],
        [(x2 - arm, y2), (x2, y2), (x2, y2 - arm)],
    ]
    d = "".join(points(corner) for corner in corners)
    return (
        f'<path d="{d}" fill="none" stroke="{inks.ink}" stroke-width="{number(_HEAVY)}" '
        'stroke-linejoin="miter"/>'
    )


def warmth_scale(width: float = 340.0, height: float = 26.0, *, inks: Inks = PAPER) -> str:
    """Return the legend of the hatching: a box a step, cold to warm, and where each begins [degC]."""
    each, least = width / len(STEPS), 8.0
    parts: list[str] = []
    for index, step in enumerate(STEPS):
        x = index * each
        box = [(x, 1.0), (x + each - 2.5, 1.0), (x + each - 2.5, height), (x, height)]
        warm = step.from_c if index else least
        parts += [fill(hatching(box, "right", 0.0, warm), inks.ink), stroke(points(box) + "Z", inks.ink, 1.2)]
        if index:
            parts.append(label((x - 1.25, height + 19), f"{step.from_c:.0f}", 18, inks.ink, bold=False))
    return document(width, height + 24, parts)


def hot_scale(width: float = 42.0, height: float = 26.0, *, inks: Inks = PAPER) -> str:
    """Return the legend's box for rubber past its range: crossed strokes."""
    box = [(1.0, 1.0), (width - 1, 1.0), (width - 1, height), (1.0, height)]
    crossed = fill(hatching(box, "right", 30.0, 0.0, hot=True), inks.hatch)
    return document(width, height + 1, [crossed, stroke(points(box) + "Z", inks.ink, 1.2)])


def _hatched(height: float) -> float:
    return _HATCHED if height >= _ROW else _HATCHED_LOW


def _figure(side: Side, told: CoachCell, width: float, height: float, inks: Inks) -> list[str]:
    """Return the cap and its mark on the clean end: under it, or beside it where the cell is low."""
    clean = width * (1 - _hatched(height))
    middle = ROOM + (width - clean / 2 if side == "left" else clean / 2)
    cap = str(told.cap_deg)
    if height >= _ROW:
        figure = label((middle, ROOM + height * 0.52), cap, 27, inks.ink)
        return [figure, glyph(told.limited_by, (middle, ROOM + height * 0.77), 14, inks=inks)]
    size = min(25.0, height * 0.82)
    mark = (middle + size * 0.62, ROOM + height / 2)
    figure = label((middle - size * 0.36, ROOM + height / 2 + size * 0.33), cap, size, inks.ink)
    return [figure, glyph(told.limited_by, mark, size * 0.56, inks=inks)]
