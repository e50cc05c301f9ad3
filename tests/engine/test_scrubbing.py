"""A new tyre's ribs open where they are rubbed, a little a lap, and never close."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.engine.scrubbing import scrubbed_on

STEP_M = 2.0
RATES = (0.0075, 3.0, 3.0)
leans = st.lists(st.floats(-50.0, 50.0), max_size=60).map(lambda some: np.array(some, dtype=np.float64))
starts = st.floats(0.0, 60.0)


def after(scrubbed_deg: float, leaned_deg: np.ndarray) -> float:
    return scrubbed_on(scrubbed_deg, leaned_deg, STEP_M, *RATES)


@given(leaned=leans, start=starts)
def test_it_never_closes_nor_opens_past_a_laps_most_or_what_is_rubbed(
    leaned: np.ndarray, start: float
) -> None:
    _, rubbed_deg, most_deg = RATES
    end = after(start, leaned)
    assert start <= end <= start + most_deg
    assert end <= max(start, leaned.max(initial=-np.inf) + rubbed_deg)


@given(leaned=leans, less=starts, more=starts)
def test_who_starts_further_ends_no_less_far(leaned: np.ndarray, less: float, more: float) -> None:
    less, more = sorted((less, more))
    assert after(less, leaned) <= after(more, leaned)


@given(leaned=leans, start=starts, share=st.floats(0.0, 1.0))
def test_leaning_less_opens_no_more(leaned: np.ndarray, start: float, share: float) -> None:
    gentler = np.where(leaned > 0.0, share * leaned, leaned)
    assert after(start, gentler) <= after(start, leaned)


def test_a_straight_and_the_other_side_open_nothing() -> None:
    assert after(2.0, np.zeros(500)) == 2.0
    assert after(10.0, np.full(500, -25.0)) == 10.0
    assert after(40.0, np.full(500, 25.0)) == 40.0


def test_metres_near_the_edge_open_it_in_proportion() -> None:
    edge = np.full(20, 10.0)
    assert after(10.0, edge) - 10.0 == pytest.approx(20 * STEP_M * RATES[0])
    assert after(10.0, edge[:10]) - 10.0 == pytest.approx(10 * STEP_M * RATES[0])
