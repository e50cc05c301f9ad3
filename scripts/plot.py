"""Figures of curves as SVG, for docs: axes with units, a legend, told apart by stroke and not by colour.

One ink and a pale tone, so that a black-and-white print says the same. The same bytes each time.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from html import escape
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from leanladder.drawing import svg

INK, SOFT, HAIR, TONE, GROUND = "#1D1620", "#4A3F4B", "#B9AEB6", "#E6D3DF", "#FFFFFF"
TEXT, SMALL = 13.0, 12.0
LETTER = 0.55  # of the size: how wide a letter is taken to be, on the wide side
LEFT, RIGHT, TOP, BOTTOM, ROW = 46.0, 16.0, 50.0, 44.0, 20.0
# What tells lines apart, in the order they are taken: width [px], dashes, cap.
STROKES = (
    (2.2, "", "butt"),
    (1.8, "8 4", "butt"),
    (2.4, "0.1 5", "round"),
    (1.8, "10 4 2 4", "butt"),
    (1.0, "", "butt"),
    (1.0, "3 3", "butt"),
)


@dataclass(frozen=True)
class Line:
    """A curve of a name, along and up; style is its place in STROKES, None for the next one."""

    name: str
    along: NDArray[Any] | Sequence[float]
    up: NDArray[Any] | Sequence[float]
    style: int | None = None


@dataclass(frozen=True)
class Band:
    """A pale area between low and up, of a name."""

    name: str
    along: NDArray[Any] | Sequence[float]
    low: NDArray[Any] | Sequence[float]
    up: NDArray[Any] | Sequence[float]


@dataclass(frozen=True)
class Dots:
    """Points of a name: hollow rings, or filled."""

    name: str
    along: NDArray[Any] | Sequence[float]
    up: NDArray[Any] | Sequence[float]
    filled: bool = False


@dataclass(frozen=True)
class Axis:
    """What an axis shows, with its unit; from low to high, or down to it, with a tick each step."""

    shows: str
    low: float
    high: float
    step: float

    def ends(self) -> tuple[float, float]:
        """Return the lesser and the greater end; an axis may run downwards."""
        return min(self.low, self.high), max(self.low, self.high)

    def ticks(self) -> list[float]:
        """Return where ticks stand."""
        count = round((self.high - self.low) / self.step)
        return [self.low + self.step * tick for tick in range(count + 1)]


@dataclass(frozen=True)
class Panel:
    """One plot: its title, axes, and what it draws."""

    title: str
    along: Axis
    up: Axis
    drawn: Sequence[Line | Band | Dots]
    notes: Sequence[tuple[float, float, str]] = ()
    wide: float = 330.0
    tall: float = 210.0


@dataclass
class _Placed:
    """A panel at its place."""

    panel: Panel
    x0: float
    y0: float
    parts: list[str] = field(default_factory=list)

    def at(self, along: float, up: float) -> svg.Point:
        """Return where a point stands."""
        x, y = self.panel.along, self.panel.up
        return (
            self.x0 + (along - x.low) / (x.high - x.low) * self.panel.wide,
            self.y0 + (y.high - up) / (y.high - y.low) * self.panel.tall,
        )

    def path(self, along: Iterable[float], up: Iterable[float]) -> str:
        """Return a path through points, held within the frame's top and bottom."""
        low, high = self.panel.up.ends()
        return svg.points(
            self.at(float(a), min(max(float(u), low), high)) for a, u in zip(along, up, strict=True)
        )


def figure(alt: str, panels: Sequence[Panel], columns: int = 2) -> str:
    """Return a figure of panels, columns a row; alt says in a sentence what it shows."""
    rows = [panels[start : start + columns] for start in range(0, len(panels), columns)]
    y, widest, parts = 0.0, 0.0, [f"<title>{escape(alt)}</title>"]
    body: list[str] = []
    for row in rows:
        x, below = 0.0, 0.0
        for panel in row:
            placed = _Placed(panel, x + LEFT, y + TOP)
            _frame(placed)
            _drawn(placed)
            under = _legend(placed)
            body += placed.parts
            x += LEFT + panel.wide + RIGHT
            below = max(below, under)
        widest, y = max(widest, x), below
    parts += [svg.fill(f"M0 0h{svg.number(widest)}v{svg.number(y)}h-{svg.number(widest)}z", GROUND), *body]
    return svg.document(widest, y, parts) + "\n"


def _said(value: float) -> str:
    return f"{value:g}".replace("-", "\N{MINUS SIGN}")


def _frame(placed: _Placed) -> None:
    panel, parts = placed.panel, placed.parts
    parts.append(svg.label((placed.x0 - LEFT + 4, placed.y0 - 30), panel.title, TEXT, INK, anchor="start"))
    parts.append(
        svg.label(
            (placed.x0 - LEFT + 4, placed.y0 - 11), panel.up.shows, SMALL, SOFT, bold=False, anchor="start"
        )
    )
    for tick in panel.up.ticks():
        x, y = placed.at(panel.along.low, tick)
        parts.append(svg.stroke(svg.points([(x, y), (x + panel.wide, y)]), HAIR, 0.6))
        parts.append(svg.label((x - 6, y + 4), _said(tick), SMALL, SOFT, bold=False, anchor="end"))
    for tick in panel.along.ticks():
        x, y = placed.at(tick, panel.up.low)
        parts.append(svg.stroke(svg.points([(x, y), (x, y + 4)]), INK, 1.0))
        parts.append(svg.label((x, y + 17), _said(tick), SMALL, SOFT, bold=False))
    low, high = placed.at(panel.along.low, panel.up.low), placed.at(panel.along.high, panel.up.low)
    parts.append(svg.stroke(svg.points([low, high]), INK, 1.0))
    middle = (placed.x0 + panel.wide / 2, placed.y0 + panel.tall + 35)
    parts.append(svg.label(middle, panel.along.shows, SMALL, SOFT, bold=False))


def styles(panel: Panel) -> dict[str, tuple[float, str, str]]:
    """Return the stroke of each line of a panel by its name."""
    found: dict[str, tuple[float, str, str]] = {}
    for line in panel.drawn:
        if isinstance(line, Line):
            style = len(found) if line.style is None else line.style
            found.setdefault(line.name, STROKES[style % len(STROKES)])
    return found


def _drawn(placed: _Placed) -> None:
    panel, parts, strokes = placed.panel, placed.parts, styles(placed.panel)
    for band in (one for one in panel.drawn if isinstance(one, Band)):
        there = placed.path(band.along, band.up)
        back = placed.path(list(band.along)[::-1], list(band.low)[::-1])
        parts.append(svg.fill(f"{there}L{back[1:]}Z", TONE))
    for line in (one for one in panel.drawn if isinstance(one, Line)):
        width, dash, cap = strokes[line.name]
        for piece in _inside(line, panel.up):
            parts.append(svg.stroke(placed.path(*piece), INK, width, cap=cap, dash=dash))
    for dots in (one for one in panel.drawn if isinstance(one, Dots)):
        parts += [
            _ring(placed.at(float(a), float(u)), dots.filled)
            for a, u in zip(dots.along, dots.up, strict=True)
        ]
    for along, up, words in panel.notes:
        parts.append(svg.label(placed.at(along, up), words, SMALL, INK, bold=False, anchor="start"))


def _inside(line: Line, axis: Axis) -> list[tuple[list[float], list[float]]]:
    """A line's pieces within the frame, cut where they cross its top or bottom; gaps (nan) stay gaps."""
    pieces: list[tuple[list[float], list[float]]] = []
    along, up = (np.asarray(values, dtype=float).tolist() for values in (line.along, line.up))
    open_piece = False
    for here, there in pairwise(zip(along, up, strict=True)):
        cut = _cut(here, there, axis)
        if cut is None:
            open_piece = False
            continue
        if not open_piece:
            pieces.append(([cut[0][0]], [cut[0][1]]))
        pieces[-1][0].append(cut[1][0])
        pieces[-1][1].append(cut[1][1])
        open_piece = cut[1] == there
    return pieces


def _cut(here: svg.Point, there: svg.Point, axis: Axis) -> tuple[svg.Point, svg.Point] | None:
    """The part of a straight piece within the frame, None where there is none."""
    if not all(np.isfinite([*here, *there])):
        return None
    low, high = axis.ends()
    if max(here[1], there[1]) < low or min(here[1], there[1]) > high:
        return None

    def held(point: svg.Point, other: svg.Point) -> svg.Point:
        limit = min(max(point[1], low), high)
        if limit == point[1]:
            return point
        part = (limit - point[1]) / (other[1] - point[1])
        return point[0] + part * (other[0] - point[0]), limit

    return held(here, there), held(there, here)


def _ring(at: svg.Point, filled: bool) -> str:
    x, y = svg.number(at[0]), svg.number(at[1])
    return (
        f'<circle cx="{x}" cy="{y}" r="3.5" fill="{INK if filled else GROUND}" stroke="{INK}" '
        'stroke-width="1.4"/>'
    )


def _legend(placed: _Placed) -> float:
    """Draw what each stroke, tone and ring is, in rows; return where the panel ends."""
    panel, strokes = placed.panel, styles(placed.panel)
    x, y = placed.x0, placed.y0 + panel.tall + BOTTOM + 14
    end = placed.x0 + panel.wide + RIGHT - 4
    told: set[str] = set()
    for one in panel.drawn:
        if not one.name or one.name in told:
            continue
        told.add(one.name)
        long = 36 + len(one.name) * LETTER * SMALL + 14
        if x + long > end and x > placed.x0:
            x, y = placed.x0, y + ROW
        placed.parts.append(_sample(one, (x, y), strokes))
        placed.parts.append(svg.label((x + 36, y), one.name, SMALL, INK, bold=False, anchor="start"))
        x += long
    return y + 14


def _sample(one: Line | Band | Dots, at: svg.Point, strokes: dict[str, tuple[float, str, str]]) -> str:
    x, y = at[0], at[1] - 4
    if isinstance(one, Band):
        return svg.fill(f"M{svg.number(x)} {svg.number(y - 6)}h30v12h-30z", TONE)
    if isinstance(one, Dots):
        return _ring((x + 15, y), one.filled)
    width, dash, cap = strokes[one.name]
    return svg.stroke(svg.points([(x, y), (x + 30, y)]), INK, width, cap=cap, dash=dash)
