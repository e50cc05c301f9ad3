"""Temperatures and pressures over minutes: a course for each third of a tyre, labelled where it ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from leanladder.domain.ladder import Lap, TyreEnd
from leanladder.drawing.axes import Frame, Plot, Upright, axes, beside, framed
from leanladder.drawing.marks import End, Third, mark
from leanladder.drawing.svg import SCREEN, Inks, Name, Point, document, named, points, stroke

_PENS: dict[End, float] = {"front": 1.5, "rear": 2.6}
_THIRDS: tuple[Third, ...] = ("left", "centre", "right")
_SECONDS = 60.0


@dataclass(frozen=True, slots=True)
class Course:
    """One line of a chart: what it is called where it ends, minutes [min] and values, each (n,).

    third and end choose its marks: round at the shoulder, empty for the front tyre.
    """

    words: str
    minutes: tuple[float, ...]
    values: tuple[float, ...]
    end: End
    third: Third = "centre"


def minutes(plot: Plot, courses: Sequence[Course], name: Name, *, inks: Inks = SCREEN) -> str:
    """Return a chart of courses over minutes, each with its words at its last point."""
    frame = framed(plot, [course.words for course in courses])
    parts = axes(frame, inks)
    parts += [_line(frame, course, inks) for course in courses]
    parts += [
        mark(course.third, course.end, at, inks=inks) for course in courses for at in _places(frame, course)
    ]
    ends = [(_places(frame, course)[-1], course.words, course.end == "rear") for course in courses]
    return named(document(*plot.size, [*parts, *beside(frame, ends, inks)]), name, "minutes")


def temperatures(
    laps: Sequence[Lap], end: End, words: Sequence[str], shown: Callable[[float], float] = float
) -> tuple[Course, ...]:
    """Return the courses of a tyre's thirds at each lap's end: outer 2 mm, left, centre and right.

    words: what the three are called; shown turns degC into the reader's unit.
    """
    ends, at = [_end(lap, end).rubber for lap in laps], ended(laps)
    thirds = (
        tuple(shown(rubber.left_c) for rubber in ends),
        tuple(shown(rubber.centre_c) for rubber in ends),
        tuple(shown(rubber.right_c) for rubber in ends),
    )
    rows = zip(words, thirds, _THIRDS, strict=True)
    return tuple(Course(called, at, values, end, third) for called, values, third in rows)


def pressures(
    laps: Sequence[Lap], end: End, words: str, shown: Callable[[float], float] = float
) -> tuple[Course, ...]:
    """Return the course of a tyre's pressure at each lap's end; shown turns bar into the reader's unit."""
    values = tuple(shown(_end(lap, end).pressure_bar) for lap in laps)
    return (Course(words, ended(laps), values, end),)


def ended(laps: Sequence[Lap]) -> tuple[float, ...]:
    """Return the minutes since rolling [min] at which laps end."""
    return tuple(lap.minute + lap.time_s / _SECONDS for lap in laps)


def lap_uprights(laps: Sequence[Lap], words: str) -> tuple[Upright, ...]:
    """Return an upright where each lap ends; words has a place for its number."""
    return tuple(Upright(at, words.format(lap.lap)) for lap, at in zip(laps, ended(laps), strict=True))


def _end(lap: Lap, end: End) -> TyreEnd:
    return lap.front_end if end == "front" else lap.rear_end


def _places(frame: Frame, course: Course) -> list[Point]:
    return [(frame.x(at), frame.y(value)) for at, value in zip(course.minutes, course.values, strict=True)]


def _line(frame: Frame, course: Course, inks: Inks) -> str:
    return stroke(points(_places(frame, course)), inks.ink, _PENS[course.end])
