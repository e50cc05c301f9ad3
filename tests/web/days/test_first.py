"""The first start: no day yet, a demo in one step, files that are none."""

from __future__ import annotations

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from leanladder.records.models import Day

DEMO = False


def test_the_first_page_says_what_to_do_first(page: Client) -> None:
    shown = page.get("/").content.decode()
    assert "No day yet." in shown
    assert [step.code for step in page.get("/").context["steps"] if step.is_next] == ["circuit"]


def test_the_demo_day_is_there_in_one_step_and_once(page: Client) -> None:
    where = page.post("/days/demo/")["Location"]
    assert page.get(where).status_code == 200
    assert page.post("/days/demo/")["Location"] == where
    assert len(page.get("/").context["days"]) == 1


def test_what_is_no_day_is_told(page: Client) -> None:
    for name, content in (("day.zip", b"no zip"), ("notes.txt", b"hello")):
        answer = page.post("/days/import/", {"files": SimpleUploadedFile(name, content)})
        assert answer.status_code == 400
    assert page.post("/days/import/", {}).status_code == 400
    assert not Day.objects.exists()
