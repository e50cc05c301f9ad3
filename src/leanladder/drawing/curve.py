"""Grip against the rubber's temperature, with where the tyres are now on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leanladder.drawing.axes import LETTER, TEXT, Frame, Plot, axes, framed, spread
from leanladder.drawing.marks import End, Third, mark
from leanladder.drawing.svg import SCREEN, Inks, Name, Point, document, label, line, named, points, stroke

_PEN = 2.6
# Labels stand this far beside the marks, below them, and from one another [px].
_APART, _BELOW, _GAP = 30.0, 44.0, 17.0


@dataclass(frozen=True, slots=True)
class Now:
    """Where a part of a tyre is: rubber_c [degC or the reader's unit], its grip [-], what it is called."""

    rubber_c: float
    grip: float
    words: str
    end: End
    third: Third = "centre"


def curve(plot: Plot, along: Sequence[Point], now: Sequence[Now], name: Name, *, inks: Inks = SCREEN) -> str:
    """Return a curve of grip through points (rubber temperature, grip) and marks for now on it.

    From each mark a line falls to the axis, to read its temperature; its words stand under the curve.
    """
    frame = framed(plot)
    parts = [*axes(frame, inks), stroke(points([_place(frame, point) for point in along]), inks.ink, _PEN)]
    at = [_place(frame, (point.rubber_c, point.grip)) for point in now]
    parts += [line(place, (place[0], frame.bottom), inks.soft, 1.0) for place in at]
    parts += _labels(frame, now, at, inks)
    parts += [mark(point.third, point.end, place, inks=inks) for point, place in zip(now, at, strict=True)]
    return named(document(*plot.size, parts), name, "curve")


def _place(frame: Frame, point: Point) -> Point:
    return frame.x(point[0]), frame.y(point[1])


def _labels(frame: Frame, now: Sequence[Now], at: Sequence[Point], inks: Inks) -> list[str]:
    """Return each mark's words in a column under the curve, right of the marks, or left where no room is."""
    if not now:
        return []
    longest = max(len(point.words) for point in now) * LETTER
    order = sorted(range(len(now)), key=lambda index: at[index][1])
    heights = spread([at[index][1] + _BELOW for index in order], _GAP, frame.top, frame.bottom - 8)
    right = max(x for x, _ in at) + _APART
    way = 1 if right + longest < frame.right else -1
    column = right if way > 0 else min(x for x, _ in at) - _APART
    anchor = "start" if way > 0 else "end"
    parts: list[str] = []
    for index, height in zip(order, heights, strict=True):
        x, y = at[index]
        parts.append(line((x + way * 5, y + 4), (column - way * 4, height), inks.soft, 0.8))
        words, bold = now[index].words, now[index].end == "rear"
        parts.append(label((column, height + 4.5), words, TEXT, inks.ink, bold=bold, anchor=anchor))
    return parts
