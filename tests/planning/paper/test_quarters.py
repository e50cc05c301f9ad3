"""Quarters of the usual lean: rounded down, never more than the cap carries."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.day import Rider
from leanladder.planning.paper.quarters import fan, quarters, usual_deg

CAPS = st.floats(min_value=0.0, max_value=65.0)
USUALS = st.floats(min_value=5.0, max_value=65.0)
RIDER = Rider("Wren", "larks", "regular", "1")


@given(CAPS, USUALS)
def test_they_are_never_more_than_the_cap_carries(cap: float, usual: float) -> None:
    assert quarters(cap, usual) * usual <= 4.0 * cap


@given(CAPS, USUALS)
def test_one_quarter_more_is_beyond_the_cap_or_the_usual_lean(cap: float, usual: float) -> None:
    found = quarters(cap, usual)
    assert found == 4 or (found + 1) * usual > 4.0 * cap


@given(CAPS, CAPS, USUALS)
def test_more_cap_is_never_fewer_quarters(one: float, other: float, usual: float) -> None:
    low, high = sorted((one, other))
    assert quarters(low, usual) <= quarters(high, usual)


@given(CAPS, USUALS, USUALS)
def test_more_usual_lean_is_never_more_quarters(cap: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert quarters(cap, high) <= quarters(cap, low)


@pytest.mark.parametrize("usual", [30.0, 38.0, 48.0, 33.3])
@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_a_whole_quarter_counts_and_a_hair_less_does_not(usual: float, count: int) -> None:
    whole = count * usual / 4.0
    assert quarters(whole, usual) == count
    assert quarters(math.nextafter(whole, 0.0) - 1e-9, usual) == count - 1


@pytest.mark.parametrize(
    ("cap", "found", "word"),
    [(7.4, 0, "upright"), (7.5, 1, "not_yet"), (15.0, 2, "easy"), (29.9, 3, "easy"), (30.0, 4, "usual")],
)
def test_each_count_has_its_word(cap: float, found: int, word: str) -> None:
    assert (fan(cap, 30.0).quarters, fan(cap, 30.0).word) == (found, word)


@given(CAPS, USUALS)
def test_at_the_coachs_pace_nobody_reads_as_usual(cap: float, usual: float) -> None:
    shown = fan(cap, usual, most=3)
    assert shown.quarters == min(3, quarters(cap, usual))
    assert shown.word != "usual"


def test_the_usual_lean_counts_at_most_the_levels() -> None:
    assert usual_deg(RIDER) == 38.0
    assert usual_deg(replace(RIDER, usual_lean_deg=32.0)) == 32.0
    assert usual_deg(replace(RIDER, usual_lean_deg=45.0)) == 38.0
