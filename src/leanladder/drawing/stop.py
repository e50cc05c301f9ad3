"""A stop on a page: how the rubber cools minute by minute, and where on that the stopwatch is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leanladder.drawing.hatch import hatching
from leanladder.drawing.svg import (
    SCREEN,
    Inks,
    Name,
    box,
    document,
    fill,
    label,
    line,
    named,
    number,
    stroke,
)

# Room at the sides, the strip from its top to its bottom, and where its figures stand [px].
_SIDE, _TOP, _BOTTOM, _FIGURES, _HEIGHT = 10.0, 14.0, 50.0, 68.0, 74.0
_TEXT, _EVERY = 13.5, 4
# Half the mark's head [px].
_MARK = 9.0


@dataclass(frozen=True, slots=True)
class StopWords:
    """A stop's words: what stands for its beginning, its end, and its scale."""

    warm: str
    cold: str
    minutes: str


def cooling(
    rubber_c: Sequence[float],
    stopped_min: float,
    words: StopWords,
    name: Name,
    *,
    width: float = 362.0,
    inks: Inks = SCREEN,
) -> str:
    """Return a strip of minutes, hatched by the rubber in each [degC], and a mark where the stopwatch is.

    rubber_c: one figure a minute from the flag on; stopped_min [min]: since the flag; past the end the mark
    stays there. Raises ValueError without a minute.
    """
    if not rubber_c:
        raise ValueError("a stop has one minute or more")
    each = (width - 2 * _SIDE) / len(rubber_c)
    here = _SIDE + each * min(max(stopped_min, 0.0), len(rubber_c))
    strip = box(_SIDE, _TOP, width - 2 * _SIDE, _BOTTOM - _TOP)
    parts = [
        fill(strip, inks.ground),
        *(_minute(_SIDE + each * index, each, warm, inks) for index, warm in enumerate(rubber_c)),
        stroke(strip, inks.ink, 1.6),
        *_scale(len(rubber_c), each, words, inks),
        # A clean edge keeps the mark apart from the strokes.
        line((here, _TOP), (here, _BOTTOM + 4), inks.ground, 8.0),
        line((here, _TOP), (here, _BOTTOM + 5), inks.ink, 3.5),
        fill(f"M{number(here - _MARK)} 1h{number(2 * _MARK)}L{number(here)} {number(_TOP + 2)}Z", inks.ink),
    ]
    return named(document(width, _HEIGHT, parts), name, "cooling")


def _minute(left: float, width: float, rubber_c: float, inks: Inks) -> str:
    corners = [(left, _TOP), (left + width, _TOP), (left + width, _BOTTOM), (left, _BOTTOM)]
    return fill(hatching(corners, "right", 0.0, rubber_c), inks.hatch)


def _scale(minutes: int, each: float, words: StopWords, inks: Inks) -> list[str]:
    """Return figures below the strip, every few minutes, and words between them."""
    parts: list[str] = []
    for minute in range(0, minutes + 1, _EVERY):
        x = _SIDE + each * minute
        anchor = "start" if minute == 0 else "end" if minute == minutes else "middle"
        at = (x - _SIDE if minute == 0 else x, _FIGURES)
        parts.append(line((x, _BOTTOM), (x, _BOTTOM + 5), inks.ink, 1.2))
        parts.append(label(at, str(minute), _TEXT, inks.ink, bold=False, anchor=anchor))
    places = (_EVERY / 2, minutes / 2 + _EVERY / 2, minutes - _EVERY / 2)
    told = zip(places, (words.warm, words.minutes, words.cold), strict=True)
    for place, text in told:
        parts.append(label((_SIDE + each * place, _FIGURES), text, _TEXT, inks.soft, bold=False))
    return parts
