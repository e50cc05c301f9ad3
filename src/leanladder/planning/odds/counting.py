"""From the lean that each member carries to a cap that holds with a stated chance.

The cap is an order statistic: the lean that all but a few members carry. Which of them is set so that, had
the members been drawn independently, the chance would hold with a confidence of 95 in 100 (binomial; Hahn and
Meeker, Statistical Intervals, 1991, from memory); low-discrepancy draws scatter less.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from leanladder.domain.chance import LEAST_CHANCE, MOST_CHANCE, SEEDS, Chance
from leanladder.domain.errors import Fault, InputError
from leanladder.engine.grip import Floats
from leanladder.engine.pool import each

LEAST_MEMBERS = 1024
FEWEST_SHORT = 40  # members expected beyond the cap: fewer would leave it to a handful
CONFIDENCE = 0.95
FAR = 8.0  # scatters below every member
MOST_STEPS, SAME_RAD = 60, 1e-13
WORTH_A_THREAD = 4096  # members of all rows together for which another thread is worth its while
LOWER = "A lower one leaves too little of the grip in hand."
HIGHER = "The spreads are not known well enough to tell more: choose a more careful level instead."


def check_chance(chance: Chance) -> None:
    """Raise InputError for a chance outside 95 to 99.5 in 100, or a seed that is none."""
    if not LEAST_CHANCE <= chance.of_100 <= MOST_CHANCE:
        remedy = LOWER if chance.of_100 < LEAST_CHANCE else HIGHER
        allowed = f"{LEAST_CHANCE:g} to {MOST_CHANCE:g} in 100"
        fault = Fault(field="chance", value=f"{chance.of_100:.12g}", allowed=allowed, remedy=remedy)
        raise InputError("a plan is not made for such a chance.", fault)
    if not 0 <= chance.seed < SEEDS:
        fault = Fault(
            field="seed", value=str(chance.seed), allowed=f"0 to {SEEDS - 1}", remedy="Any of these does."
        )
        raise InputError("this is no seed.", fault)


def members_for(chance: Chance) -> int:
    """Return how many members a chance takes: 1,024 for 95 in 100, 8,192 for 99.5; a power of two."""
    members = LEAST_MEMBERS
    while members * (100.0 - chance.of_100) / 100.0 < min(FEWEST_SHORT, LEAST_MEMBERS / 25):
        members *= 2
    return members


@cache
def rank(members: int, of_100: float) -> int:
    """Return which member's lean, counted from the least as 1, is the cap.

    The greatest rank whose lean at least of_100 in 100 worlds carry, with a confidence of 95 in 100.
    """
    from scipy.special import bdtr  # noqa: PLC0415  # half a second to load: only when a ladder is counted

    short = 1.0 - of_100 / 100.0
    # the k-th lean lies under the true one unless fewer than k of all members fall short of that
    below = bdtr(np.arange(members + 1.0), members, short)
    return max(int(np.searchsorted(below, 1.0 - CONFIDENCE)), 1)


def sure(values: Floats, of_100: float) -> Floats:
    """Return the order statistic of each row (rows, members) that holds with a chance, (rows,)."""
    place = rank(values.shape[-1], of_100) - 1
    return np.asarray(np.partition(values, place, axis=-1)[..., place])


def seldom(most: Floats, scatter: Floats, odds: float) -> Floats:
    """Return the lean [rad] of each row whose ride passes what members carry with given odds, (rows,).

    most (rows, members) [rad]: the lean that asks for all the friction there is; scatter (rows,) [rad] of the
    lean ridden about the lean planned, normal, summed exactly: a count of members tells of no such odds.
    """
    answer = np.empty(scatter.size)
    parts = np.array_split(np.arange(scatter.size), max(most.size // WORTH_A_THREAD, 1))

    def run(part: int) -> None:
        rows = parts[part]
        answer[rows] = _seldom(most[rows], scatter[rows], odds)

    each(run, len(parts))
    return answer


def _seldom(most: Floats, scatter: Floats, odds: float) -> Floats:
    """Newton's steps on the logarithm of the odds, halved where they would leave the bracket, row by row."""
    from scipy.special import ndtr  # noqa: PLC0415  # half a second to load: only when a ladder is counted

    per = 1.0 / (math.sqrt(2.0 * math.pi) * scatter)
    low, high = most.min(axis=-1) - FAR * scatter, most.max(axis=-1)
    lean, going = low, np.ones(scatter.size, dtype=np.bool_)
    for _ in range(MOST_STEPS):
        apart = (lean[:, None] - most) / scatter[:, None]
        passed, rise = ndtr(apart).mean(axis=-1), per * np.exp(-0.5 * apart**2).mean(axis=-1)
        over = passed > odds
        low, high = np.where(over, low, lean), np.where(over, lean, high)
        stepped = lean - np.log(passed / odds) * passed / rise
        stepped = np.where((low <= stepped) & (stepped <= high), stepped, 0.5 * (low + high))
        # a row that has settled stays, whatever the others do: its answer does not depend on theirs
        lean, before = np.where(going, stepped, lean), lean
        going &= np.abs(lean - before) >= SAME_RAD
        if not going.any():
            break
    return np.asarray(lean)
