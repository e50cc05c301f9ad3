"""Papers are kept whole or not at all, and only what was made is ever given."""

from __future__ import annotations

import io
import os
import time
import zipfile
from datetime import date
from pathlib import Path

import pytest
from django.test import Client

from leanladder.domain.paper import DayList, ListPart
from leanladder.domain.sentence import Sentence
from leanladder.records import days
from leanladder.records.models import Day
from leanladder.web.paper import kept
from leanladder.web.paper.kept import Told

NAME = "evening-" + "0" * 24
FILES = {
    "set-a/01-larks-1-cards.pdf": b"%PDF-1",
    "morning-list.pdf": b"%PDF-2",
    "words.json": b'{"set-a": "HERON"}',
}


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep papers in a folder of the test's own."""
    monkeypatch.setattr(kept, "day_folder", lambda day_pk: tmp_path / str(day_pk))


def test_what_is_kept_is_found_lists_first(tmp_path: Path) -> None:
    kept.keep(7, NAME, FILES)
    assert kept.files_of(7, NAME) == ("morning-list.pdf", "set-a/01-larks-1-cards.pdf")
    assert kept.file_of(7, NAME, "set-a/01-larks-1-cards.pdf") == b"%PDF-1"
    assert kept.words_of(7, NAME) == {"set-a": "HERON"}
    assert [path.name for path in (tmp_path / "7").iterdir() if path.is_dir()] == [NAME]
    with zipfile.ZipFile(io.BytesIO(kept.zip_of(7, NAME))) as packed:
        assert packed.namelist() == list(kept.files_of(7, NAME))


@pytest.mark.parametrize("path", ["../7/x.pdf", "/etc/passwd", "words.json", "set-a", "no.pdf"])
def test_nothing_else_is_given(path: str) -> None:
    kept.keep(7, NAME, FILES)
    assert kept.file_of(7, NAME, path) is None


def test_a_word_that_stood_on_paper_is_known_even_when_that_is_gone() -> None:
    assert kept.words_on_paper(7) == set()
    kept.keep(7, NAME, FILES)
    for number in range(kept.MOST_KEPT + 1):
        kept.keep(7, f"today-{number:024x}", {"words.json": b'{"today": "OWL"}', "list.pdf": b"%PDF-1"})
    assert kept.words_of(7, NAME) == {}
    assert kept.words_on_paper(7) == {"heron", "owl"}


def test_the_same_papers_made_again_take_the_place_of_the_first() -> None:
    kept.keep(7, NAME, FILES)
    kept.keep(7, NAME, {"morning-list.pdf": b"%PDF-3"})
    assert kept.files_of(7, NAME) == ("morning-list.pdf",)


def test_what_a_power_cut_left_and_the_oldest_are_taken_away(tmp_path: Path) -> None:
    (tmp_path / "7" / ".evening-half").mkdir(parents=True)
    names = [f"today-{number:024x}" for number in range(kept.MOST_KEPT + 1)]
    for number, name in enumerate(names):
        kept.keep(7, name, {"morning-list.pdf": b"%PDF"})
        os.utime(tmp_path / "7" / name, (number, number))
    kept.keep(7, NAME, FILES)
    left = {path.name for path in (tmp_path / "7").iterdir() if path.is_dir()}
    assert len(left) == kept.MOST_KEPT
    assert NAME in left
    assert names[0] not in left


def test_how_far_they_are_is_told_until_they_are_there(tmp_path: Path) -> None:
    assert kept.told(7, NAME) == Told()
    kept.tell(7, NAME, Told("running", 3, 40))
    assert kept.told(7, NAME) == Told("running", 3, 40)
    past = time.time() - 2 * kept.STALE_S
    os.utime(tmp_path / "7" / f"{NAME}-made.json", (past, past))
    assert kept.told(7, NAME) == Told()  # asked for anew
    kept.keep(7, NAME, FILES)
    assert kept.told(7, NAME).state == "done"


def test_a_name_says_what_went_in(demo: Day) -> None:
    first = kept.name_of(demo.pk, "evening", "en", "a:1")
    assert first == kept.name_of(demo.pk, "evening", "en", "a:1")
    others = [("today", "en", "a:1"), ("evening", "de", "a:1"), ("evening", "en", "b:1")]
    assert first not in [kept.name_of(demo.pk, *each) for each in others]
    days.remove_run(demo.pk, "larks 2", None)
    assert first != kept.name_of(demo.pk, "evening", "en", "a:1")


def test_the_evening_s_list_is_found_as_long_as_it_counts(demo: Day) -> None:
    page = DayList(
        "evening",
        "S",
        "C",
        date(2026, 4, 12),
        "en",
        (ListPart("lists.head_pack", (Sentence("lists.pack_pump"),)),),
    )
    kept.keep(demo.pk, NAME, {**FILES, **kept.evening_list_file(demo.pk, page)})
    assert kept.evening_list_of(demo.pk, "en") == page
    assert kept.evening_list_of(demo.pk, "de") is None
    days.remove_run(demo.pk, "larks 2", None)
    assert kept.evening_list_of(demo.pk, "en") is None


def test_papers_go_with_their_day(page: Client, demo: Day, tmp_path: Path) -> None:
    kept.keep(demo.pk, NAME, FILES)
    assert page.post(f"/days/{demo.pk}/remove/").status_code == 302
    assert not (tmp_path / str(demo.pk)).exists()


def test_a_paper_opens_for_the_head_instructor_alone(page: Client, coach_page: Client, demo: Day) -> None:
    kept.keep(demo.pk, NAME, FILES)
    where = f"/days/{demo.pk}/paper/{NAME}/morning-list.pdf"
    answer = page.get(where)
    assert (answer.status_code, answer["Content-Type"], answer.content) == (200, "application/pdf", b"%PDF-2")
    assert page.get(f"/days/{demo.pk}/paper/{NAME}/all.zip").content[:2] == b"PK"
    assert page.get(f"/days/{demo.pk}/paper/{NAME}/no.pdf").status_code == 404
    for each in (where, f"/days/{demo.pk}/paper/{NAME}/all.zip", f"/days/{demo.pk}/paper/"):
        assert coach_page.get(each).status_code == 403
