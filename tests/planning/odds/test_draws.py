"""Draws: the same for the same seed, spread as they say, each alike for those it is common to."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from leanladder import catalogue
from leanladder.domain.spread import Kind
from leanladder.planning.odds.draws import LEAST_FACTOR, Draws, apply, draw, normal, sobol

MEMBERS, CORNERS = 1024, 11


def drawn(seed: int) -> Draws:
    return draw(catalogue.spreads(), CORNERS, MEMBERS, seed)


def test_the_same_seed_draws_the_same_and_another_does_not() -> None:
    one, same, other = drawn(7), drawn(7), drawn(8)
    for code, values in one.common.items():
        assert np.array_equal(values, same.common[code])
        assert not np.array_equal(values, other.common[code])
    assert np.array_equal(one.rung(2, 3, "lean_scatter"), same.rung(2, 3, "lean_scatter"))
    assert not np.array_equal(one.rung(2, 3, "lean_scatter"), other.rung(2, 3, "lean_scatter"))


def test_each_input_has_draws_of_its_own_scope() -> None:
    found = drawn(1)
    scopes = {spread.code: spread.scope for spread in catalogue.spreads()}
    assert set(found.common) == {code for code, scope in scopes.items() if scope in ("day", "machine")}
    assert {code: values.shape for code, values in found.corners.items()} == {
        code: (CORNERS, MEMBERS) for code, scope in scopes.items() if scope == "corner"
    }
    rungs = [code for code, scope in scopes.items() if scope == "rung"]
    assert all(found.rung(1, 0, code).shape == (MEMBERS,) for code in rungs)


@pytest.mark.parametrize("seed", range(5))
def test_every_dimension_is_spread_more_evenly_than_chance_would(seed: int) -> None:
    """Kolmogorov and Smirnov's distance from the normal: 0.8/sqrt(n) in the middle for independent draws."""
    found = drawn(seed)
    rows = [*found.common.values(), *found.corners["corner_grip"]]
    far = [stats.kstest(values, "norm").statistic for values in rows]
    assert max(far) < 0.3 / np.sqrt(MEMBERS)


@pytest.mark.parametrize("seed", range(5))
def test_dimensions_do_not_move_together(seed: int) -> None:
    found = drawn(seed)
    rungs = [found.rung(1, 2, code) for code in ("lean_scatter", "line_scatter")]
    rows = np.stack([*found.common.values(), *found.corners["corner_grip"], *rungs])
    apart = np.corrcoef(rows) - np.eye(len(rows))
    assert np.abs(apart).max() < 4.5 / np.sqrt(MEMBERS)


def test_all_rungs_share_a_rider_s_scatter() -> None:
    """Caps ask for its distribution alone: drawn anew for each rung, they would jump for no reason."""
    rung = drawn(3).rung
    assert np.array_equal(rung(1, 1, "lean_scatter"), rung(7, 4, "lean_scatter"))
    assert stats.kstest(rung(1, 1, "line_scatter"), "norm").statistic < 0.3 / np.sqrt(MEMBERS)


def test_points_at_the_ends_are_no_infinite_draws() -> None:
    assert np.all(np.isfinite(normal(np.array([0.0, 1.0 - 2.0**-53]))))
    assert sobol(64, 3, 1).shape == (64, 3)


@given(st.sampled_from(["added", "factor", "ratio"]), st.floats(0.001, 0.5))
def test_a_kind_s_spread_is_what_it_says(kind: Kind, size: float) -> None:
    values = apply(kind, size, stats.norm.ppf((np.arange(4096) + 0.5) / 4096))
    if kind == "ratio":
        values = np.log(values)
    middle = 1.0 if kind == "factor" else 0.0
    if kind == "factor" and size > 0.25:
        assert values.min() >= LEAST_FACTOR
        return
    assert values.mean() == pytest.approx(middle, abs=1e-6)
    assert values.std() == pytest.approx(size, rel=2e-3)


def test_an_even_input_lies_anywhere_within_its_spread() -> None:
    values = apply("even", 2.0, stats.norm.ppf((np.arange(4096) + 0.5) / 4096))
    assert np.abs(values).max() <= 2.0
    assert stats.kstest(values, stats.uniform(-2.0, 4.0).cdf).statistic < 1e-3
