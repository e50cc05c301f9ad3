"""The page of a day's weather."""

from __future__ import annotations

from typing import Any

from django.test import Client

from leanladder.records import days
from leanladder.records.models import Day, Person
from leanladder.web.days.weather import KEYS, entry_of, row_of


def rows(day: Day, units: str = "metric") -> dict[str, list[str]]:
    """The fields of the page as a browser sends them."""
    found = [row_of(entry, units) for entry in day.weather]
    return {key: [row[key] for row in found] for key in KEYS}


def address(day: Day) -> str:
    return f"/days/{day.pk}/weather/"


def test_what_the_page_shows_is_what_it_keeps(page: Client, demo: Day) -> None:
    assert page.get(address(demo)).status_code == 200
    assert page.post(address(demo), rows(demo)).status_code == 302
    assert days.day(demo.pk).weather == demo.weather


def test_rows_are_kept_by_rising_time(page: Client, demo: Day) -> None:
    fields = rows(demo)
    for key in KEYS:
        fields[key].insert(0, {"at": "15:00", "air_c": "14,5", "road": "dry"}.get(key, ""))
    page.post(address(demo), fields)
    assert days.day(demo.pk).weather[-1] == {"at": "15:00", "air_c": 14.5, "road": "dry"}


def test_adding_and_taking_away_keeps_nothing_yet(page: Client, demo: Day) -> None:
    added = page.post(address(demo), {**rows(demo), "do": "add"})
    assert [row["at"] for row in added.context["rows"]] == ["09:00", "10:00", "12:00", "13:00"]
    assert added.context["rows"][-1]["track_c"] == ""
    less = page.post(address(demo), {**rows(demo), "remove": "1"})
    assert [row["at"] for row in less.context["rows"]] == ["09:00", "12:00"]
    assert days.day(demo.pk).weather == demo.weather


def test_what_is_wrong_is_told_and_what_was_typed_stays(page: Client, demo: Day) -> None:
    fields = rows(demo)
    fields["air_c"][1] = "mild"
    answer = page.post(address(demo), fields)
    assert answer.status_code == 400
    assert answer.context["fault"].fault.value == "mild"
    assert answer.context["rows"][1]["air_c"] == "mild"
    fields["air_c"][1], fields["air_cold_c"][1] = "8", "9"
    assert page.post(address(demo), fields).status_code == 400  # the band does not rise


def test_imperial_figures_are_kept_in_ours(page: Client, head: Person, demo: Day) -> None:
    head.units = "imperial"
    head.save()
    shown = page.get(address(demo)).content.decode()
    assert "Air, °F" in shown
    assert 'value="46.4"' in shown
    page.post(address(demo), rows(demo, "imperial"))
    assert days.day(demo.pk).weather == demo.weather


def test_every_key_goes_to_the_page_and_back() -> None:
    entry: dict[str, Any] = {
        "at": "09:00", "air_c": 8.0, "air_cold_c": 6.0, "air_mild_c": 9.5, "track_c": 11.0, "cloud": 0.4,
        "wind_mps": 2.0, "humidity_pct": 60.0, "road": "drying",
    }  # fmt: skip
    assert entry_of(row_of(entry, "metric"), "metric") == entry
