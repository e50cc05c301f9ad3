"""Marks on a chart: round at the third of the tyre that they stand for, empty for the front."""

from __future__ import annotations

from typing import Literal

from leanladder.drawing.svg import SCREEN, Inks, Point, number

Third = Literal["left", "centre", "right"]
End = Literal["front", "rear"]

# Each is drawn about 0, 0: a shoulder to the left, one to the right, and a square between them.
_SHAPES: dict[Third, str] = {
    "left": "M4 -5H0A5 5 0 0 0 0 5H4Z",
    "right": "M-4 -5H0A5 5 0 0 1 0 5H-4Z",
    "centre": "M-4 -4H4V4H-4Z",
}
_PEN = 1.6


def mark(third: Third, end: End, at: Point, *, inks: Inks = SCREEN) -> str:
    """Return a third's mark at a point: empty for the front tyre, full for the rear, as their glyphs are."""
    inside = inks.ground if end == "front" else inks.ink
    return (
        f'<path d="{_SHAPES[third]}" transform="translate({number(at[0])} {number(at[1])})" '
        f'fill="{inside}" stroke="{inks.ink}" stroke-width="{number(_PEN)}"/>'
    )
