"""A day's papers as documents, by path."""

from __future__ import annotations

from pathlib import Path

import pytest

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.paper import Document
from leanladder.importers import read_outline
from leanladder.interchange.day import read_day
from leanladder.interchange.notes import read_notes
from leanladder.planning import circuits
from leanladder.planning.documents import day_documents, evening_sets, plain_name, set_of_today
from leanladder.planning.sets import SETS

EXAMPLE = Path(__file__).resolve().parents[2] / "src" / "leanladder" / "data" / "example" / "day.toml"


@pytest.fixture(scope="module")
def day() -> Day:
    return read_day(EXAMPLE)


@pytest.fixture(scope="module")
def circuit(day: Day) -> Circuit:
    assert day.notes is not None
    return circuits.build(read_outline(day.circuit), read_notes(day.notes))


@pytest.fixture(scope="module")
def entries(day: Day) -> tuple[DayLadder, ...]:
    """A plan in which nobody has a number: what paper there is then."""
    refusal = OutsideModelError("wet_or_damp", "It is wet.")
    return tuple(
        DayLadder(run, (each.name,), (each.machine,), "naked", each.level, ("track-day",) * 2, None, refusal)
        for run in day.sessions[:2]
        for each in day.riders
        if each.group == run.group
    )


def paths(documents: tuple[Document, ...]) -> list[str]:
    return [each.path for each in documents]


def test_today_is_one_set_after_its_lists(day: Day, circuit: Circuit, entries: tuple[DayLadder, ...]) -> None:
    only = set_of_today(day, circuit, entries)
    found = paths(day_documents(day, circuit, (only,), "en"))
    assert found[:3] == ["morning-list.pdf", "procedure-wet.pdf", "procedure-drying.pdf"]
    assert set(found[3:]) >= {"today/01-larks-1-coach.pdf", "today/02-plovers-1-cards.pdf"}
    alone = paths(day_documents(day, circuit, (only,), "en", with_lists=False))
    assert alone == found[3:]


def test_a_word_of_one_s_own_counts(day: Day, circuit: Circuit, entries: tuple[DayLadder, ...]) -> None:
    assert set_of_today(day, circuit, entries, word="heron").word == "heron"


def test_the_evening_is_three_sets_with_a_word_each(
    day: Day, circuit: Circuit, entries: tuple[DayLadder, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    # The sun's course takes seconds to load, and nothing here is about it.
    monkeypatch.setattr("leanladder.planning.lists.evening.assumptions", lambda _day, _circuit: ())
    sets = evening_sets(day, circuit, dict.fromkeys(SETS.values(), entries))
    assert [(each.folder, each.name) for each in sets] == [("set-a", "a"), ("set-b", "b"), ("set-c", "c")]
    assert len({each.word for each in sets}) == 3
    found = paths(day_documents(day, circuit, sets, "en"))
    assert found[:2] == ["evening-list.pdf", "choose-a-set.pdf"]
    assert len(found) == len(set(found))


@pytest.mark.parametrize(("name", "plain"), [("Früh & spät 1", "fruh-spat-1"), ("早", "session")])
def test_a_name_is_made_plain(name: str, plain: str) -> None:
    assert plain_name(name) == plain
