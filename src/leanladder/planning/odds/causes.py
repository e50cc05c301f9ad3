"""Which uncertain inputs move a lean most: shares of its variance, each input by itself (first order).

A lean is fitted by each input's first two Hermite polynomials, which are orthogonal over normal draws
(polynomial chaos: Sudret 2008, from memory); what they explain over all that varies is the input's share.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from leanladder.domain.chance import Cause
from leanladder.engine.grip import Floats

MOST_CAUSES = 3
LEAST_SHARE = 0.01


class Explained(NamedTuple):
    """Shares [0..1] (codes, rungs) that inputs have of what varies, by code."""

    codes: tuple[str, ...]
    shares: Floats


def hermite(standard: Floats) -> Floats:
    """Return the first two Hermite polynomials of standard normal draws (..., members), (2, ..., members)."""
    return np.stack([standard, (standard**2 - 1.0) / math.sqrt(2.0)])


def explained(leans: Floats, common: Mapping[str, Floats], own: Mapping[str, Floats]) -> Explained:
    """Return the shares that inputs have of leans (rungs, members).

    common are draws (members,) alike at all rungs, own those (rungs, members) of each rung, by code.
    """
    count = leans.shape[-1]
    apart = leans - leans.mean(axis=-1, keepdims=True)
    varies = np.maximum((apart**2).mean(axis=-1), np.finfo(float).tiny)
    alike = hermite(np.stack(list(common.values())))
    along = np.einsum("pcm,rm->pcr", alike, apart, optimize=True) / count
    each = np.stack([np.einsum("prm,rm->pr", hermite(z), apart) / count for z in own.values()], axis=1)
    moved = np.concatenate([along, each], axis=1)
    # a fit of two terms to noise alone explains 2/members of it
    shares = np.maximum((moved**2).sum(axis=0) / varies - 2.0 / count, 0.0)
    return Explained((*common, *own), shares)


def main_causes(found: Explained, rung: int) -> tuple[Cause, ...]:
    """Return the inputs that move a rung's lean most, at most three and none below one in a hundred."""
    order = np.argsort(-found.shares[:, rung], kind="stable")[:MOST_CAUSES]
    causes = (Cause(found.codes[index], float(found.shares[index, rung])) for index in order)
    return tuple(cause for cause in causes if cause.share >= LEAST_SHARE)
