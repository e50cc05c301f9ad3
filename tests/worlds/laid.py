"""A ladder as it was planned, with all that its laps were ridden by; mutants of the planner beside it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from unittest.mock import patch

import numpy as np
from numpy.typing import NDArray

from leanladder import catalogue
from leanladder.domain.ladder import Rung
from leanladder.domain.session import Session
from leanladder.domain.spread import Spread
from leanladder.planning.laps import Step, ride, started
from leanladder.planning.odds.crowd import gather
from leanladder.planning.riding import Wheels
from leanladder.planning.rungs import lap_told
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables

Floats = NDArray[np.float64]
BY_GRIP = ("front_grip", "rear_grip")


@dataclass(frozen=True)
class Laid:
    """A planned ladder.

    planned_deg (laps, corners) [deg bike lean], 0 where a corner is not ridden; counted (laps, corners),
    where grip by its chance sets the cap and the lap reaches it; held_back, where it does so because falls
    would be too many; begins, the plan's own tyres as each lap begins.
    """

    place: Setting
    begins: tuple[Wheels, ...]
    steps: tuple[Step, ...]
    planned_deg: Floats
    counted: NDArray[np.bool_]
    held_back: NDArray[np.bool_]

    @property
    def share(self) -> float:
        """The share of the grip that the level may use."""
        return float(self.place.session.level.grip_share.value)


def lay(session: Session) -> Laid:
    """Return the ladder of a session, as the planner rides and counts it."""
    place = setting(session, shipped_tables())
    start = started(place)
    crowd = gather(place, start, carried_on=False)
    steps = tuple(ride(place, start, session.laps, crowd))
    begins = (start, *(step.ridden.heated.end for step in steps[:-1]))
    shape = (len(steps), place.bends.shape[0])
    planned_deg = np.zeros(shape)
    counted, held_back = np.zeros(shape, dtype=np.bool_), np.zeros(shape, dtype=np.bool_)
    for lap, step in enumerate(steps):
        for corner, rung in zip(step.way.ridden, lap_told(place, lap + 1, step).rungs, strict=True):
            planned_deg[lap, corner] = rung.plan_bike_deg
            held = step.told is not None and bool(step.told.counted.held_back[corner])
            counted[lap, corner] = by_grip(rung) and not held
            held_back[lap, corner] = by_grip(rung) and held
    return Laid(place, begins, steps, planned_deg, counted, held_back)


def by_grip(rung: Rung) -> bool:
    """Whether a rung's cap is set by grip and the planned lap reaches it."""
    return rung.limited_by in BY_GRIP and rung.cap_reached


def bolder(session: Session, by: float) -> Session:
    """Return a session planned with a level's share of the grip times by: a mutant."""
    share = session.level.grip_share
    level = replace(session.level, grip_share=replace(share, value=by * share.value))
    return replace(session, level=level)


@contextmanager
def believing(codes: tuple[str, ...], times: float) -> Iterator[None]:
    """Have the planner believe in spreads of some inputs that are times what they are: mutants, by code."""
    changed = tuple(_times(each, times) if each.code in codes else each for each in catalogue.spreads())
    with patch.object(catalogue, "spreads", lambda: changed):
        yield


def _times(spread: Spread, times: float) -> Spread:
    if spread.of is None:
        return replace(spread, spread=times * (spread.spread or 0.0))
    return replace(spread, part=times * spread.part)
