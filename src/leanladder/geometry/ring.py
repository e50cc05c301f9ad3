"""Symmetric equations on a ring whose nodes are coupled to their three neighbours on either side.

Block cyclic reduction: every other block of four nodes is eliminated at once, and again, until
few are left (Golub & Van Loan, Matrix Computations, 4th ed., section 4.5; from memory). It needs
nothing but numpy, which spares the commands a third of a second of loading.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

BLOCK = 4
FEW_BLOCKS = 2  # so many are solved as one


def blocks(diagonals: list[Floats]) -> tuple[Floats, Floats]:
    """Return a ring matrix as blocks (m, 4, 4) on the diagonal and from each block to the next.

    diagonals[k][i] couples node i with node i + k round the ring; k up to 3; nodes a multiple of 4.
    """
    m = len(diagonals[0]) // BLOCK
    own, ahead = np.zeros((m, BLOCK, BLOCK)), np.zeros((m, BLOCK, BLOCK))
    for apart, values in enumerate(diagonals):
        for node in range(BLOCK):
            other = node + apart
            if other >= BLOCK:
                ahead[:, node, other - BLOCK] += values[node::BLOCK]
                continue
            own[:, node, other] += values[node::BLOCK]
            if apart:
                own[:, other, node] += values[node::BLOCK]
    return own, ahead


def solve_ring(own: Floats, ahead: Floats, right: Floats) -> tuple[Floats, float]:
    """Return the solution (n, c) of a positive definite ring matrix for right sides (n, c).

    With it comes the matrix's log determinant. Raises numpy.linalg.LinAlgError where rounding leaves
    the matrix not positive definite.
    """
    sides = right.reshape(len(own), BLOCK, -1)
    nodes, log_determinant = _reduced(own, ahead, sides)
    return nodes.reshape(right.shape), log_determinant


def _reduced(own: Floats, ahead: Floats, right: Floats) -> tuple[Floats, float]:
    """Eliminate the odd blocks, solve for the even ones, and fill the odd ones in."""
    if len(own) <= FEW_BLOCKS:
        return _dense(own, ahead, right)
    if len(own) % 2:
        return _without_last(own, ahead, right)
    inverse = np.linalg.inv(own[1::2])
    to_odd, from_odd = ahead[0::2], ahead[1::2]
    next_odd = to_odd @ inverse
    last_odd = _turned(from_odd) @ inverse
    even = own[0::2] - next_odd @ _turned(to_odd) - np.roll(last_odd @ from_odd, 1, axis=0)
    sides = right[0::2] - next_odd @ right[1::2] - np.roll(last_odd @ right[1::2], 1, axis=0)
    solved, log_determinant = _reduced(even, -next_odd @ from_odd, sides)
    rest = right[1::2] - _turned(to_odd) @ solved - from_odd @ np.roll(solved, -1, axis=0)
    nodes = np.empty_like(right)
    nodes[0::2], nodes[1::2] = solved, inverse @ rest
    return nodes, log_determinant + _log_determinant(own[1::2])


def _without_last(own: Floats, ahead: Floats, right: Floats) -> tuple[Floats, float]:
    """Eliminate the last of an odd number of blocks, solve for the others, and fill it in."""
    inverse = np.linalg.inv(own[-1])
    to_last, from_last = ahead[-2] @ inverse, ahead[-1].T @ inverse
    rest, coupled, sides = own[:-1].copy(), ahead[:-1].copy(), right[:-1].copy()
    rest[-1] -= to_last @ ahead[-2].T
    rest[0] -= from_last @ ahead[-1]
    coupled[-1] = -to_last @ ahead[-1]
    sides[-1] -= to_last @ right[-1]
    sides[0] -= from_last @ right[-1]
    solved, log_determinant = _reduced(rest, coupled, sides)
    last = inverse @ (right[-1] - ahead[-2].T @ solved[-1] - ahead[-1] @ solved[0])
    return np.concatenate([solved, last[None]]), log_determinant + _log_determinant(own[-1])


def _dense(own: Floats, ahead: Floats, right: Floats) -> tuple[Floats, float]:
    """Solve the few blocks that are left as one matrix."""
    m = len(own)
    whole = np.zeros((m, BLOCK, m, BLOCK))
    for block in range(m):
        after = (block + 1) % m
        whole[block, :, block, :] += own[block]
        whole[block, :, after, :] += ahead[block]
        whole[after, :, block, :] += ahead[block].T
    matrix = whole.reshape(m * BLOCK, m * BLOCK)
    nodes = np.linalg.solve(matrix, right.reshape(m * BLOCK, -1))
    return np.asarray(nodes.reshape(right.shape), dtype=np.float64), _log_determinant(matrix)


def _log_determinant(matrices: Floats) -> float:
    """Return the sum of log determinants of positive definite matrices (..., k, k)."""
    factors = np.linalg.cholesky(matrices)
    return float(2.0 * np.log(np.diagonal(factors, axis1=-2, axis2=-1)).sum())


def _turned(stack: Floats) -> Floats:
    """Return each matrix of a stack (m, 4, 4) transposed."""
    return np.swapaxes(stack, 1, 2)
