"""The day word: the same on board, sheet and card, another for another plan."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import chain, count

from leanladder import catalogue
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder, SetName
from leanladder.planning.paper.quarters import usual_deg

Plans = Mapping[SetName, Sequence[DayLadder]]


def day_word(day: Day, circuit: Circuit, entries: Sequence[DayLadder], taken: Sequence[str] = ()) -> str:
    """Return the word of a plan: the same for the same plan, none of those taken.

    Another plan has another word but for about one in a hundred. No word is taken that something of the
    day is called by: a turn, a group, a rider.
    """
    words = free_words({*taken, *_names(day, circuit)})
    digest = hashlib.sha256("\n".join(_content(day, circuit, entries)).encode())
    return words[int.from_bytes(digest.digest()[:8], "big") % len(words)]


def free_words(taken: Collection[str]) -> list[str]:
    """Return words that are none of those taken; once all are, the same with a number behind.

    There is always one: cards that have to be void need a word whatever has been given out before.
    """
    known = catalogue.day_words()
    ends = chain([""], (f" {number}" for number in count(2)))
    rounds = ([word + end for word in known if word + end not in taken] for end in ends)
    return next(words for words in rounds if words)


def day_words(day: Day, circuit: Circuit, plans: Plans) -> dict[SetName, str]:
    """Return the word of each set of a day, no two alike."""
    found: dict[SetName, str] = {}
    for name, entries in plans.items():
        found[name] = day_word(day, circuit, entries, tuple(found.values()))
    return found


def _names(day: Day, circuit: Circuit) -> set[str]:
    """The words of every name of the day, in small letters, alone and without a plural's ending."""
    texts = [day.school, circuit.name, *(corner.name for corner in circuit.corners)]
    texts += [group.name for group in day.groups] + [coach.name for coach in day.coaches]
    texts += [rider.name for rider in day.riders] + [session.name for session in day.sessions]
    words = {word for text in texts for word in text.lower().split()}
    return words | {word.removesuffix("s") for word in words}


def _content(day: Day, circuit: Circuit, entries: Sequence[DayLadder]) -> Iterator[str]:
    """All that changes a card or a sheet, as lines; caps to a hundredth of a degree."""
    yield f"{day.date} {day.school} {circuit.name} {circuit.length_m:.0f}"
    usual = {rider.name: usual_deg(rider) for rider in day.riders}
    for entry in entries:
        session = entry.session
        yield f"{session.name} {session.group} {session.at} {session.minutes} {session.laps}"
        yield f"{entry.machine} {entry.level} {entry.tyres} {entry.after} {entry.coach_pace}"
        yield " ".join(
            f"{name} {on} {usual.get(name)}" for name, on in zip(entry.riders, entry.machines, strict=True)
        )
        yield from (f"{remark.code} {sorted(remark.figures.items())}" for remark in entry.remarks)
        yield "" if entry.refusal is None else entry.refusal.code
        for lap in () if entry.ladder is None else entry.ladder.laps:
            yield " ".join(
                f"{rung.number} {rung.cap_bike_deg:.2f} {rung.speed_kmh:.0f}" for rung in lap.rungs
            )
