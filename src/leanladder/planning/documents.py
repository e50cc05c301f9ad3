"""The papers of a day as documents: each session's sheets, briefing and cards, lists, by path in a folder."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from zoneinfo import ZoneInfo

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import BandEnd, Day, DayLadder, SetName
from leanladder.domain.paper import Document
from leanladder.planning import lists, paper, procedures
from leanladder.planning.paper.run import Head
from leanladder.planning.procedures import Kind
from leanladder.planning.sets import SETS, at_most

TODAY = "today"


@dataclass(frozen=True, slots=True)
class PaperSet:
    """One set of sheets: its folder, its letter where it is one of the evening's, its word and its plan."""

    folder: str
    name: SetName | None
    word: str
    entries: tuple[DayLadder, ...]


def evening_sets(
    day: Day, circuit: Circuit, planned: Mapping[BandEnd, Sequence[DayLadder]]
) -> tuple[PaperSet, ...]:
    """Return the evening's sets from the plans of the forecast's ends, the coldest first, a word each.

    No set's cap lies above a milder one's.
    """
    held = at_most([planned[band] for band in SETS.values()])
    plans = dict(zip(SETS, held, strict=True))
    words = paper.day_words(day, circuit, plans)
    return tuple(PaperSet(f"set-{name}", name, words[name], entries) for name, entries in plans.items())


def set_of_today(
    day: Day, circuit: Circuit, entries: tuple[DayLadder, ...], *, name: SetName | None = None, word: str = ""
) -> PaperSet:
    """Return the one set of what was measured, or of one end of the forecast; word in place of the chosen."""
    return PaperSet(TODAY, name, word or paper.day_word(day, circuit, entries), entries)


def day_documents(
    day: Day, circuit: Circuit, sets: Sequence[PaperSet], language: str, *, with_lists: bool = True
) -> tuple[Document, ...]:
    """Return all of a day's papers: the lists first, in this language, then each set's folder."""
    found: list[Document] = []
    if with_lists:
        if len(sets) > 1:
            found += _evening(day, circuit, sets, language)
        likely = next((each for each in sets if each.name == "b"), sets[0])
        found += _common(day, circuit, likely.entries, language)
    for each in sets:
        found += _set(day, circuit, each)
    return tuple(found)


def plain_name(name: str) -> str:
    """Return a name as part of a file's: small letters, digits and dashes; "session" where none is left."""
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", letters.lower()).strip("-") or "session"


def _evening(day: Day, circuit: Circuit, sets: Sequence[PaperSet], language: str) -> Iterator[Document]:
    """The evening's list and the page that says which set counts."""
    named = {each.name: each for each in sets if each.name is not None}
    by_band = {SETS[name]: each.entries for name, each in named.items()}
    words = {name: each.word for name, each in named.items()}
    yield Document("evening-list.pdf", lists.evening_list(day, circuit, by_band, language))
    yield Document("choose-a-set.pdf", lists.set_choice(day, circuit, by_band, words, language))


def _common(day: Day, circuit: Circuit, entries: Sequence[DayLadder], language: str) -> Iterator[Document]:
    """The morning's list, and what is done where the track is wet or drying."""
    yield Document("morning-list.pdf", lists.morning_list(day, circuit, entries, language))
    kinds: tuple[Kind, ...] = ("wet", "drying")
    for kind in kinds:
        yield Document(f"procedure-{kind}.pdf", procedures.procedure(kind, language))


def _set(day: Day, circuit: Circuit, each: PaperSet) -> Iterator[Document]:
    """A set's papers, named by the session's place in the day and its name; entries in the day's order."""
    names = [session.name for session in day.sessions]
    head = _head(circuit, each)
    for name, some in groupby(each.entries, key=lambda entry: entry.session.name):
        stem = f"{each.folder}/{names.index(name) + 1:02}-{plain_name(name)}"
        entries = tuple(some)
        yield Document(f"{stem}-coach.pdf", tuple(paper.coach_sheets(day, circuit, entries, **head)))
        briefings = tuple(paper.briefings(day, circuit, entries, **head))
        if briefings:
            yield Document(f"{stem}-briefing.pdf", briefings)
        yield Document(f"{stem}-cards.pdf", tuple(paper.rider_cards(day, circuit, entries, **head)))


def _head(circuit: Circuit, each: PaperSet) -> Head:
    zone = None if circuit.zone is None else ZoneInfo(circuit.zone)
    given_out = datetime.now(zone).astimezone(zone)
    return {"word": each.word.upper(), "set_name": each.name, "given_out": given_out}
