"""The columns of sheets and cards: laps 1 to 3, or minutes where laps are short."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from leanladder.domain.ladder import Ladder, Lap, Rung
from leanladder.domain.paper import Span
from leanladder.planning.paper.figures import count_of, paper_figures

SpanKind = Literal["laps", "minutes"]


@dataclass(frozen=True, slots=True)
class Column:
    """A span with the laps that it stands for, in order."""

    span: Span
    laps: tuple[Lap, ...]

    def rung(self, number: int) -> Rung | None:
        """Return the rung with the least cap among a turn's, None where no lap of the column rides it."""
        rungs = [rung for lap in self.laps for rung in lap.rungs if rung.number == number]
        return min(rungs, key=lambda rung: rung.cap_bike_deg) if rungs else None

    def numbers(self) -> tuple[int, ...]:
        """Return the numbers of the turns that it rides, rising."""
        return tuple(sorted({rung.number for lap in self.laps for rung in lap.rungs}))

    def least(self) -> Rung | None:
        """Return the rung with least margin: by its cap, where alike by what grip alone would carry."""
        rungs = [rung for number in self.numbers() if (rung := self.rung(number)) is not None]
        return min(rungs, key=_margin, default=None)


def span_kind(ladders: Iterable[Ladder]) -> SpanKind:
    """Return what the columns of a session count: minutes as soon as one of its ladders has short laps."""
    most = count_of("columns")
    times = [lap.time_s for ladder in ladders for lap in ladder.laps[:most]]
    return "minutes" if min(times, default=1e9) < paper_figures()["short_lap_s"] else "laps"


def columns(ladder: Ladder, kind: SpanKind) -> tuple[Column, ...]:
    """Return at most three columns of a ladder; those beyond its last lap are left out.

    A column of minutes holds every lap that touches it. The third holds every lap after it too: it is the
    one that riders go on by, so it may not stand above a later lap.
    """
    laps, most = ladder.laps, count_of("columns")
    found = [_column(laps, kind, index) for index in range(most)]
    whole = [column for column in found if column.laps]
    if len(whole) == most:
        first = whole[-1].laps[0].lap
        whole[-1] = Column(whole[-1].span, tuple(lap for lap in laps if lap.lap >= first))
    return tuple(whole)


def _column(laps: tuple[Lap, ...], kind: SpanKind, index: int) -> Column:
    if kind == "laps":
        return Column(Span(kind, index + 1, index + 1), laps[index : index + 1])
    wide = count_of("column_min")
    first, last = index * wide, (index + 1) * wide
    return Column(Span(kind, first, last), tuple(lap for lap in laps if _touches(lap, first, last)))


def _touches(lap: Lap, first_min: float, last_min: float) -> bool:
    return lap.minute < last_min and lap.minute + lap.time_s / 60.0 > first_min


def _margin(rung: Rung) -> tuple[float, float, int]:
    return rung.cap_bike_deg, rung.physics_bike_deg, rung.number
