"""The shapes that stand for a turn: the fan that riders read, and the plank that bears its number."""

from __future__ import annotations

from math import cos, pi, sin

from leanladder.domain.circuit import Side
from leanladder.drawing.svg import PAPER, Inks, Point, document, fill, label, number, stroke

QUARTERS = 4
_QUARTER_RAD = pi / 2 / QUARTERS

# Shares of the fan's radius.
_POST, _FRAME, _RIB, _GAP, _OVER = 0.085, 0.045, 0.022, 0.045, 0.11
# Shares of the plank's height.
_PLANK_LINE, _FIGURE = 0.055, 0.62


def fan(side: Side, quarters: int, *, radius: float = 46.0, inks: Inks = PAPER) -> str:
    """Return the fan of a turn: the post is upright, black wedges are quarters of the usual lean.

    quarters [0..4] counts from the post to the side leaned to; 0 is an empty fan. The picture is
    1.13 radii wide and 1.14 high, the post at the square end. Raises ValueError outside 0 to 4.
    """
    if not 0 <= quarters <= QUARTERS:
        raise ValueError(f"quarters must be 0 to {QUARTERS}, not {quarters}")
    way = _way(side)
    width = radius * (1 + _POST + _FRAME)
    foot = (radius * (_FRAME / 2 + 1 if side == "left" else _POST + _FRAME / 2), radius * (1 + _OVER))
    parts = [_empty(foot, way, radius, index, inks) for index in range(quarters, QUARTERS)]
    parts += [_wedge(foot, way, radius, index, inks) for index in range(quarters)]
    parts.append(stroke(f"{_sector(foot, way, radius, 0, QUARTERS)}", inks.ink, radius * _FRAME))
    post_x = foot[0] - way * radius * _POST / 2
    parts.append(
        stroke(f"M{number(post_x)} {number(foot[1] + radius * _FRAME / 2)}V0", inks.ink, radius * _POST)
    )
    return document(width, radius * (1 + _OVER + _FRAME / 2), parts)


def plank(
    figure: int | str, side: Side, *, height: float = 34.0, chosen: bool = False, inks: Inks = PAPER
) -> str:
    """Return a turn's plank: its rounded end is the side leaned to, its number at the square end.

    chosen: reversed, for the turn to respect. The picture is 1.4 times as wide as high.
    """
    width, line = height * 1.4, height * _PLANK_LINE
    ground, ink = (inks.ink, inks.ground) if chosen else (inks.ground, inks.ink)
    d = outline(side, line / 2, line / 2, width - line, height - line)
    middle = width * (0.55 if side == "left" else 0.45)
    return document(
        width,
        height,
        [
            fill(d, ground),
            stroke(d, inks.ink, line),
            label((middle, height * 0.715), str(figure), height * _FIGURE, ink),
        ],
    )


def outline(side: Side, left: float, top: float, width: float, height: float) -> str:
    """Return the path of a plank: half round at the side leaned to, square at the other."""
    radius = height / 2
    square, round_ = (left + width, left + radius) if side == "left" else (left, left + width - radius)
    sweep = 0 if side == "left" else 1
    arc = f"A{number(radius)} {number(radius)} 0 0 {sweep}"
    return (
        f"M{number(square)} {number(top)}H{number(round_)}"
        f"{arc} {number(round_)} {number(top + height)}H{number(square)}Z"
    )


def _way(side: Side) -> int:
    return -1 if side == "left" else 1


def _rim(foot: Point, way: int, radius: float, quarter: float) -> Point:
    angle = quarter * _QUARTER_RAD
    return foot[0] + way * radius * sin(angle), foot[1] - radius * cos(angle)


def _sector(foot: Point, way: int, radius: float, first: float, last: float) -> str:
    (x1, y1), (x2, y2) = _rim(foot, way, radius, first), _rim(foot, way, radius, last)
    sweep = 1 if way > 0 else 0
    return (
        f"M{number(foot[0])} {number(foot[1])}L{number(x1)} {number(y1)}"
        f"A{number(radius)} {number(radius)} 0 0 {sweep} {number(x2)} {number(y2)}Z"
    )


def _empty(foot: Point, way: int, radius: float, index: int, inks: Inks) -> str:
    d = _sector(foot, way, radius, index, index + 1)
    return fill(d, inks.ground) + stroke(d, inks.ink, radius * _RIB)


def _wedge(foot: Point, way: int, radius: float, index: int, inks: Inks) -> str:
    d = _sector(foot, way, radius, index, index + 1)
    return fill(d, inks.ink) + stroke(d, inks.ground, radius * _GAP)
