"""How many sums the pass is, counted as its own source does them, and how fast this machine could do them.

The members' kernel is run once more, interpreted, on numbers and arrays that count: an addition or a
multiplication is one, so that a fused pair is two; a division, a root and a call of exp are one each, which
flatters the machine and not us. Comparisons, signs and whole numbers are free. What is done once for a block
counts once. What the compiler saves beyond the source is counted all the same.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from types import ModuleType
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray
from scripts.timing import clock
from scripts.timing.members import Pass

from leanladder.engine.tyre_thermal import Forcing

Floats = NDArray[np.float64]

SPANS, SPAN = 3, 48  # parts of a lap that are counted, and steps in each
CHAIN, ARRAY, ROUNDS = 8, 1536, 20_000
ONE_EACH = (np.add, np.subtract, np.multiply, np.divide, np.sqrt, np.exp)
MAKERS = {"empty", "zeros", "ones", "full", "empty_like", "zeros_like", "ascontiguousarray"}
ENGINE = "leanladder.engine"


class Counter:
    """How many floating-point operations were done since it was last set to 0."""

    done = 0


def _counting(name: str, cost: int = 1) -> Callable[..., Any]:
    plain = getattr(float, name)

    def counted(*values: float) -> Any:  # noqa: ANN401 - NotImplemented where float's own answers it
        found = plain(*values)
        if found is NotImplemented:
            return found
        Counter.done += cost
        return Number(found)

    return counted


class Number(float):
    """A number that counts what is done with it."""

    __add__, __radd__ = _counting("__add__"), _counting("__radd__")
    __sub__, __rsub__ = _counting("__sub__"), _counting("__rsub__")
    __mul__, __rmul__ = _counting("__mul__"), _counting("__rmul__")
    __truediv__, __rtruediv__ = _counting("__truediv__"), _counting("__rtruediv__")
    __neg__, __abs__ = _counting("__neg__", 0), _counting("__abs__", 0)

    def __pow__(self, power: float, modulo: None = None) -> Number:
        """Return a whole power by multiplying, anything else as one operation."""
        Counter.done += max(int(power) - 1, 1)
        return Number(float(self) ** power)


class Array(np.ndarray[Any, np.dtype[np.float64]]):
    """An array whose numbers count, and that counts what is done with the whole of it."""

    def __getitem__(self, key: Any) -> Any:  # noqa: ANN401 - as an array's own
        """Return a part, or a number that counts."""
        found = super().__getitem__(key)
        return Number(found) if isinstance(found, float) else found

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **kwargs: Any) -> Any:  # noqa: ANN401
        """Do as any array, and count."""
        out = kwargs.pop("out", None)
        if out is not None:
            kwargs["out"] = tuple(np.asarray(each) for each in out)
        plain = [np.asarray(each) if isinstance(each, np.ndarray) else each for each in inputs]
        found = getattr(ufunc, method)(*plain, **kwargs)
        if ufunc in ONE_EACH:
            Counter.done += int(np.size(found)) if method == "__call__" else int(np.size(plain[0]))
        return counting(found) if isinstance(found, np.ndarray) else found


def counting(values: Floats) -> Any:  # noqa: ANN401 - an array of floats, or as it was
    """Return an array of floats as one that counts, any other as it is."""
    return values.view(Array) if values.dtype == np.float64 else values


class Counting:
    """numpy or math for a module whose arrays and numbers are to count."""

    def __init__(self, of: ModuleType) -> None:
        self.of = of

    def __getattr__(self, name: str) -> object:
        """Return the module's own, a maker of arrays that count, or a function that counts."""
        own = getattr(self.of, name)
        if self.of is np and name in MAKERS:
            return lambda *values, **options: counting(own(*values, **options))
        if name in {"exp", "sqrt"}:
            return lambda value: _once(own, value)
        return own


def _once(own: Callable[[Any], Any], value: Any) -> Any:  # noqa: ANN401 - a number or an array
    if isinstance(value, np.ndarray):
        return own(value)
    Counter.done += 1
    return Number(own(float(value)))


@contextmanager
def interpreted() -> Iterator[ModuleType]:
    """Yield the members' module with nothing compiled and arrays that count; all is as before afterwards."""
    kept = {name: module for name, module in sys.modules.items() if name.startswith(ENGINE)}
    for name in kept:
        del sys.modules[name]
    numba.config.DISABLE_JIT = True  # type: ignore[attr-defined]
    try:
        __import__(f"{ENGINE}.members")
        for name in [name for name in sys.modules if name.startswith(f"{ENGINE}.")]:
            module = sys.modules[name]
            for short, whole in (("np", np), ("math", math)):
                if short in vars(module):
                    setattr(module, short, Counting(whole))
        yield sys.modules[f"{ENGINE}.members"]
    finally:
        numba.config.DISABLE_JIT = False  # type: ignore[attr-defined]
        for name in [name for name in sys.modules if name.startswith(ENGINE)]:
            del sys.modules[name]
        sys.modules.update(kept)


def counted(timed: Pass) -> float:
    """Return the operations of one member through the second lap of the rear tyre, from parts of it.

    What a second block of members adds: what is done once for all of them is time, but counts as nothing.
    """
    tyre, lap = timed.tyres[1], timed.tyres[1].laps[1]
    steps = lap.forcing.dt_s.size
    spans = [int(first) for first in np.linspace(0, steps - SPAN, SPANS)]
    with interpreted() as kernel:
        body = tyre.body._replace(
            **{name: counting(values) for name, values in tyre.body._asdict().items() if np.ndim(values)}
        )

        def done(blocks: int, first: int) -> int:
            within = slice(first, first + SPAN)
            forcing = Forcing(*(counting(values[within].copy()) for values in lap.forcing))
            marks = np.ascontiguousarray(lap.marks[(lap.marks >= first) & (lap.marks < first + SPAN)] - first)
            states = counting(timed.at_start[1][:blocks].copy())
            differences = kernel.Differences(
                *(counting(values[:blocks].copy()) for values in timed.differences[1])
            )
            spin = counting(lap.spin_part[within].copy())
            Counter.done = 0
            kernel.ride_members(states, body, tyre.shares, forcing, spin, differences, marks, threads=1)
            return Counter.done

        more = sum(done(2, first) - done(1, first) for first in spans)
    return float(more / timed.at_start[1].shape[-1] * steps / (SPAN * SPANS))


@numba.njit(nogil=True, fastmath={"contract"}, error_model="numpy")
def _chains(values: Floats, factor: float, term: float, rounds: int) -> None:
    """Multiply and add, CHAIN times, two halves of an array side by side: nothing else to wait for."""
    half = values.size // 2
    for _ in range(rounds):
        for place in range(half):
            one, two = values[place], values[half + place]
            for _ in range(CHAIN):
                one = one * factor + term
                two = two * factor + term
            values[place], values[half + place] = one, two


def most_per_s(threads: int) -> float:
    """Return how many operations a second [1/s] so many threads do at best, in fused pairs."""
    own = [np.ones(ARRAY) for _ in range(threads)]
    with ThreadPoolExecutor(threads) as pool:

        def run() -> None:
            list(pool.map(lambda values: _chains(values, 0.999, 0.001, ROUNDS), own))

        run()
        taken = clock.seconds(run)
    return 2.0 * CHAIN * ARRAY * ROUNDS * threads / taken
