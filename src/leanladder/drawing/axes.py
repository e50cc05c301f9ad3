"""What a chart stands on: two axes with their words, grounds, uprights, and labels set apart."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from leanladder.drawing.svg import SCREEN, Inks, Point, box, fill, label, line, points, stroke

# Text of a chart, and what a letter of it takes across [px].
TEXT, LETTER = 13.0, 6.8
# Labels beside one another stand this far apart, and this far from the plot [px].
_GAP, _LEADER = 16.0, 22.0
# A chart's rooms [px]: left for figures, above for words, below for figures and words.
_LEFT, _TOP, _BOTTOM = 40.0, 44.0, 42.0
_ROUND = (1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis: what it measures in words, from low to high, and how a figure on it is written.

    Without worded, figures have the decimals that their step needs.
    """

    words: str
    low: float
    high: float
    worded: Callable[[float], str] | None = None


@dataclass(frozen=True, slots=True)
class Band:
    """A ground across the chart, from low to high on the upright axis, and what it is."""

    low: float
    high: float
    words: str


@dataclass(frozen=True, slots=True)
class Upright:
    """A hairline up the chart at a place of the level axis, and its words above."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class Plot:
    """A chart without what is drawn in it: its axes, grounds, uprights and size [px]."""

    across: Axis
    up: Axis
    bands: tuple[Band, ...] = ()
    uprights: tuple[Upright, ...] = ()
    size: Point = (560.0, 300.0)


@dataclass(frozen=True, slots=True)
class Frame:
    """A plot's inner rectangle [px], and how values fall on it."""

    plot: Plot
    left: float
    right: float
    top: float
    bottom: float

    def x(self, value: float) -> float:
        """Return where a value of the level axis stands [px]."""
        axis = self.plot.across
        return self.left + (self.right - self.left) * (value - axis.low) / (axis.high - axis.low)

    def y(self, value: float) -> float:
        """Return where a value of the upright axis stands [px]."""
        axis = self.plot.up
        return self.bottom - (self.bottom - self.top) * (value - axis.low) / (axis.high - axis.low)


def axis_about(
    words: str,
    values: Iterable[float],
    *,
    least_span: float = 1.0,
    worded: Callable[[float], str] | None = None,
) -> Axis:
    """Return an axis that begins and ends on round figures about some values, no shorter than a span.

    The least span keeps small changes small. Raises ValueError without values.
    """
    told = list(values)
    if not told:
        raise ValueError("an axis needs values")
    low, high = min(told), max(told)
    short = max(0.0, least_span - (high - low)) / 2
    step = _step(low - short, high + short)
    first, last = floor((low - short) / step + 1e-9), ceil((high + short) / step - 1e-9)
    return Axis(words, first * step, max(last, first + 1) * step, worded)


def laps_axis(words: str, laps: int) -> Axis:
    """Return an axis of whole laps from the first, with half a lap to spare at its ends."""
    return Axis(words, 0.5, laps + 0.5)


def ticks(axis: Axis) -> list[float]:
    """Return the round figures that stand on an axis, four to nine of them as a rule."""
    step = _step(axis.low, axis.high)
    first, last = ceil(axis.low / step - 1e-9), floor(axis.high / step + 1e-9)
    return [round(index * step, 9) for index in range(first, last + 1)]


def figures(axis: Axis) -> list[str]:
    """Return what is written at an axis's ticks, all with as many decimals."""
    if axis.worded is not None:
        return [axis.worded(tick) for tick in ticks(axis)]
    decimals = max(0, -floor(log10(_step(axis.low, axis.high)) + 1e-9))
    return [f"{tick:.{decimals}f}" for tick in ticks(axis)]


def framed(plot: Plot, beside: Sequence[str] = ()) -> Frame:
    """Return the frame of a plot that leaves room for labels beside it."""
    words = max((len(text) for text in beside), default=0)
    room = words * LETTER + _LEADER + 6 if words else 14.0
    return Frame(plot, _LEFT, plot.size[0] - room, _TOP, plot.size[1] - _BOTTOM)


def axes(frame: Frame, inks: Inks = SCREEN) -> list[str]:
    """Return grounds, uprights, hairlines and figures of a plot, and what its axes measure."""
    plot = frame.plot
    parts = [_ground(frame, band, inks) for band in plot.bands]
    for tick, figure in zip(ticks(plot.up), figures(plot.up), strict=True):
        y = frame.y(tick)
        parts.append(line((frame.left, y), (frame.right, y), inks.rule, 0.8))
        parts.append(_words((frame.left - 7, y + 4.5), figure, inks.soft, "end"))
    for tick, figure in zip(ticks(plot.across), figures(plot.across), strict=True):
        x = frame.x(tick)
        parts.append(line((x, frame.bottom), (x, frame.bottom + 5), inks.ink, 1.2))
        parts.append(_words((x, frame.bottom + 18), figure, inks.soft, "middle"))
    for upright in plot.uprights:
        x = frame.x(upright.at)
        parts.append(line((x, frame.top), (x, frame.bottom), inks.rule, 0.8))
        parts.append(_words((x, frame.top - 6), upright.words, inks.soft, "middle"))
    return [
        *parts,
        *(_named_ground(frame, band, inks) for band in plot.bands),
        line((frame.left, frame.bottom), (frame.right, frame.bottom), inks.ink, 1.6),
        _words((0.0, 14.0), plot.up.words, inks.ink, "start"),
        _words((frame.left, frame.bottom + 36), plot.across.words, inks.ink, "start"),
    ]


def beside(frame: Frame, wanted: Sequence[tuple[Point, str, bool]], inks: Inks = SCREEN) -> list[str]:
    """Return labels at a plot's right edge, each led to from its point; bold where told so."""
    bend = frame.right + 4
    order = sorted(range(len(wanted)), key=lambda index: wanted[index][0][1])
    heights = spread([wanted[index][0][1] for index in order], _GAP, frame.top - 6, frame.bottom - 8)
    parts: list[str] = []
    for index, height in zip(order, heights, strict=True):
        (x, y), words, bold = wanted[index]
        leader = [(x + 7, y), (max(x + 7, bend), y), (bend + _LEADER - 8, height)]
        parts.append(stroke(points(leader), inks.soft, 0.8))
        at = (bend + _LEADER - 4, height + 4.5)
        parts.append(label(at, words, TEXT, inks.ink, bold=bold, anchor="start"))
    return parts


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return rising places as near as can be to rising wanted ones, a gap apart, from low to high.

    Neighbours that are too near share a middle. Where all do not fit, they begin at low.
    """
    blocks: list[tuple[float, int]] = []
    for index, place in enumerate(wanted):
        total, count = place - index * gap, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            before = blocks.pop()
            total, count = total + before[0], count + before[1]
        blocks.append((total, count))
    bases = [total / count for total, count in blocks for _ in range(count)]
    most = high - (len(bases) - 1) * gap
    return [max(low, min(base, most)) + index * gap for index, base in enumerate(bases)]


def _step(low: float, high: float) -> float:
    """Return the round step that divides a span in four to nine."""
    raw = max(high - low, 1e-9) / 6
    power = 10.0 ** floor(log10(raw))
    return next(power * step for step in _ROUND if power * step >= raw * 0.75)


def _seen(frame: Frame, band: Band) -> tuple[float, float] | None:
    """Return from where to where a band is seen [px], top first; None where none of it lies in the chart."""
    axis = frame.plot.up
    low, high = max(band.low, axis.low), min(band.high, axis.high)
    return (frame.y(high), frame.y(low)) if low < high else None


def _ground(frame: Frame, band: Band, inks: Inks) -> str:
    """Return a band's ground, and its edges where they lie in the chart."""
    seen, axis = _seen(frame, band), frame.plot.up
    if seen is None:
        return ""
    top, bottom = seen
    edges = [frame.y(edge) for edge in (band.low, band.high) if axis.low < edge < axis.high]
    return fill(box(frame.left, top, frame.right - frame.left, bottom - top), inks.wash) + "".join(
        line((frame.left, y), (frame.right, y), inks.soft, 1.2) for y in edges
    )


def _named_ground(frame: Frame, band: Band, inks: Inks) -> str:
    """Return a band's words in its upper left, on clean ground."""
    seen = _seen(frame, band)
    if seen is None:
        return ""
    at = (frame.left + 6, min(seen[0] + 16, seen[1] - 4))
    clean = fill(box(at[0] - 3, at[1] - 12, len(band.words) * LETTER + 6, 15), inks.wash)
    return clean + _words(at, band.words, inks.soft, "start")


def _words(at: Point, words: str, ink: str, anchor: str) -> str:
    return label(at, words, TEXT, ink, bold=False, anchor=anchor)
