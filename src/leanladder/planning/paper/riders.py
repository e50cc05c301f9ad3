"""Riders' cards of one session: words and quarters, no degrees, no speeds, no names of others."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Unpack

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder, Rider
from leanladder.domain.paper import CardRow, NoCard, RiderCard
from leanladder.planning.paper.quarters import usual_deg
from leanladder.planning.paper.refused import rider_steps, why
from leanladder.planning.paper.remember import remember
from leanladder.planning.paper.respect import corner_of, respect_why, respected
from leanladder.planning.paper.rows import card_rows, no_more_than, shown
from leanladder.planning.paper.run import Head, Run, run_of, spoken


def rider_cards(
    day: Day, circuit: Circuit, entries: Sequence[DayLadder], **head: Unpack[Head]
) -> tuple[RiderCard | NoCard, ...]:
    """Return a card a rider of one session, in the order of its entries.

    entries are all of one session, at least one. Quarters are of the rider's own usual lean, counted at
    most the level's; a card without a number says why and what to do.
    """
    run = run_of(day, circuit, entries, **head)
    return tuple(
        _card(run, entry, name, machine)
        for entry in run.entries
        for name, machine in zip(entry.riders, entry.machines, strict=True)
    )


def _card(run: Run, entry: DayLadder, name: str, machine: str) -> RiderCard | NoCard:
    rider = run.rider(name)
    language = spoken(rider.language)
    if entry.ladder is None:
        return NoCard(run.heading, name, machine, language, rider.large_print, why(entry), rider_steps(entry))
    columns = run.columns(entry)
    number = respected(columns)
    every = rider_rows(run, entry, rider, number)
    rows, left_out = shown(every)
    return RiderCard(
        heading=run.heading,
        rider=name,
        machine=machine,
        language=language,
        large_print=rider.large_print,
        spans=tuple(column.span for column in columns),
        rows=rows,
        left_out=left_out,
        left_out_as=no_more_than(every, left_out, rows),
        respect=None if number is None else (number, corner_of(run.circuit, number).side),
        respect_why=() if number is None else respect_why(run.circuit, entry.ladder, columns, number),
        remember=remember(run, entry),
        coach_pace=entry.coach_pace,
    )


def rider_rows(run: Run, entry: DayLadder, rider: Rider, number: int | None) -> tuple[CardRow, ...]:
    """Return a row a turn for one rider of an entry, all turns; number is the turn to respect."""
    columns = run.columns(entry)
    return card_rows(run.circuit.corners, columns, usual_deg(rider), run.most(entry), number)
