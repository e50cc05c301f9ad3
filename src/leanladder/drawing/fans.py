"""Fans for a page: the rider's, as on the paper card, and a coach's of a turn after a stop."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

from leanladder.domain.circuit import Side
from leanladder.drawing.cell import clamp
from leanladder.drawing.shapes import fan, outline, plank
from leanladder.drawing.svg import (
    SCREEN,
    Inks,
    Name,
    Point,
    document,
    fill,
    label,
    line,
    named,
    number,
    stroke,
)

# A restart's picture [px]: its size, the fan's radius, post from the square side, ground below the top.
_SIZE, _RADIUS, _POST, _GROUND = (66.0, 100.0), 52.0, 15.0, 64.0
_PLANK = (27.0, 20.0)


@dataclass(frozen=True, slots=True)
class Restart:
    """A turn after a stop: its cap now and the one that held at the flag [deg, bike lean, whole]."""

    number: int
    side: Side
    now_deg: int
    flag_deg: int
    least_margin: bool = False


def rider_fan(side: Side, quarters: int, name: Name, *, radius: float = 38.0, inks: Inks = SCREEN) -> str:
    """Return the fan of the paper card for a page; quarters [0..4] of the usual lean, from the post."""
    return named(fan(side, quarters, radius=radius, inks=inks), name, "fan")


def turn_plank(
    figure: int | str,
    side: Side,
    name: Name,
    *,
    height: float = 30.0,
    chosen: bool = False,
    inks: Inks = SCREEN,
) -> str:
    """Return the plank of the paper card for a page; chosen: the turn to respect."""
    return named(plank(figure, side, height=height, chosen=chosen, inks=inks), name, "plank")


def restart_fan(told: Restart, name: Name, *, inks: Inks = SCREEN) -> str:
    """Return a turn after a stop: black to the cap now, pale to that at the flag, both at true angles.

    Where the cap at the flag was lower, a clean line in the black tells where. Below stand the turn's plank
    and the cap now; the small figure is that at the flag. The clamp holds the turn with least margin.
    """
    way = -1 if told.side == "left" else 1
    foot = (_SIZE[0] / 2 - way * (_SIZE[0] / 2 - _POST), _GROUND)
    parts = [*_wedges(told, foot, way, inks), *_below(told, inks)]
    outer = _SIZE[0] / 2 + way * (_SIZE[0] / 2 - 7)
    anchor = "end" if way > 0 else "start"
    parts += [
        line((4.0, _GROUND), (_SIZE[0] - 4, _GROUND), inks.ink, 2.0),
        label((outer, _GROUND - 5), str(told.flag_deg), 13.5, inks.soft, bold=False, anchor=anchor),
    ]
    if told.least_margin:
        parts.append(clamp(0, 0, *_SIZE, arm=10, inks=inks))
    return named(document(*_SIZE, parts), name, "restart")


def _wedges(told: Restart, foot: Point, way: int, inks: Inks) -> list[str]:
    now = fill(_wedge(foot, way, 0, told.now_deg), inks.ink)
    if told.flag_deg > told.now_deg:
        later = _wedge(foot, way, told.now_deg, told.flag_deg)
        return [fill(later, inks.pale), stroke(later, inks.ink, 1.0), now]
    if told.flag_deg < told.now_deg:
        return [now, line(foot, _rim(foot, way, told.flag_deg), inks.ground, 1.6)]
    return [now]


def _wedge(foot: Point, way: int, from_deg: float, to_deg: float) -> str:
    (x1, y1), (x2, y2) = _rim(foot, way, from_deg), _rim(foot, way, to_deg)
    reach, sweep = number(_RADIUS), 1 if way > 0 else 0
    return (
        f"M{number(foot[0])} {number(foot[1])}L{number(x1)} {number(y1)}"
        f"A{reach} {reach} 0 0 {sweep} {number(x2)} {number(y2)}Z"
    )


def _rim(foot: Point, way: int, lean_deg: float) -> Point:
    return foot[0] + way * _RADIUS * sin(radians(lean_deg)), foot[1] - _RADIUS * cos(radians(lean_deg))


def _below(told: Restart, inks: Inks) -> list[str]:
    """Return the turn's plank and the cap now."""
    left, top, (width, height) = 5.0, _GROUND + 7, _PLANK
    middle = left + width * (0.55 if told.side == "left" else 0.45)
    return [
        stroke(outline(told.side, left, top, width, height), inks.ink, 1.5),
        label((middle, top + 15), str(told.number), 13.5, inks.ink),
        label((_SIZE[0] - 6, top + 18), str(told.now_deg), 21, inks.ink, anchor="end"),
    ]
