"""The same lap by general solvers: how long each takes for one member to be as near as asked.

Each gets compiled derivatives and a forcing that is linear between the steps' ends, so that it need not begin
anew at each, and is judged by its own forcing's tight solution. Of each, tolerances from loose to tight are
tried, and the fastest that stays within the error counts.
"""

from __future__ import annotations

import importlib
import warnings
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import ModuleType

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import odeint, solve_ivp
from scripts.timing import clock, equations
from scripts.timing.equations import BAND, Problem, derivative, derivatives
from scripts.timing.members import followed, read_c
from scripts.timing.trace import Tyre

from leanladder.planning.rubber import NODES

Floats = NDArray[np.float64]
Solve = Callable[[float, float], Floats]

# Relative and absolute tolerance [K], from loose to tight.
TOLERANCES = (
    (1e-3, 1e-1), (1e-3, 3e-2), (1e-3, 1e-2), (3e-4, 3e-2), (1e-4, 1e-2), (5e-5, 5e-3), (3e-5, 3e-3),
    (2e-5, 2e-3), (1e-5, 1e-3), (3e-6, 3e-4), (1e-6, 1e-4),
)  # fmt: skip
TIGHT = 1e-10
STACKED = 64  # members in one call
STACKED_WAYS = ("odeint, banded", "solve_ivp RK23")  # the fastest of all so
MOST_STEPS = 100_000
LONG_S = 0.5  # a member-lap that takes longer is not tried any tighter
SLOWER = 1.5  # times the fastest that is near enough: tighter ones are not tried


@dataclass(frozen=True, slots=True)
class Timed:
    """A solver's best: its tolerance, error [K] and time of one member-lap [us]; None: too far off."""

    package: str
    name: str
    rtol: float | None = None
    error_c: float | None = None
    member_lap_us: float | None = None


def exact(problem: Problem, *, held: bool = False) -> Floats:
    """Return states (times, n) of a tight solution, begun anew at each step: nothing jumps or bends within.

    held: each step's forcing as the engine has it, constant; else linear between the steps' ends.
    """
    ends, state, kept = problem.table[:, equations.TIME], problem.start, []
    marks = set(problem.times.tolist())
    for begin, end in pairwise(ends):
        if begin in marks:
            kept.append(state)
        # a hair within the step, so that its ends are not looked up in its neighbours
        hair = 1e-9 * (end - begin)
        slope = _slope(problem, held=held)
        found = solve_ivp(slope, (begin + hair, end - hair), state, method="DOP853", rtol=TIGHT, atol=TIGHT)
        state = found.y[:, -1]
    return np.array([*kept, state])


def reference_c(tyre: Tyre, lap: int) -> float:
    """Return how far [K] the reference that members are judged by is from a tight solution, on arrival."""
    _, state = followed(tyre._replace(laps=tyre.laps[:lap]))
    (read,), _ = followed(tyre._replace(at_start=state, laps=tyre.laps[lap : lap + 1]))
    tight = exact(equations.problem(tyre, tyre.laps[lap], state, held=True), held=True)
    return float(np.max(np.abs(read_c(tyre, equations.in_order(tight))[:-1] - read)))


def _slope(problem: Problem, *, held: bool = False) -> Callable[[float, Floats], Floats]:
    own, forced = problem.figures, problem.table

    def slope(t: float, y: Floats) -> Floats:
        out = np.empty(NODES)
        derivative(t, y, out, own, forced, held)
        return out

    return slope


def _slopes(problem: Problem, members: int) -> Callable[[float, Floats], Floats]:
    own, forced = np.tile(problem.figures, (members, 1)), problem.table

    def slope(t: float, y: Floats) -> Floats:
        out = np.empty(members * NODES)
        derivatives(t, y, out, own, forced)
        return out

    return slope


def scipy_ways(problem: Problem, members: int = 1) -> Iterator[tuple[str, Solve]]:
    """Yield SciPy's ways, by name, of members in one call; each returns states (times, members, n)."""
    slope = _slope(problem) if members == 1 else _slopes(problem, members)
    start = np.tile(problem.start, members)
    times = problem.times

    def lsoda(rtol: float, atol: float) -> Floats:
        at = np.concatenate([[0.0], times])
        found = odeint(
            slope, start, at, tfirst=True, rtol=rtol, atol=atol, ml=BAND, mu=BAND, mxstep=MOST_STEPS
        )
        return np.asarray(found[1:].reshape(times.size, members, NODES))

    def ivp(method: str, **options: object) -> Solve:
        def solve(rtol: float, atol: float) -> Floats:
            found = solve_ivp(
                slope, (0.0, times[-1]), start, method, t_eval=times, rtol=rtol, atol=atol, **options
            )
            return np.asarray(found.y.T.reshape(times.size, members, NODES))

        return solve

    yield "odeint, banded", lsoda
    yield "solve_ivp LSODA, banded", ivp("LSODA", lband=BAND, uband=BAND)
    yield "solve_ivp RK23", ivp("RK23")
    yield "solve_ivp RK45", ivp("RK45")
    yield "solve_ivp DOP853", ivp("DOP853")


def stacked_ways(problem: Problem) -> Iterator[tuple[str, Solve]]:
    """Yield SciPy's ways with STACKED members in one call: fewer calls, but one step for all of them."""
    for name, solve in scipy_ways(problem, STACKED):
        if name in STACKED_WAYS:
            yield f"{name}, {STACKED} members stacked", solve


def sundials() -> ModuleType | None:
    """Return the package that brings SUNDIALS to Python, None where it is not installed."""
    try:
        return importlib.import_module("sksundae.cvode")
    except ImportError:
        return None


def sundials_ways(problem: Problem, package: ModuleType) -> Iterator[tuple[str, Solve]]:
    """Yield CVODE's ways, by name, of one member, its Jacobian a band."""
    own, forced, at = problem.figures, problem.table, np.concatenate([[0.0], problem.times])

    def slope(t: float, y: Floats, out: Floats) -> None:
        derivative(t, y, out, own, forced, False)

    def cvode(method: str) -> Solve:
        def solve(rtol: float, atol: float) -> Floats:
            solver = package.CVODE(
                slope, method=method, rtol=rtol, atol=atol, linsolver="band", lband=BAND, uband=BAND,
                max_num_steps=MOST_STEPS,
            )  # fmt: skip
            return np.asarray(solver.solve(at, problem.start).y[1:, None, :])

        return solve

    yield "CVODE BDF, banded", cvode("BDF")
    yield "CVODE Adams, banded", cvode("Adams")


def best(
    package: str, ways: Iterable[tuple[str, Solve]], tight: Floats, tyre: Tyre, most_c: float
) -> Iterator[Timed]:
    """Yield each way at its fastest tolerance that keeps readings within most_c [K] of tight (times, n)."""
    right = read_c(tyre, equations.in_order(tight))
    for name, solve in ways:
        _once(solve, *TOLERANCES[0])  # compiles
        tried = list(_tried(solve, right, tyre, most_c))
        if not tried:
            yield Timed(package, name)
            continue
        _, members, error, to = min(tried)
        each = clock.seconds(lambda solve=solve, to=to: solve(*to))  # type: ignore[misc]
        yield Timed(package, name, to[0], error, 1e6 * each / members)


def _tried(
    solve: Solve, right: Floats, tyre: Tyre, most_c: float
) -> Iterator[tuple[float, int, float, tuple[float, float]]]:
    """Yield time [s], members, error [K] and tolerances of what is near enough, until it only gets slower."""
    least = np.inf
    for to in TOLERANCES:
        took, states = _once(solve, *to)
        error = _error(states, right, tyre)
        if took > SLOWER * least or took > LONG_S * states.shape[1]:
            return
        if error <= most_c:
            least = min(least, took)
            yield took, states.shape[1], error, to


def _once(solve: Solve, rtol: float, atol: float) -> tuple[float, Floats]:
    kept: list[Floats] = []
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a solver that complains shows it by its error
        took = clock.seconds(lambda: kept.append(solve(rtol, atol)), runs=1)
    return took, kept[0]


def _error(states: Floats, right: Floats, tyre: Tyre) -> float:
    """The largest error [K] of the first member's readings."""
    if states.shape[0] != right.shape[0] or not np.all(np.isfinite(states)):
        return np.inf
    return float(np.max(np.abs(read_c(tyre, equations.in_order(states[:, 0])) - right)))


def fastest(timed: Sequence[Timed]) -> float | None:
    """Return the least time of a member-lap [us], None where none came near enough."""
    taken = [one.member_lap_us for one in timed if one.member_lap_us is not None]
    return min(taken) if taken else None
