"""The briefing of a group before it goes out: the most careful of its riders turn by turn, and the rules."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Unpack

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.paper import Briefing, CardRow
from leanladder.domain.sentence import Sentence
from leanladder.planning.paper.remember import rules
from leanladder.planning.paper.respect import corner_of, respected, shared_why
from leanladder.planning.paper.riders import rider_rows
from leanladder.planning.paper.run import Head, Run, run_of


def briefings(
    day: Day, circuit: Circuit, entries: Sequence[DayLadder], **head: Unpack[Head]
) -> tuple[Briefing, ...]:
    """Return the briefing of one session's group, a page a language of its coaches; none without a number.

    Each turn's fan is the most careful of the group's, on the first column alone.
    """
    run = run_of(day, circuit, entries, **head)
    out = [entry for entry in run.entries if entry.ladder is not None and run.columns(entry)]
    if not out:
        return ()
    number = _respected(run, out)
    return tuple(
        Briefing(
            heading=run.heading,
            coaches=coaches,
            language=language,
            circuit=run.circuit,
            span=run.columns(out[0])[0].span,
            rows=_group_rows(run, out, number),
            respect=None if number is None else (number, corner_of(run.circuit, number).side),
            respect_why=() if number is None else tuple(_why(run, out, number)),
            order=tuple(_order(run)),
            rules=rules(run),
        )
        for language, coaches in run.leaders()
    )


def _respected(run: Run, out: Sequence[DayLadder]) -> int | None:
    """The turn that most riders' cards name, of several the one with the least cap; None without a turn."""
    often: Counter[int] = Counter()
    least_deg: dict[int, float] = {}
    for entry in out:
        number = respected(run.columns(entry))
        if number is not None:
            rungs = [column.rung(number) for column in run.columns(entry)]
            caps = [rung.cap_bike_deg for rung in rungs if rung is not None]
            often[number] += len(entry.riders)
            least_deg[number] = min([*caps, least_deg.get(number, 90.0)])
    return min(often, key=lambda number: (-often[number], least_deg[number], number), default=None)


def _why(run: Run, out: Sequence[DayLadder], number: int) -> Iterator[Sentence]:
    """Why the group respects a turn, and what holds for riders whose own card names another."""
    asked = [(entry.ladder, run.columns(entry)) for entry in out if entry.ladder is not None]
    yield from shared_why(run.circuit, asked, number)
    if any(respected(run.columns(entry)) != number for entry in out):
        yield Sentence("brief.own_card")


def _group_rows(run: Run, out: Sequence[DayLadder], number: int | None) -> tuple[CardRow, ...]:
    """A row a turn with the first column's fan of whoever has the fewest quarters there."""
    cards = [rider_rows(run, entry, run.rider(name), number) for entry in out for name in entry.riders]
    found: list[CardRow] = []
    for rows in zip(*cards, strict=True):
        fans = [row.fans[0] for row in rows if row.fans[0] is not None]
        least = min(fans, key=lambda fan: fan.quarters, default=None)
        found.append(CardRow(rows[0].number, rows[0].side, rows[0].least_margin, (least,)))
    return tuple(found)


def _order(run: Run) -> Iterator[Sentence]:
    """Who goes out when in a mixed field, and which machines do not go out."""
    field = run.field
    yield from field.order
    if field.mixed:
        yield Sentence("field.coach_in_front")
        return
    stay = [machine for entry in run.entries if entry.ladder is None for machine in entry.machines]
    if stay:
        yield Sentence("brief.not_out", {"machines": ", ".join(stay)})
