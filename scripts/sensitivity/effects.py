"""What a figure's spread does to the physical caps, over the sessions of `sessions`."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scripts.sensitivity.sessions import CASES, GRIP_LIMITS, Caps, Change, caps, takes_part

from leanladder.domain.errors import LeanladderError
from leanladder.domain.parameter import Parameter

DOWN, HALF_DOWN, HALF_UP, UP = -1.0, -0.5, 0.5, 1.0
MOST_WORKERS = 2

Floats = NDArray[np.float64]


class Moved(NamedTuple):
    """How far caps move [deg]: their mean change and the largest either way, both with their sign."""

    mean_deg: float
    largest_deg: float


@dataclass(frozen=True, slots=True)
class Effect:
    """What a figure does, by spreads added.

    moved: how physical caps move on the rungs that grip decides; handed: how the caps handed out move on all
    rungs. cut holds the steps that a range's end cut short. A step that leaves nothing to plan (no number, or
    a sum that cannot be followed) is None.
    """

    name: str
    moved: Mapping[float, Moved | None]
    handed: Mapping[float, Moved | None]
    cut: frozenset[float]

    def size_deg(self) -> float:
        """Return the larger mean change of the physical caps, one step down or up, without its sign [deg]."""
        return _size(self.moved)

    def handed_size_deg(self) -> float:
        """Return the same of the caps handed out [deg]."""
        return _size(self.handed)


def _size(moved: Mapping[float, Moved | None]) -> float:
    return max((abs(one.mean_deg) for one in moved.values() if one is not None), default=0.0)


def tried(figure: Parameter, spreads: float) -> float:
    """Return a figure with spreads added, held within its range."""
    low = -np.inf if figure.low is None else figure.low
    high = np.inf if figure.high is None else figure.high
    return float(np.clip(figure.value + spreads * figure.spread, low, high))


def varied(figures: Mapping[str, Parameter]) -> dict[str, Parameter]:
    """Return the figures that can be varied here: counted on in these sessions, with a spread."""
    return {name: figure for name, figure in figures.items() if takes_part(name) and figure.spread > 0.0}


def kept(found: Caps) -> NDArray[np.bool_]:
    """Return which rungs grip decides: the others' caps do not move with the physical ones."""
    return np.array([limit in GRIP_LIMITS for limit in found.limits])


class _Task(NamedTuple):
    case: int
    change: Change


class _After(NamedTuple):
    physics_deg: Floats
    handed_deg: Floats


def _ridden(task: _Task) -> _After | None:
    try:
        found = caps(CASES[task.case], task.change)
    except LeanladderError:
        return None
    return _After(found.physics_deg, found.handed_deg)


def effects(figures: Mapping[str, Parameter], steps: Sequence[float], before: Sequence[Caps]) -> list[Effect]:
    """Return what each figure does at some steps (spreads added); before are the sessions as shipped."""
    changes = {
        (name, step): Change(name, tried(figure, step)) for name, figure in figures.items() for step in steps
    }
    moving = [key for key, change in changes.items() if change.value != figures[key[0]].value]
    tasks = [_Task(case, changes[key]) for key in moving for case in range(len(before))]
    ridden = iter(_all_ridden(tasks))
    after = {key: [next(ridden) for _ in before] for key in moving}
    return [_effect(name, figure, steps, before, after) for name, figure in figures.items()]


def _effect(
    name: str,
    figure: Parameter,
    steps: Sequence[float],
    before: Sequence[Caps],
    after: Mapping[tuple[str, float], list[_After | None]],
) -> Effect:
    rode = {step: after[name, step] for step in steps if (name, step) in after}
    still = Moved(0.0, 0.0)
    return Effect(
        name,
        {step: _physics_moved(before, rode[step]) if step in rode else still for step in steps},
        {step: _handed_moved(before, rode[step]) if step in rode else still for step in steps},
        frozenset(step for step in steps if tried(figure, step) != figure.value + step * figure.spread),
    )


def _all_ridden(tasks: Sequence[_Task]) -> Iterable[_After | None]:
    workers = min(MOST_WORKERS, os.cpu_count() or 1)
    with ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("spawn")) as pool:
        return list(pool.map(_ridden, tasks, chunksize=16))


def _physics_moved(before: Sequence[Caps], after: Sequence[_After | None]) -> Moved | None:
    """The change of physical caps, over the rungs that grip decided before it."""
    pairs = [(found, new) for found, new in zip(before, after, strict=True) if kept(found).any()]
    moves = [(new.physics_deg - found.physics_deg)[kept(found)] for found, new in pairs if new is not None]
    return _summed(moves) if len(moves) == len(pairs) else None


def _handed_moved(before: Sequence[Caps], after: Sequence[_After | None]) -> Moved | None:
    """The change of the caps handed out, over all rungs."""
    moves = [
        new.handed_deg - found.handed_deg
        for found, new in zip(before, after, strict=True)
        if new is not None
    ]  # fmt: skip
    return _summed(moves) if len(moves) == len(before) else None


def _summed(moves: Sequence[Floats]) -> Moved:
    every = np.concatenate(moves)
    return Moved(float(every.mean()), float(every[np.argmax(np.abs(every))]))
