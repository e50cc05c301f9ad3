"""The circuit to scale: turns hatched by warmth, each with its plank, the start, and a scale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from leanladder.domain.circuit import Circuit, Corner, Floats
from leanladder.drawing.cell import clamp
from leanladder.drawing.hatch import HOT, LEAST_PEN, Step, step_of
from leanladder.drawing.placing import Box, Ground, places
from leanladder.drawing.shapes import outline
from leanladder.drawing.svg import PAPER, Inks, Point, document, fill, label, points, stroke

_STRAIGHT, _BAND, _EDGE = 7.0, 19.0, 1.8
# Planks are smaller where there are many.
_PLANK, _SMALL_PLANK, _MANY = (42.0, 29.0), (36.0, 25.0), 14
# Wider where they bear their caps too, by so much of their height.
_WITH_CAP = 1.55
# Between planks [px].
_GAP = 5.0
# Round the track, for planks outside it [px].
_ROOM, _MUCH_ROOM = (42.0, 36.0), (58.0, 50.0)
_ROUND_M = (20, 50, 100, 200, 500, 1000, 2000)
# The track is drawn through a point every so many px.
_EVERY = 3.0


@dataclass(frozen=True, slots=True)
class Warmth:
    """A turn's rubber on arrival [degC], and whether it is past its range.

    cap_deg: its cap on that lap, where it is to be written [deg, bike lean, whole]; chosen: looked at.
    """

    rubber_c: float
    hot: bool = False
    cap_deg: int | None = None
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class MapWords:
    """A map's words: what stands at the start line, and a length with a place for its figure."""

    start: str = ""
    metres: str = "{} m"


@dataclass(frozen=True, slots=True)
class _Frame:
    """From metres to px: the track's middle, how much, and where to."""

    circuit: Circuit
    scale: float
    middle_m: Point
    middle: Point

    def at(self, s_m: Floats) -> Floats:
        """Return the points (n, 2) [px] at distances along the lap [m]."""
        lap = self.circuit
        s = np.append(lap.s_m, lap.length_m)
        x = np.interp(s_m % lap.length_m, s, np.append(lap.x_m, lap.x_m[0]))
        y = np.interp(s_m % lap.length_m, s, np.append(lap.y_m, lap.y_m[0]))
        return np.column_stack(
            (
                self.middle[0] + (x - self.middle_m[0]) * self.scale,
                self.middle[1] - (y - self.middle_m[1]) * self.scale,
            )
        )

    def every(self, from_m: float, to_m: float) -> Floats:
        """Return the points [px] from one distance to another, close enough for a curve."""
        count = max(2, int((to_m - from_m) * self.scale / _EVERY) + 1)
        return self.at(np.linspace(from_m, to_m, count))

    def normal(self, s_m: float) -> tuple[Floats, Floats]:
        """Return the way ahead and the way to its left, in px, at a distance along the lap [m]."""
        behind, ahead = self.at(np.array([s_m - 2.0, s_m + 2.0]))
        along = (ahead - behind) / max(float(np.hypot(*(ahead - behind))), 1e-9)
        return along, np.array([along[1], -along[0]])


def circuit_map(
    circuit: Circuit,
    warmth: Mapping[int, Warmth] = MappingProxyType({}),
    *,
    least: int | None = None,
    size: Point = (470.0, 400.0),
    words: MapWords | None = None,
    inks: Inks = PAPER,
) -> str:
    """Return a circuit's map, north up and to scale, its turns numbered on planks.

    warmth by turn number sets how close strokes stand across the turn; a turn without it stays clean.
    least: the turn that the clamp holds. size [px at 150 to the inch]. words: the map's only ones.
    """
    words = words or MapWords()
    frame = _framed(circuit, size)
    track = frame.every(0.0, circuit.length_m)
    start, start_boxes = _start(frame, words.start, inks)
    scale, scale_box = _scale(frame, size, words.metres, inks)
    anchors = [_point(frame.at(np.array([corner.apex_m]))[0]) for corner in circuit.corners]
    plank = _plank_size(circuit, warmth)
    taken = (*start_boxes, scale_box)
    boxes = places(anchors, (plank[0] + _GAP, plank[1] + _GAP), Ground(*size, track, taken))
    parts = [
        *(_leader(anchor, box, inks) for anchor, box in zip(anchors, boxes, strict=True)),
        stroke(points(map(_point, track)) + "Z", inks.ink, _STRAIGHT),
        *(_band(frame, corner, warmth.get(corner.number), inks) for corner in circuit.corners),
        *start,
        *scale,
        *(
            _plank(c, box, warmth.get(c.number), inks, held=c.number == least)
            for c, box in zip(circuit.corners, boxes, strict=True)
        ),
    ]
    return document(*size, parts)


def _framed(circuit: Circuit, size: Point) -> _Frame:
    low = np.array([circuit.x_m.min(), circuit.y_m.min()])
    high = np.array([circuit.x_m.max(), circuit.y_m.max()])
    room = 2 * np.array(_MUCH_ROOM if len(circuit.corners) > _MANY else _ROOM)
    scale = float(((np.array(size) - room) / np.maximum(high - low, 1.0)).min())
    return _Frame(circuit, scale, _point((low + high) / 2), (size[0] / 2, size[1] / 2))


def _band(frame: _Frame, corner: Corner, warmth: Warmth | None, inks: Inks) -> str:
    """Return a turn as a band: strokes across the track, a whole number, their ink cover exact."""
    length = frame.circuit.length_m
    end_m = corner.end_m if corner.end_m > corner.start_m else corner.end_m + length
    d = points(map(_point, frame.every(corner.start_m, end_m)))
    parts = [stroke(d, inks.ink, _BAND), stroke(d, inks.ground, _BAND - 2 * _EDGE)]
    step = None if warmth is None else HOT if warmth.hot else step_of(warmth.rubber_c)
    if step is not None:
        parts.append(_across(frame, corner.start_m, end_m, step, inks))
    if warmth is not None and warmth.hot:
        parts.append(stroke(d, inks.ink, step.pen if step else _EDGE))
    parts += [_bar(frame, at, _BAND / 2, _EDGE, inks) for at in (corner.start_m, end_m)]
    return "".join(parts)


def _across(frame: _Frame, start_m: float, end_m: float, step: Step, inks: Inks) -> str:
    length = (end_m - start_m) * frame.scale
    count = max(1, round(length / step.pitch))
    pen = max(LEAST_PEN, step.cover * length / count)
    return "".join(
        _bar(frame, start_m + (end_m - start_m) * (index + 0.5) / count, _BAND / 2 - _EDGE / 2, pen, inks)
        for index in range(count)
    )


def _bar(frame: _Frame, s_m: float, half: float, pen: float, inks: Inks) -> str:
    """Return a stroke across the track."""
    here, (_, left) = frame.at(np.array([s_m]))[0], frame.normal(s_m)
    return stroke(points([_point(here - half * left), _point(here + half * left)]), inks.ink, pen)


def _start(frame: _Frame, word: str, inks: Inks) -> tuple[list[str], list[Box]]:
    """Return the start line with the way ahead on one side of it and its word where the track is not."""
    here, (along, left) = frame.at(np.array([0.0]))[0], frame.normal(0.0)
    track = frame.every(0.0, frame.circuit.length_m)
    outward = left if float(left @ (here - np.array(frame.middle))) >= 0 else -left
    tip = here + 20 * outward + 26 * along
    arrow = [tip, tip - 17 * along + 7 * outward, tip - 17 * along - 7 * outward]
    flag = Box(*_point((here + tip) / 2 + 8 * outward), *_point(22 + 20 * np.abs(along)))
    box = _word_box(here, outward, along, 9.0 * len(word) + 4, track)
    parts = [
        _bar(frame, 0.0, 15.0, 4.0, inks),
        fill(points(map(_point, arrow)) + "Z", inks.ink),
        label((box.x, box.y + 6), word, 18, inks.ink, bold=False),
    ]
    return parts, [box, flag]


def _word_box(here: Floats, outward: Floats, along: Floats, width: float, track: Floats) -> Box:
    """Return where a word stands beside the start line: off the track, first on its inner side."""
    boxes: list[Box] = []
    for reach in (22.0, 34.0, 50.0):
        for back in (0.0, -24.0, 24.0, -48.0, 48.0):
            for way in (-1.0, 1.0):
                if way > 0 and back >= 0:
                    continue  # the arrow stands there
                off = reach + abs(float(outward[0])) * width / 2
                boxes.append(Box(*_point(here + way * off * outward + back * along), width, 20))
    return min(boxes, key=lambda box: float(box.holds(track, 11.0).sum()))


def _scale(frame: _Frame, size: Point, word: str, inks: Inks) -> tuple[list[str], Box]:
    """Return a scale of a round length, at the corner of the map that the track leaves freest."""
    longest = size[0] * 0.3 / frame.scale
    metres = max((length for length in _ROUND_M if length <= longest), default=_ROUND_M[0])
    width = metres * frame.scale
    track = frame.every(0.0, frame.circuit.length_m)
    spots = [
        Box(x, y, width + 10, 30)
        for y in (size[1] - 17, 17)
        for x in (width / 2 + 6, size[0] - width / 2 - 6)
    ]
    box = min(spots, key=lambda spot: float(spot.holds(track, 46.0).sum()))
    left, right, base = box.x - width / 2, box.x + width / 2, box.y + 12
    ends = [(left, base - 6), (left, base), (right, base), (right, base - 6)]
    return [
        stroke(points(ends), inks.ink, 1.6),
        label((box.x, base - 7), word.format(metres), 18, inks.ink, bold=False),
    ], box


def _plank_size(circuit: Circuit, warmth: Mapping[int, Warmth]) -> Point:
    width, height = _SMALL_PLANK if len(circuit.corners) > _MANY else _PLANK
    capped = any(told.cap_deg is not None for told in warmth.values())
    return width + (height * _WITH_CAP if capped else 0.0), height


def _leader(anchor: Point, box: Box, inks: Inks) -> str:
    return stroke(points([anchor, (box.x, box.y)]), inks.ink, 1.1)


def _plank(corner: Corner, box: Box, told: Warmth | None, inks: Inks, *, held: bool) -> str:
    """Return a turn's plank at its place: its number, its cap where there is one; reversed where chosen."""
    width, height = box.width - _GAP, box.height - _GAP
    left, top = box.x - width / 2, box.y - height / 2
    d = outline(corner.side, left, top, width, height)
    reversed_ = told is not None and told.chosen
    ground, ink = (inks.ink, inks.ground) if reversed_ else (inks.ground, inks.ink)
    words = _plank_words(corner, told, (left, top, width, height), ink)
    held_by = clamp(left - 7, top - 7, width + 14, height + 14, arm=12, inks=inks) if held else ""
    return fill(d, ground) + stroke(d, inks.ink, 1.5) + words + held_by


def _plank_words(
    corner: Corner, told: Warmth | None, place: tuple[float, float, float, float], ink: str
) -> str:
    left, top, width, height = place
    base, size = top + height * 0.72, height * 0.7
    if told is None or told.cap_deg is None:
        middle = left + width * (0.56 if corner.side == "left" else 0.44)
        return label((middle, base), str(corner.number), size, ink)
    # The number first on either side, so that both read alike.
    start = left + height * (0.75 if corner.side == "left" else 0.52)
    bar = start + height * 0.62
    parted = stroke(points([(bar, top + height * 0.2), (bar, top + height * 0.8)]), ink, 1.0)
    cap = label((bar + height * 0.2, base), f"{told.cap_deg}°", size, ink, bold=False, anchor="start")
    return label((start, base), str(corner.number), size, ink) + parted + cap


def _point(where: Floats) -> Point:
    return float(where[0]), float(where[1])
