"""The page of sessions."""

from __future__ import annotations

from django.test import Client

from leanladder.records import days
from leanladder.records.models import Change, Day
from leanladder.web.days.sessions import KEYS, row_of


def rows(day: Day) -> dict[str, list[str]]:
    found = [row_of(run, "metric") for run in days.runs(day.pk)]
    return {key: [row[key] for row in found] for key in KEYS}


def names(day: Day) -> list[str]:
    return [run.name for run in days.runs(day.pk)]


def test_what_the_page_shows_is_what_it_keeps(page: Client, demo: Day) -> None:
    before, history = days.written_day(demo.pk), Change.objects.count()
    assert page.get(f"/days/{demo.pk}/sessions/").status_code == 200
    assert page.post(f"/days/{demo.pk}/sessions/", rows(demo)).status_code == 302
    assert days.written_day(demo.pk) == before
    assert Change.objects.count() == history


def test_a_session_is_renamed_gets_a_start_and_another_goes(page: Client, demo: Day) -> None:
    fields = rows(demo)
    fields["name"][0], fields["kind"][0] = "early larks", "warmers"
    fields["warmers_c"][0], fields["on_min"][0], fields["off_min"][0] = "80", "60", "5"
    page.post(f"/days/{demo.pk}/sessions/", {key: values[:3] for key, values in fields.items()})
    first = days.written_day(demo.pk)["sessions"][0]
    assert first["start"] == {"kind": "warmers", "warmers_c": 80.0, "on_min": 60.0, "off_min": 5.0}
    assert names(demo) == ["early larks", "plovers 1", "larks 2"]


def test_fields_of_another_start_do_not_count(page: Client, demo: Day) -> None:
    fields = rows(demo)
    fields["kind"][0], fields["warmers_c"][0], fields["off_min"][0] = "stopped", "80", "15"
    fields["in_sun"][0] = "sun"
    page.post(f"/days/{demo.pk}/sessions/", fields)
    first = days.written_day(demo.pk)["sessions"][0]
    assert first["start"] == {"kind": "stopped", "off_min": 15.0, "in_sun": True}


def test_what_is_wrong_is_told_and_nothing_is_half_kept(page: Client, demo: Day) -> None:
    fields = rows(demo)
    fields["name"][0] = "early larks"
    fields["minutes"][1] = "20"  # and laps
    answer = page.post(f"/days/{demo.pk}/sessions/", fields)
    assert answer.status_code == 400
    assert answer.context["rows"][0]["name"] == "early larks"
    assert names(demo)[0] == "larks 1"


def test_groups_in_turn_beside_or_in_place(page: Client, demo: Day) -> None:
    form = {
        "first": "13:00", "minutes": "20", "between": "0", "rounds": "2", "break_at": "", "break_for": "",
        "groups": ["plovers", "larks"],
    }  # fmt: skip
    page.post(f"/days/{demo.pk}/sessions/in-turn/", form)
    assert names(demo)[-4:] == ["plovers 3", "larks 3", "plovers 4", "larks 4"]
    page.post(f"/days/{demo.pk}/sessions/in-turn/", {**form, "anew": "on"})
    assert names(demo) == ["plovers 1", "larks 1", "plovers 2", "larks 2"]
    answer = page.post(f"/days/{demo.pk}/sessions/in-turn/", {**form, "rounds": "many"})
    assert answer.status_code == 400
    assert answer.context["turn"]["rounds"] == "many"
