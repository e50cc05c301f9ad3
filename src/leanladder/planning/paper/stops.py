"""After a stop: which column applies, by following the tyres while they stand and as they roll again."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np

from leanladder.domain.ladder import Ladder
from leanladder.domain.sentence import Sentence
from leanladder.engine.grip import Floats
from leanladder.planning import starts
from leanladder.planning.laps import Step, ride, started
from leanladder.planning.paper.figures import count_of
from leanladder.planning.paper.spans import SpanKind
from leanladder.planning.riding import Wheels
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables

# back: one column back; first: from the first column again; none: no column, the coach's pace.
Rule = Literal["back", "first", "none"]
MOST_LAPS = 40


class Stop(NamedTuple):
    """What applies after stops that last from over_min up to to_min [min], None: as long as sheets hold."""

    rule: Rule
    over_min: int
    to_min: int | None


def stop_sentences(ladder: Ladder, kind: SpanKind) -> tuple[Sentence, ...]:
    """Return what to do after a stop, the shortest first, and when sheets are void."""
    told = [_sentence(stop) for stop in stops(ladder, kind)]
    return (*told, Sentence("stop.rain"), Sentence("stop.new_track"))


def stops(ladder: Ladder, kind: SpanKind) -> tuple[Stop, ...]:
    """Return which column applies after which stops of a ladder's session.

    The tyres are followed as the session's own start makes them, to the end of each column, then standing in
    the shade, then rolling again from the pit exit. A column applies only where no cap of it and of those
    after it stands above what the tyres then allow. Where the caps fall as riders ride, none does. Tyres of
    an earlier session count as after a warmed-up one, in the columns and after the stop alike.
    """
    short_min, long_min = count_of("short_stop_min"), count_of("long_stop_min")
    longest_min = max(long_min + 1, math.ceil(ladder.laps[-1].minute + ladder.laps[-1].time_s / 60.0))
    if any(warning.code == "limits_fall" for warning in ladder.warnings):
        return (Stop("none", 0, None),)
    trial = _Trial(setting(ladder.session, shipped_tables()), kind)
    short = "back" if trial.holds(short_min, back=True) else trial.first(short_min)
    found = [Stop(short, 0, short_min)]
    found.append(Stop(trial.first(long_min), short_min, long_min))
    found.append(Stop(trial.first(longest_min), long_min, None))
    return tuple(_merged(found))


class _Trial:
    """A session's columns, and what its tyres allow after standing at the end of any of them."""

    def __init__(self, place: Setting, kind: SpanKind) -> None:
        self.place, self.kind = place, kind
        self.most = count_of("columns")
        steps = self._ridden(started(place))
        self.columns = [_least(steps, laps) for laps in self._spans(steps)]
        self.ends = [steps[laps[-1]].ridden.heated.end for laps in self._spans(steps)]
        means = [float(np.mean(column[np.isfinite(column)])) for column in self.columns]
        # tyres that only warm are coldest at the end of the first column; else any end may be the worst
        rising = all(after >= before for before, after in pairwise(means))
        self.worst = (0,) if rising else tuple(range(len(self.columns)))

    def first(self, minutes: float) -> Rule:
        """Whether the first column applies after so many minutes [min]."""
        return "first" if self.holds(minutes, back=False) else "none"

    def holds(self, minutes: float, *, back: bool) -> bool:
        """Whether after so many minutes [min] the column before, or else the first, is not too high."""
        at = range(len(self.columns)) if back else self.worst
        return all(self._carries(self._after(index, minutes), index if back else 0) for index in at)

    def _after(self, index: int, minutes: float) -> list[Floats]:
        tyres = zip(self.ends[index], (self.place.front, self.place.rear), strict=True)
        stood = Wheels(
            *(starts.stood(state, tyre, self.place, minutes, in_sun=False) for state, tyre in tyres)
        )
        steps = self._ridden(stood)
        return [_least(steps, laps) for laps in self._spans(steps)]

    def _carries(self, new: Sequence[Floats], column: int) -> bool:
        last = len(self.columns) - 1
        told = [self.columns[min(column + index, last)] for index in range(len(new))]
        pairs = zip(new, told, strict=True)
        return all(bool(np.all(now[np.isfinite(was)] >= was[np.isfinite(was)])) for now, was in pairs)

    def _ridden(self, begin: Wheels) -> list[Step]:
        """The laps that the columns need."""
        steps: list[Step] = []
        end_min = self.most * count_of("column_min")
        for step in ride(self.place, begin, MOST_LAPS):
            steps.append(step)
            over = step.minute + step.ridden.heated.time_s / 60.0
            if len(steps) >= self.most if self.kind == "laps" else over >= end_min:
                break
        return steps

    def _spans(self, steps: Sequence[Step]) -> list[list[int]]:
        """The laps of each column, by their places among steps."""
        if self.kind == "laps":
            return [[index] for index in range(len(steps))]
        wide = count_of("column_min")
        return [
            [at for at, step in enumerate(steps) if _touches(step, index * wide, (index + 1) * wide)]
            for index in range(self.most)
        ]


def _touches(step: Step, first_min: float, last_min: float) -> bool:
    return step.minute < last_min and step.minute + step.ridden.heated.time_s / 60.0 > first_min


def _least(steps: Sequence[Step], laps: Sequence[int]) -> Floats:
    """The least cap of every turn over some laps [deg], infinite where none of them rides it."""
    found = np.full(len(steps[0].ridden.caps.cap), np.inf)
    for at in laps:
        ridden = list(steps[at].way.ridden)
        found[ridden] = np.minimum(found[ridden], steps[at].ridden.caps.cap[ridden])
    return found


def _merged(found: Sequence[Stop]) -> Iterator[Stop]:
    """Neighbours with one rule as one."""
    before = found[0]
    for stop in found[1:]:
        if stop.rule == before.rule:
            before = before._replace(to_min=stop.to_min)
            continue
        yield before
        before = stop
    yield before


def _sentence(stop: Stop) -> Sentence:
    figures = {"over_min": stop.over_min, "to_min": stop.to_min}
    if stop.over_min == 0:
        return Sentence(f"stop.{stop.rule}_{'any' if stop.to_min is None else 'to'}", figures)
    return Sentence(f"stop.{stop.rule}_{'over' if stop.to_min is None else 'between'}", figures)
