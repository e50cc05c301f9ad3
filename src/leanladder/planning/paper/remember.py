"""What riders must keep in mind: at most three things on a card, all of the rules at a briefing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from leanladder.domain.circuit import Side
from leanladder.domain.day import DayLadder
from leanladder.domain.sentence import Sentence
from leanladder.planning.paper.figures import count_of
from leanladder.planning.paper.run import Run

SIDES: tuple[Side, ...] = ("left", "right")


def remember(run: Run, entry: DayLadder) -> tuple[Sentence, ...]:
    """Return at most three things for a rider's card, the most urgent first."""
    first = Sentence("remember.behind_coach_all") if entry.coach_pace else behind_coach(run)
    told = (first, *_of_tyres(run, entry), Sentence("remember.no_weaving"))
    # What to do when it feels wrong always helps: it stays, whatever has to go.
    return (*told[: count_of("most_remembered") - 1], Sentence("remember.feels_wrong"))


def rules(run: Run) -> tuple[Sentence, ...]:
    """Return what a group is told before it goes out."""
    said = dict[str, Sentence]()
    for entry in run.entries:
        said |= {sentence.code: sentence for sentence in _of_tyres(run, entry)}
    group_wide = {code: sentence for code, sentence in said.items() if _holds_for_all(run, code)}
    return (
        behind_coach(run),
        Sentence("remember.no_weaving"),
        *group_wide.values(),
        Sentence("brief.stop"),
        Sentence("remember.feels_wrong"),
        Sentence("brief.wet"),
        Sentence("brief.not_riding"),
    )


def behind_coach(run: Run, code: str = "remember.behind_coach") -> Sentence:
    """Return how long nobody passes: the first two laps, or as many as the slowest level follows a coach."""
    if run.kind == "minutes":
        return Sentence(f"{code}_minutes", {"minutes": run.free_min})
    return Sentence(code, {"lap": run.free_from - 1})


def _holds_for_all(run: Run, code: str) -> bool:
    entries = [entry for entry in run.entries if entry.ladder is not None]
    return all(code in {sentence.code for sentence in _of_tyres(run, entry)} for entry in entries)


def _of_tyres(run: Run, entry: DayLadder) -> Iterator[Sentence]:
    """What a rider must know of their own tyres, the most urgent first."""
    warned = () if entry.ladder is None else tuple(warning.code for warning in entry.ladder.warnings)
    new = new_sides(run, entry)
    if new:
        yield Sentence("remember.new_both" if len(new) > 1 else f"remember.new_{new[0]}")
    if "limits_fall" in warned:
        yield Sentence("remember.limits_fall")
    if "tyre_unfit_cold" in warned:
        yield Sentence("remember.stays_cold")
    if "hot_end" in warned or "hot_track" in warned:
        yield Sentence("remember.hot")


def new_sides(run: Run, entry: DayLadder) -> tuple[Side, ...]:
    """Return the sides on which scrubbing sets a cap somewhere in the columns, if they have several turns.

    Of a side's only turn, the turn to respect says it.
    """
    limited = {
        rung.side
        for column in run.columns(entry)
        for number in column.numbers()
        if (rung := column.rung(number)) is not None and rung.limited_by == "scrubbing"
    }
    turns = Counter(corner.side for corner in run.circuit.corners)
    return tuple(side for side in SIDES if side in limited and turns[side] > 1)
