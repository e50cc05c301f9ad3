"""The seldom-used side: the lap's turns in order, lefts above rights, and how warm each side gets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.drawing.axes import LETTER, Plot, axes, beside, framed, spread
from leanladder.drawing.marks import mark
from leanladder.drawing.shapes import outline
from leanladder.drawing.svg import (
    SCREEN,
    Inks,
    Name,
    document,
    fill,
    label,
    line,
    named,
    points,
    stroke,
)

_ROW, _PLANK, _GAP, _SHARE = 32.0, (34.0, 24.0), 3.0, 0.75
_SIDES: tuple[Side, Side] = ("left", "right")


@dataclass(frozen=True, slots=True)
class SideLaps:
    """A side's rubber at its turns [degC or the reader's unit], a figure a lap, and what it is called."""

    side: Side
    words: str
    rubber_c: tuple[float, ...]


def turns_by_side(
    circuit: Circuit, words: tuple[str, str], name: Name, *, width: float = 560.0, inks: Inks = SCREEN
) -> str:
    """Return the lap from start to start: turns in order along it, lefts above the line, rights below.

    words: what is written at the two rows, left first, with how many. Planks are as narrow as they must be.
    """
    left = max(map(len, words)) * (LETTER + 1) + 10
    parts = [line((left, _ROW), (width, _ROW), inks.ink, 2.5)]
    for side, called, middle in zip(_SIDES, words, (_ROW / 2 - 1, _ROW * 1.5 + 1), strict=True):
        parts.append(label((0.0, middle + 5), called, 14.5, inks.ink, anchor="start"))
        corners = [corner for corner in circuit.corners if corner.side == side]
        parts += _row(corners, circuit.length_m, (left, width - 1), middle, inks)
    return named(document(width, 2 * _ROW, parts), name, "sides")


def side_laps(plot: Plot, sides: Sequence[SideLaps], name: Name, *, inks: Inks = SCREEN) -> str:
    """Return how warm each side is by lap, from the first: marks round at their side, words at the end."""
    frame = framed(plot, [side.words for side in sides])
    parts = axes(frame, inks)
    labels = []
    for told in sides:
        at = [(frame.x(1 + index), frame.y(warm)) for index, warm in enumerate(told.rubber_c)]
        parts.append(stroke(points(at), inks.ink, 2.0))
        parts += [mark(told.side, "front", place, inks=inks) for place in at]
        labels.append((at[-1], told.words, True))
    return named(document(*plot.size, [*parts, *beside(frame, labels, inks)]), name, "side-laps")


def _row(
    corners: Sequence[Corner], length_m: float, reach: tuple[float, float], middle: float, inks: Inks
) -> list[str]:
    """Return the planks of one side, each as near to where its turn is along the lap as there is room."""
    if not corners:
        return []
    left, right = reach
    size = min(_PLANK[0], (right - left) / len(corners) - _GAP)
    wanted = sorted(left + (right - left) * corner.apex_m / length_m for corner in corners)
    places = spread(wanted, size + _GAP, left + size / 2, right - size / 2)
    in_order = sorted(corners, key=lambda corner: corner.apex_m)
    return [
        part
        for corner, x in zip(in_order, places, strict=True)
        for part in _turn(corner, x, middle, size, inks)
    ]


def _turn(corner: Corner, x: float, middle: float, width: float, inks: Inks) -> list[str]:
    height = min(_PLANK[1], width * _SHARE)
    d = outline(corner.side, x - width / 2, middle - height / 2, width, height)
    clean = x + width * (0.05 if corner.side == "left" else -0.05)
    figure = label((clean, middle + height * 0.22), str(corner.number), height * 0.62, inks.ink)
    return [fill(d, inks.ground), stroke(d, inks.ink, 1.5), figure]
