"""The order statistic: as careful as it says, and asked for only where it can be counted."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from leanladder.domain.chance import Chance
from leanladder.domain.errors import InputError
from leanladder.planning.odds.counting import check_chance, members_for, rank, seldom, sure

CHANCES = st.floats(95.0, 99.5)


@pytest.mark.usefixtures("all_members")
def test_members_by_chance() -> None:
    assert members_for(Chance(95.0)) == 1024
    assert members_for(Chance(99.5)) == 8192


@pytest.mark.usefixtures("all_members")
@given(CHANCES)
def test_the_rank_holds_with_its_confidence_and_the_next_would_not(of_100: float) -> None:
    """Against the binomial distribution of scipy.stats: a count of members under the true lean."""
    members = members_for(Chance(of_100))
    place, short = rank(members, of_100), 1.0 - of_100 / 100.0
    assert stats.binom.cdf(place - 1, members, short) < 0.05
    assert stats.binom.cdf(place, members, short) >= 0.05
    assert 0.7 < place / (members * short) < 1.0


def test_drawn_independently_the_cap_is_too_high_once_in_twenty() -> None:
    """2,000 times 1,024 normal leans: the share whose order statistic passes the true one."""
    draws = np.random.default_rng(11).standard_normal((2000, 1024))
    over = np.mean(sure(draws, 95.0) > stats.norm.ppf(0.05))
    assert over < 0.05 + 3.0 * math.sqrt(0.05 * 0.95 / 2000)
    # and the middle one, no more careful than the chance itself, is too high half the time
    plain = np.quantile(draws, 0.05, axis=1) > stats.norm.ppf(0.05)
    assert np.mean(plain) > 0.4


@given(st.floats(95.0, 99.4), st.floats(0.0, 1.0), st.integers(0, 100))
def test_more_chance_never_asks_for_less(of_100: float, more: float, seed: int) -> None:
    values = np.random.default_rng(seed).standard_normal((3, 4096))
    higher = min(of_100 + more, 99.5)
    assert np.all(sure(values, higher) <= sure(values, of_100))


@pytest.mark.parametrize("of_100", [94.9, 0.95, 0.0, -1.0, 99.6, 100.0, math.nan, math.inf])
def test_a_chance_that_no_plan_is_made_for_is_refused(of_100: float) -> None:
    with pytest.raises(InputError) as refused:
        check_chance(Chance(of_100))
    fault = refused.value.fault
    assert fault is not None
    assert fault.field == "chance"
    assert "95 to 99.5" in str(fault.allowed)
    assert fault.remedy


@pytest.mark.parametrize("seed", [-1, 2**32])
def test_a_seed_that_is_none_is_refused(seed: int) -> None:
    with pytest.raises(InputError, match="seed"):
        check_chance(Chance(95.0, seed))


@given(st.integers(0, 100), st.floats(0.01, 0.08), st.floats(-9.0, -3.0))
def test_the_lean_that_seldom_falls_has_just_those_odds(seed: int, scatter: float, power: float) -> None:
    """Against the mean of scipy.stats' normal distribution over the members."""
    most = 0.7 + 0.06 * np.random.default_rng(seed).standard_normal((3, 64))
    found = seldom(most, np.full(3, scatter), 10.0**power)
    odds = stats.norm.sf((most - found[:, None]) / scatter).mean(axis=1)
    assert odds == pytest.approx(10.0**power, rel=1e-8)


@given(st.integers(0, 100), st.integers(1, 9))
def test_a_rows_answer_does_not_depend_on_the_others(seed: int, rows: int) -> None:
    """Rows that settle soon wait unmoved for those that take longer, on whatever thread."""
    draws = np.random.default_rng(seed)
    most, scatter = 0.7 + 0.06 * draws.standard_normal((rows, 2048)), draws.uniform(0.01, 0.08, rows)
    together = seldom(most, scatter, 1e-7)
    alone = [float(seldom(most[row : row + 1], scatter[row : row + 1], 1e-7)[0]) for row in range(rows)]
    assert together.tolist() == pytest.approx(alone, abs=1e-15)
