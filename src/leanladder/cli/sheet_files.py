"""The pages of a day as files: each session's sheets, briefing and cards, by their paths in a folder."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from leanladder import sheets
from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder, SetName
from leanladder.planning import lists, paper, procedures
from leanladder.planning.paper.run import Head
from leanladder.planning.procedures import Kind
from leanladder.planning.sets import SETS

Files = dict[str, bytes]
Plans = Mapping[SetName, Sequence[DayLadder]]


def set_files(day: Day, circuit: Circuit, entries: Sequence[DayLadder], folder: str, head: Head) -> Files:
    """Return the files of a set: for each session coaches' sheets, a briefing where it has one, and cards.

    They are named by the session's place in the day and its name; entries are in the day's order.
    """
    names = [session.name for session in day.sessions]
    found: Files = {}
    for name, some in groupby(entries, key=lambda entry: entry.session.name):
        stem = f"{folder}/{names.index(name) + 1:02}-{plain_name(name)}"
        found |= {f"{stem}-{kind}.pdf": page for kind, page in _pages(day, circuit, tuple(some), head)}
    return found


def evening_files(
    day: Day, circuit: Circuit, plans: Plans, words: Mapping[SetName, str], language: str
) -> Files:
    """Return the evening's list and the page that says which set counts."""
    by_band = {SETS[name]: entries for name, entries in plans.items()}
    evening = lists.evening_list(day, circuit, by_band, language)
    choice = lists.set_choice(day, circuit, by_band, words, language)
    return {"evening-list.pdf": sheets.list_pdf(evening), "choose-a-set.pdf": sheets.choice_pdf(choice)}


def common_files(day: Day, circuit: Circuit, entries: Sequence[DayLadder], language: str) -> Files:
    """Return the morning's list, and what is done where the track is wet or drying."""
    morning = lists.morning_list(day, circuit, entries, language)
    files = {"morning-list.pdf": sheets.list_pdf(morning)}
    kinds: tuple[Kind, ...] = ("wet", "drying")
    for kind in kinds:
        page = procedures.procedure(kind, language)
        files[f"procedure-{kind}.pdf"] = sheets.procedure_pdf(page)
    return files


def _pages(
    day: Day, circuit: Circuit, entries: tuple[DayLadder, ...], head: Head
) -> Iterator[tuple[str, bytes]]:
    yield "coach", sheets.coach_pdf(paper.coach_sheets(day, circuit, entries, **head))
    briefings = paper.briefings(day, circuit, entries, **head)
    if briefings:
        yield "briefing", sheets.briefing_pdf(briefings)
    yield "cards", sheets.cards_pdf(paper.rider_cards(day, circuit, entries, **head))


def plain_name(name: str) -> str:
    """Return a name as part of a file's: small letters, digits and dashes; "session" where none is left."""
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", letters.lower()).strip("-") or "session"
