"""How heat gets in and out of a tyre: plain bars from one line, all to one scale."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from leanladder.drawing.axes import LETTER, TEXT
from leanladder.drawing.hatch import hatching
from leanladder.drawing.svg import SCREEN, Inks, Name, box, document, fill, label, line, named, number, stroke

Way = Literal["in", "out", "stored"]

_ROW, _BAR, _HEAD = 24.0, 15.0, 30.0
# Warmth whose hatching tells heat that stays from heat that comes [degC].
_KEPT_C = 22.0


@dataclass(frozen=True, slots=True)
class Flow:
    """A flow of heat by its name, kj_per_lap [kJ a lap]; below nothing it goes the other way."""

    words: str
    kj_per_lap: float


@dataclass(frozen=True, slots=True)
class Flows:
    """Flows that go one way, under a heading."""

    words: str
    way: Way
    flows: tuple[Flow, ...]


def heat(
    groups: Sequence[Flows],
    name: Name,
    *,
    width: float = 560.0,
    worded: Callable[[float], str] = number,
    inks: Inks = SCREEN,
) -> str:
    """Return bars a group: full for what comes in, empty for what goes out, hatched for what stays.

    worded writes a figure [kJ a lap] at its bar's end. Raises ValueError where there is no flow.
    """
    told = [flow for group in groups for flow in group.flows]
    if not told:
        raise ValueError("no flow of heat to draw")
    figures = max(len(worded(flow.kj_per_lap)) for flow in told) * LETTER + 12
    names = max(len(flow.words) for flow in told) * LETTER + 12
    scale = _scaled(told, (names, width - figures), figures)
    parts: list[str] = []
    top = 0.0
    for group in groups:
        parts.append(label((0.0, top + 20), group.words, 14.5, inks.ink, anchor="start"))
        top += _HEAD
        for flow in group.flows:
            parts += _bar(flow, group.way, top, scale, inks)
            parts += _written(flow, worded(flow.kj_per_lap), top, scale, inks)
            top += _ROW
        parts.append(line((scale.zero, top - _ROW * len(group.flows)), (scale.zero, top), inks.ink, 1.6))
    return named(document(width, top + 4, parts), name, "heat")


@dataclass(frozen=True, slots=True)
class _Scale:
    """Where nought stands [px], and px a kJ."""

    zero: float
    each: float

    def at(self, flow: Flow) -> float:
        return self.zero + self.each * flow.kj_per_lap


def _scaled(flows: Sequence[Flow], room: tuple[float, float], figures: float) -> _Scale:
    """Return the scale that fits all flows in a room [px], with figures left of those below nothing."""
    low = min(0.0, *(flow.kj_per_lap for flow in flows))
    high = max(0.0, *(flow.kj_per_lap for flow in flows))
    left = room[0] + (figures if low < 0 else 0.0)
    each = (room[1] - left) / max(high - low, 1e-9)
    return _Scale(left - low * each, each)


def _bar(flow: Flow, way: Way, top: float, scale: _Scale, inks: Inks) -> list[str]:
    left, right = sorted((scale.zero, scale.at(flow)))
    y = top + (_ROW - _BAR) / 2
    d = box(left, y, right - left, _BAR)
    if way == "in":
        return [fill(d, inks.ink)]
    frame = [fill(d, inks.ground), stroke(d, inks.ink, 1.4)]
    if way == "out" or right - left < 4:
        return frame
    corners = [(left, y), (right, y), (right, y + _BAR), (left, y + _BAR)]
    return [*frame, fill(hatching(corners, "right", 0.0, _KEPT_C), inks.hatch)]


def _written(flow: Flow, figure: str, top: float, scale: _Scale, inks: Inks) -> list[str]:
    y, end = top + _ROW / 2 + 4.5, scale.at(flow)
    at, anchor = (end + 6, "start") if flow.kj_per_lap >= 0 else (end - 6, "end")
    return [
        label((0.0, y), flow.words, TEXT, inks.soft, bold=False, anchor="start"),
        label((at, y), figure, TEXT, inks.ink, anchor=anchor),
    ]
