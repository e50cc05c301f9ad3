"""Charts over minutes: what they show is what the laps hold, and each line is named where it ends."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from leanladder.domain.ladder import Lap, Rubber, TyreEnd
from leanladder.drawing import (
    Axis,
    Name,
    Plot,
    axis_about,
    ended,
    lap_uprights,
    minutes,
    pressures,
    temperatures,
)

WORDS = ("front left", "front centre", "front right")
NAME = Name("Temperatures", "t")


def lap(number: int, end: str = "front") -> Lap:
    def tyre(more: float) -> TyreEnd:
        left = 10.0 + 3 * number + more
        warm = Rubber(left, left + 5, left + 9, 0, 0, 0, 0)
        return TyreEnd(warm, 0, 0, 0, 0, 2.0 + 0.05 * number + more / 100)

    return Lap(number, 90.0, 1.5 * (number - 1), "", 1, (), tyre(0), tyre(2))


LAPS = [lap(number) for number in range(1, 6)]


def test_a_lap_is_told_at_its_end() -> None:
    assert ended(LAPS) == pytest.approx([1.5, 3.0, 4.5, 6.0, 7.5])
    assert [upright.words for upright in lap_uprights(LAPS, "lap {}")][:2] == ["lap 1", "lap 2"]


def test_courses_hold_the_thirds_in_the_readers_unit() -> None:
    plain = temperatures(LAPS, "front", WORDS)
    assert [course.third for course in plain] == ["left", "centre", "right"]
    assert [course.values[0] for course in plain] == [13, 18, 22]
    warm = temperatures(LAPS, "rear", WORDS, shown=lambda rubber_c: rubber_c * 1.8 + 32)
    assert warm[0].values[0] == pytest.approx(59.0)
    assert pressures(LAPS, "rear", "rear")[0].values[0] == pytest.approx(2.07)


def chart() -> str:
    courses = temperatures(LAPS, "front", WORDS) + temperatures(
        LAPS, "rear", [words.replace("front", "rear") for words in WORDS]
    )
    values = [value for course in courses for value in course.values]
    plot = Plot(Axis("minutes", 0, 8), axis_about("rubber, °C", values), (), lap_uprights(LAPS, "{}"))
    return minutes(plot, courses, NAME)


def test_every_line_is_named_once_and_where_it_ends() -> None:
    svg = chart()
    for end in ("front", "rear"):
        for third in ("left", "centre", "right"):
            assert svg.count(f">{end} {third}</text>") == 1
    names = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>(?:front|rear) \w+</text>', svg)
    heights = sorted(float(y) for _, y in names)
    assert all(below - above >= 15.9 for above, below in pairwise(heights))
    assert len({x for x, _ in names}) == 1


def test_marks_tell_front_from_rear_without_colour() -> None:
    svg = chart()
    marks = re.findall(r'transform="translate\([^)]*\)" fill="([^"]+)"', svg)
    assert marks.count("#fff") == marks.count("#1D1620") == 3 * len(LAPS)


def test_warmer_is_higher() -> None:
    svg = chart()
    lines = re.findall(r'<path d="(M[^"]+)" fill="none" stroke="#1D1620" stroke-width="1.5"', svg)
    assert len(lines) == 3
    ends = [float(d.rsplit(" ", 1)[1]) for d in lines]
    assert ends == sorted(ends, reverse=True)
