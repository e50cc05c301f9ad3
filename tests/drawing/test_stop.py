"""A stop's strip: emptier as the rubber cools, and a mark where the stopwatch is."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.drawing import Name, StopWords, cooling
from leanladder.drawing.hatch import area

NAME = Name("Stopped", "s")
WORDS = StopWords("warm", "cold", "minutes")


def inked(svg: str) -> list[float]:
    """The ink of each minute [px2]."""
    found = []
    for d in re.findall(r'<path d="([^"]+)" fill="#422740"', svg):
        parts = [
            [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", part)]
            for part in d.split("Z")
            if part
        ]
        found.append(sum(map(area, parts)))
    return found


def mark_at(svg: str) -> float:
    found = re.search(r'<path d="M[\d.]+ 1h18L([\d.]+) ', svg)
    assert found
    return float(found[1])


def test_each_colder_step_bears_less_ink() -> None:
    found = inked(cooling([47.0, 42.0, 37.0, 32.0, 27.0, 22.0, 17.0, 12.0], 2.0, WORDS, NAME))
    assert len(found) == 8
    assert all(later < before for before, later in pairwise(found))


@given(stopped=st.floats(0, 16), more=st.floats(0.1, 5))
def test_the_mark_moves_with_the_stopwatch_and_stays_at_the_end(stopped: float, more: float) -> None:
    strip = [40.0 - index for index in range(16)]
    now, later = (mark_at(cooling(strip, at, WORDS, NAME)) for at in (stopped, stopped + more))
    assert later >= now
    assert later <= 362 - 10
    assert now == pytest.approx(10 + 342 * stopped / 16, abs=0.01)


def test_words_and_minutes_stand_below() -> None:
    svg = cooling([30.0] * 16, 3.0, WORDS, NAME)
    assert re.findall(r">(\d+)</text>", svg) == ["0", "4", "8", "12", "16"]
    assert all(f">{words}</text>" in svg for words in ("warm", "cold", "minutes"))


def test_a_stop_has_a_minute() -> None:
    with pytest.raises(ValueError, match="one minute"):
        cooling([], 0.0, WORDS, NAME)
