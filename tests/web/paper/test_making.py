"""The job that makes a day's papers, and the page that asks for them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from leanladder.domain.day import BandEnd, DayLadder
from leanladder.domain.errors import OutsideModelError
from leanladder.records import days, given, links
from leanladder.records.models import Day
from leanladder.web.days.looked import Looked
from leanladder.web.jobs import paper
from leanladder.web.paper import codes, kept, views

HOST = "192.168.0.7:8571"


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep papers in a folder of the test's own."""
    monkeypatch.setattr(kept, "day_folder", lambda day_pk: tmp_path / str(day_pk))


@pytest.fixture
def short(demo: Day) -> Day:
    """Give the example day with its first session alone."""
    for name in ("plovers 1", "larks 2", "plovers 2"):
        days.remove_run(demo.pk, name, None)
    return demo


def no_number(
    day: Any, _circuit: Any, *, band: BandEnd = "likely", progress: Any = None
) -> tuple[DayLadder, ...]:
    """A plan without a number, in no time: what paper there is without one."""
    progress(1, 3)
    refusal = OutsideModelError("wet_or_damp", "It is wet.")
    riders = [each for each in day.riders if each.group == "larks"]
    return tuple(
        DayLadder(
            day.sessions[0],
            (each.name,),
            (each.machine,),
            "naked",
            each.level,
            ("sport-road",) * 2,
            None,
            refusal,
        )
        for each in riders
    )


def made(day: Day, kind: str, monkeypatch: pytest.MonkeyPatch) -> tuple[str, ...]:
    # What takes time and is tested where it is made: the typesetter, the sun's course.
    monkeypatch.setattr("leanladder.sheets.document_pdf", lambda document: f"%PDF {document.path}".encode())
    monkeypatch.setattr("leanladder.sheets.codes_pdf", lambda pages: f"%PDF {len(pages)}".encode())
    monkeypatch.setattr("leanladder.planning.lists.evening.assumptions", lambda _day, _circuit: ())
    monkeypatch.setattr(paper, "plan_day", no_number)
    name = kept.name_of(day.pk, kind, "en", HOST)
    paper.make_papers.func(day.pk, kind, "en", HOST, name)
    assert kept.told(day.pk, name).state == "done", kept.told(day.pk, name)
    return kept.files_of(day.pk, name)


def test_the_evening_s_papers_are_lists_codes_and_three_sets(
    short: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = made(short, "evening", monkeypatch)
    assert [path for path in files if "/" not in path] == [
        "card-codes.pdf", "choose-a-set.pdf", "evening-list.pdf", "morning-list.pdf", "procedure-drying.pdf",
        "procedure-wet.pdf",
    ]  # fmt: skip
    assert {path.partition("/")[0] for path in files if "/" in path} == {"set-a", "set-b", "set-c"}
    name = kept.name_of(short.pk, "evening", "en", HOST)
    assert len(set(kept.words_of(short.pk, name).values())) == 3
    assert kept.evening_list_of(short.pk, "en") is not None


def test_a_day_changed_meanwhile_is_told_and_nothing_is_kept(short: Day) -> None:
    name = kept.name_of(short.pk, "evening", "en", HOST)
    days.save_group(short.pk, "gulls", [], None)
    paper.make_papers.func(short.pk, "evening", "en", HOST, name)
    assert kept.told(short.pk, name).state == "failed"
    assert kept.files_of(short.pk, name) == ()


def test_each_rider_has_a_code_of_their_own(short: Day) -> None:
    first = codes.link_address(short.pk, "Wren", HOST)
    assert first.startswith(f"http://{HOST}/c/")
    assert first == codes.link_address(short.pk, "Wren", HOST)
    assert first != codes.link_address(short.pk, "Sedge", HOST)
    assert links.link_of(first.rpartition("/")[2]) is not None
    assert codes.code_svg(first).startswith("<svg")


def test_the_page_asks_once_and_tells_how_far_it_is(
    page: Client, demo: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[Any, ...]] = []

    class Job:
        @staticmethod
        def enqueue(*given: Any) -> None:
            asked.append(given)

    monkeypatch.setattr(views, "make_papers", Job)
    monkeypatch.setattr(views, "look_at", lambda _pk: Looked())
    for _ in range(2):
        assert page.post(f"/days/{demo.pk}/paper/make/evening/").status_code == 302
    assert len(asked) == 1
    assert asked[0][:3] == (demo.pk, "evening", "en")
    shown = page.get(f"/days/{demo.pk}/paper/")
    assert shown.context["busy"]
    assert "The pages are being made." in shown.content.decode()
    assert page.post(f"/days/{demo.pk}/paper/make/all/").status_code == 404


def test_after_rain_the_page_has_older_paper_collected(demo: Day, page: Client) -> None:
    assert "older paper void" not in page.get(f"/days/{demo.pk}/paper/").content.decode()
    given.void(demo.pk, "rain", None, word="badger")
    assert "older paper void" in page.get(f"/days/{demo.pk}/paper/").content.decode()
