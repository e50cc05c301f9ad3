"""Hatching: strokes that lean as far as one may, and close up as the rubber warms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, pi, radians, sin

from leanladder.domain.circuit import Side
from leanladder.drawing.svg import Point, number


@dataclass(frozen=True, slots=True)
class Step:
    """A step of warmth: from_c [degC] up, pitch and pen of its strokes [px at 150 to the inch]."""

    from_c: float
    pitch: float
    pen: float

    @property
    def cover(self) -> float:
        """The share of ink [0..1]."""
        return self.pen / self.pitch


# Even in CIE lightness from step to step when printed in one ink (decision 0015).
STEPS = (
    Step(float("-inf"), 11.0, 1.1),
    Step(10.0, 8.5, 2.0),
    Step(15.0, 7.0, 2.5),
    Step(20.0, 6.0, 2.8),
    Step(25.0, 5.2, 2.95),
    Step(30.0, 4.6, 3.0),
    Step(35.0, 4.1, 3.0),
    Step(40.0, 3.7, 2.95),
    Step(45.0, 3.4, 2.9),
)
# Past the hot limit strokes cross, so that too warm never looks like more.
HOT = Step(float("inf"), 6.5, 1.5)

# The thinnest stroke that every printer prints: 0.18 mm.
LEAST_PEN = 1.06


def step_of(rubber_c: float) -> Step:
    """Return the step that a temperature of the rubber [degC] falls on."""
    return [step for step in STEPS if step.from_c <= rubber_c][-1]


def hatching(
    region: Sequence[Point], side: Side, cap_deg: float, rubber_c: float, *, hot: bool = False
) -> str:
    """Return one filled path: strokes over a convex region, leaning from upright to the side by the cap.

    cap_deg [deg, bike lean] is the strokes' true angle; rubber_c [degC] sets how close they stand, and
    their ink covers exactly its step's share of the region. hot: the strokes cross at right angles.
    """
    step = HOT if hot else step_of(rubber_c)
    lean = radians(cap_deg) * (-1 if side == "left" else 1)
    strokes = _covering(region, lean, step)
    if hot:
        strokes += _covering(region, lean + pi / 2, step)
    return "".join(_closed(stroke) for stroke in strokes)


def area(polygon: Sequence[Point]) -> float:
    """Return the area of a polygon [px2], whichever way round it runs."""
    turned = zip(polygon, (*polygon[1:], *polygon[:1]), strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in turned)) / 2


def _covering(region: Sequence[Point], lean: float, step: Step) -> list[list[Point]]:
    across = (cos(lean), sin(lean))
    middles = _middles([_along(point, across) for point in region], step.pitch)
    wanted, pen = step.cover * area(region), step.pen
    strokes: list[list[Point]] = []
    for _ in range(4):
        strokes = _strokes(region, across, middles, pen)
        pen = max(LEAST_PEN, pen * wanted / max(sum(map(area, strokes)), 1e-6))
    return strokes


def _middles(reach: Sequence[float], pitch: float) -> list[float]:
    """Return where strokes stand across a region: at the pitch, as far from one edge as from the other."""
    low, high = min(reach), max(reach)
    count = max(2, round((high - low) / pitch))
    return [low + (high - low) * (index + 0.5) / count for index in range(count)]


def _strokes(
    region: Sequence[Point], across: Point, middles: Iterable[float], pen: float
) -> list[list[Point]]:
    strips = (
        _cut(_cut(region, across, middle - pen / 2), (-across[0], -across[1]), -middle - pen / 2)
        for middle in middles
    )
    return [strip for strip in strips if len(strip) > 2]


def _cut(polygon: Sequence[Point], normal: Point, least: float) -> list[Point]:
    """Return what of a convex polygon lies at `least` or further along a normal."""
    kept: list[Point] = []
    for here, there in zip(polygon, (*polygon[1:], *polygon[:1]), strict=True):
        a, b = _along(here, normal) - least, _along(there, normal) - least
        if a >= 0:
            kept.append(here)
        if (a >= 0) != (b >= 0):
            share = a / (a - b)
            kept.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
    return kept


def _along(point: Point, normal: Point) -> float:
    return point[0] * normal[0] + point[1] * normal[1]


def _closed(polygon: Iterable[Point]) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in polygon) + "Z"
