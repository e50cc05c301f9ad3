"""The ring solver against a plain dense one."""

from __future__ import annotations

import numpy as np
import pytest

from leanladder.geometry.ring import blocks, solve_ring


def ring_matrix(diagonals: list[np.ndarray]) -> np.ndarray:
    n = len(diagonals[0])
    whole = np.diag(diagonals[0])
    for apart, values in enumerate(diagonals[1:], 1):
        for node in range(n):
            other = (node + apart) % n
            whole[node, other] += values[node]
            whole[other, node] += values[node]
    return whole


@pytest.mark.parametrize("n", [12, 20, 28, 40, 128, 252, 512, 1004])
def test_it_solves_what_a_dense_solver_solves(n: int) -> None:
    rng = np.random.default_rng(n)
    beside = [rng.normal(0.0, 1.0, n) for _ in range(3)]
    diagonals = [rng.uniform(7.0, 9.0, n), *beside]
    whole = ring_matrix(diagonals) + 6.0 * np.eye(n)
    diagonals[0] = diagonals[0] + 6.0
    right = rng.normal(0.0, 1.0, (n, 2))
    solved, log_determinant = solve_ring(*blocks(diagonals), right)
    np.testing.assert_allclose(solved, np.linalg.solve(whole, right), atol=1e-10)
    assert log_determinant == pytest.approx(np.linalg.slogdet(whole)[1], rel=1e-10)


def test_a_matrix_that_is_not_positive_is_refused() -> None:
    n = 256
    diagonals = [np.full(n, -1.0), np.zeros(n)]
    with pytest.raises(np.linalg.LinAlgError):
        solve_ring(*blocks(diagonals), np.zeros((n, 1)))
