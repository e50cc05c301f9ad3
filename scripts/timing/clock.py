"""How long something takes: the median of a few runs, fewer of them where one is long."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

RUNS = 5
ENOUGH_S = 20.0  # of runs of one thing: what is slower than a fifth of that is run less often


def seconds(run: Callable[[], object], runs: int = RUNS, enough_s: float = ENOUGH_S) -> float:
    """Return the median time [s] of some runs, at least one, none begun once they took enough_s [s]."""
    taken: list[float] = []
    while len(taken) < runs and sum(taken) < enough_s:
        began = time.perf_counter()
        run()
        taken.append(time.perf_counter() - began)
    return statistics.median(taken)
