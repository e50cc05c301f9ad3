"""First-order shares: those of sums that are known, and none of noise."""

from __future__ import annotations

import numpy as np
import pytest

from leanladder.planning.odds.causes import explained, hermite, main_causes

MEMBERS = 65536


def columns(count: int, seed: int = 1) -> list[np.ndarray]:
    return list(np.random.default_rng(seed).standard_normal((count, MEMBERS)))


def test_hermite_polynomials_are_of_one_size_and_square_to_each_other() -> None:
    """Against the integral over the normal density (probabilists' polynomials, normalised)."""
    places, weights = np.polynomial.hermite_e.hermegauss(20)
    values = hermite(places)
    found = (values * (weights / weights.sum())) @ values.T
    assert found == pytest.approx(np.eye(2), abs=1e-12)


def test_shares_of_a_sum_are_the_squares_of_its_parts() -> None:
    a, b, c, noise = columns(4)
    leans = np.stack([3.0 * a + 2.0 * b + c + 40.0, 40.0 - a])
    found = explained(leans, {"a": a, "b": b}, {"c": np.stack([c, noise])})
    assert found.codes == ("a", "b", "c")
    assert found.shares[:, 0] == pytest.approx(np.array([9.0, 4.0, 1.0]) / 14.0, abs=0.03)
    assert found.shares[:, 1] == pytest.approx([1.0, 0.0, 0.0], abs=0.05)


def test_a_share_that_bends_counts_as_well() -> None:
    a, b = columns(2)
    found = explained((a**2 + b)[None], {"a": a, "b": b}, {"none": columns(1, 2)[0][None]})
    assert found.shares[:2, 0] == pytest.approx([2.0 / 3.0, 1.0 / 3.0], abs=0.04)


def test_what_only_two_together_move_is_nobody_s_share() -> None:
    a, b = columns(2)
    found = explained((a * b)[None], {"a": a, "b": b}, {"none": columns(1, 2)[0][None]})
    assert np.all(found.shares < 0.02)


def test_three_causes_at_most_the_greatest_first_and_none_without_a_share() -> None:
    a, b, c, d = columns(4)
    found = explained(
        (4.0 * d + 3.0 * b + 2.0 * a + c)[None], {"a": a, "b": b, "c": c, "d": d}, {"e": a[None] * 0.0}
    )
    assert [cause.code for cause in main_causes(found, 0)] == ["d", "b", "a"]
    still = explained(np.full((1, MEMBERS), 30.0), {"a": a}, {"b": b[None]})
    assert main_causes(still, 0) == ()
