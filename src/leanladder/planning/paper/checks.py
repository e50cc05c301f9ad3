"""What a coach checks before the wheels roll, and why a turn has the least margin."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Rung
from leanladder.domain.sentence import Sentence
from leanladder.planning.paper.cells import shoulder_c
from leanladder.planning.paper.figures import count_of
from leanladder.planning.paper.remember import behind_coach
from leanladder.planning.paper.respect import corner_of, is_shaded, turns_first
from leanladder.planning.paper.run import Run
from leanladder.planning.paper.spans import Column


def checks(run: Run, entry: DayLadder) -> tuple[Sentence, ...]:
    """Return what to tick before an entry rolls, the tyres' own remarks among it."""
    return tuple(_checks(run, entry))


def _checks(run: Run, entry: DayLadder) -> Iterator[Sentence]:
    yield Sentence("check.word", {"word": run.heading.day_word.upper()})
    yield Sentence("check.road")
    yield Sentence("check.told")
    yield from entry.remarks
    if entry.after is not None:
        yield Sentence("check.after", {"session": entry.after})
    yield behind_coach(run, "check.in_front")
    yield Sentence("check.last_column")
    warming = entry.ladder is not None and "upright_only" in entry.ladder.cautions
    yield Sentence("check.no_weaving" if warming else "check.no_harder")


def least_why(run: Run, entry: DayLadder, number: int) -> tuple[Sentence, ...]:
    """Return why a turn has the least margin, for its coach: the gap, the rubber, what sets the cap."""
    return tuple(_least_why(run, run.columns(entry), number))


def _least_why(run: Run, columns: Sequence[Column], number: int) -> Iterator[Sentence]:
    corner = corner_of(run.circuit, number)
    if turns_first(run.circuit, corner) >= count_of("turns_first"):
        gap_m = 10 * math.floor(corner.same_side_gap_m / 10.0)
        yield Sentence(f"least.gap_{corner.side}", {"gap_m": gap_m})
    if is_shaded(run.circuit, corner):
        yield Sentence("respect.shaded")
    rung = _least_rung(columns, number)
    if rung is not None:
        lap = next(lap.lap for column in columns for lap in column.laps if rung in lap.rungs)
        rubber_c = math.floor(shoulder_c(rung))
        yield Sentence("least.arrives", {"lap": lap, "side": rung.side, "rubber_c": rubber_c})
        yield Sentence(f"least.{rung.limited_by}")
        more_deg = math.floor(rung.card_bike_deg - rung.cap_bike_deg)
        if rung.limited_by in {"front_grip", "rear_grip"} and more_deg >= 1:
            yield Sentence("least.card_more", {"more_deg": more_deg})
    yield Sentence("least.show")


def _least_rung(columns: Sequence[Column], number: int) -> Rung | None:
    """The rung with the least cap of a turn, of the columns in which it has the least margin."""
    rungs = [rung for column in columns if (rung := column.least()) is not None and rung.number == number]
    return min(rungs, key=lambda rung: rung.cap_bike_deg, default=None)
