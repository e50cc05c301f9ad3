"""The pages that wait for ladders, and show them: all of a day's in a row, and its lists."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client

from leanladder.domain.day import DayLadder
from leanladder.domain.errors import Fault, OutsideModelError
from leanladder.domain.paper import DayList, PressureRow
from leanladder.domain.sentence import Sentence
from leanladder.records import days
from leanladder.records.models import Day
from leanladder.sheets.lists import list_data
from leanladder.units.convert import convert
from leanladder.web import plans
from leanladder.web.days import lists
from leanladder.web.days.ladders import least_of, parts_of
from leanladder.web.days.looked import look_at
from leanladder.web.plans import Progress, Worked


@pytest.fixture
def entries(demo: Day) -> tuple[DayLadder, ...]:
    """Give a plan in which nobody has a number: a rider an entry."""
    looked = look_at(demo.pk)
    assert looked.day is not None
    refusal = OutsideModelError("wet_or_damp", "It is wet.", Fault(remedy="Wait."))
    return tuple(
        DayLadder(
            run,
            (each.name,),
            (each.machine,),
            "naked",
            each.level,
            ("sport-road", "sport-road"),
            None,
            refusal,
        )
        for run in looked.day.sessions
        for each in looked.day.riders
        if each.group == run.group
    )


@pytest.fixture
def worked(demo: Day, entries: tuple[DayLadder, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """Have the plan worked out."""
    looked = look_at(demo.pk)
    assert looked.day is not None
    assert looked.circuit is not None
    found = Worked(demo.pk, looked.day, looked.circuit, entries, "digest", "heron")
    monkeypatch.setattr(plans, "worked", lambda _pk: found)


def test_how_far_they_are_is_told_while_they_are_worked_out(
    page: Client, demo: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(plans, "worked", lambda _pk: None)
    monkeypatch.setattr(plans, "progress", lambda _pk: Progress("running", 2, 4))
    for each in ("ladders/", "lists/morning/", "lists/evening/"):
        assert "2 of 4 runs" in page.get(f"/days/{demo.pk}/{each}").content.decode()
    assert "2 of 4 runs" in page.get(f"/days/{demo.pk}/ladders/progress/").content.decode()


@pytest.mark.usefixtures("worked")
def test_who_has_no_number_is_told_why_and_what_to_do(page: Client, demo: Day) -> None:
    shown = page.get(f"/days/{demo.pk}/ladders/")
    assert [part.run.name for part in shown.context["parts"]] == [
        "larks 1",
        "plovers 1",
        "larks 2",
        "plovers 2",
    ]
    assert shown.context["parts"][0].rows[0].least is None
    assert "The road is wet or damp" in shown.content.decode()
    assert "HERON" in shown.content.decode()


@pytest.mark.usefixtures("worked")
def test_a_coach_sees_the_ladders_of_their_own_group(coach_page: Client, demo: Day) -> None:
    parts = coach_page.get(f"/days/{demo.pk}/ladders/").context["parts"]
    assert [part.run.name for part in parts] == ["plovers 1", "plovers 2"]


@pytest.mark.usefixtures("worked")
def test_lists_are_the_paper_s_own_and_to_be_ticked(
    page: Client, demo: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("leanladder.planning.lists.evening.assumptions", lambda _day, _circuit: ())
    morning = page.get(f"/days/{demo.pk}/lists/morning/").content.decode()
    assert 'type="checkbox"' in morning
    assert "Go round the whole lap." in morning
    evening = page.get(f"/days/{demo.pk}/lists/evening/")
    assert evening.context["likely_only"]
    assert "Wren has no card" in evening.content.decode()
    assert page.get(f"/days/{demo.pk}/lists/noon/").status_code == 404


class _Rung:
    def __init__(self, number: int, cap_bike_deg: float, margin_deg: float) -> None:
        self.number, self.cap_bike_deg, self.margin_deg, self.side = number, cap_bike_deg, margin_deg, "left"


class _Lap:
    def __init__(self, lap: int, *rungs: Any) -> None:
        self.lap, self.rungs, self.least_margin = lap, rungs, rungs[0].number


class _Entry:
    def __init__(self, *laps: _Lap) -> None:
        self.ladder = type("_Ladder", (), {"laps": laps})()


def test_the_least_margin_of_all_laps_counts_rounded_to_the_careful_side() -> None:
    entry: Any = _Entry(_Lap(1, _Rung(5, 17.9, -20.1), _Rung(1, 20, -18)), _Lap(2, _Rung(9, 18.2, -20.05)))
    assert least_of(entry) == (1, 5, "left", 17, 21)


def test_psi_is_rounded_up_and_never_under_the_minimum() -> None:
    row = PressureRow(("1",), 2.251, None, 2.0, 1.9, 9.0, offset_bar=0.05, notes=(Sentence("lists.held"),))
    page = DayList("morning", "S", "C", date(2026, 4, 12), "en", (), (row,))
    worded: Any = list_data(page)["pressures"]
    (told,) = lists.pressure_rows(page, worded["rows"], "imperial")
    assert float(told["now"][0]) >= convert(2.251, "bar", "psi")
    assert float(told["minimum"][0]) >= convert(2.0, "bar", "psi")
    assert told["now"][1] == lists.NONE
    assert (told["set"], told["gauge"]) == ("48 °F", "0.7 high")
    assert told["notes"] == worded["rows"][0]["notes"]
    assert lists.pressure_rows(page, worded["rows"], "metric") == worded["rows"]


@pytest.mark.usefixtures("worked")
def test_pressures_stand_where_the_morning_sets_them(
    page: Client, demo: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = PressureRow(("1",), 2.25, 2.1, 2.0, 1.9, 9.0, offset_bar=0.05)
    monkeypatch.setattr("leanladder.planning.lists.morning.pressure_rows", lambda _day, _entries: (row,))
    shown = page.get(f"/days/{demo.pk}/lists/morning/").content.decode()
    heads = ("4. Pressures", "Cold pressures", "2.25", "5. The day word")
    assert sorted(heads, key=shown.index) == list(heads)


def test_parts_are_runs_in_the_day_s_order(entries: tuple[DayLadder, ...], demo: Day) -> None:
    parts = parts_of(demo.pk, entries, "en")
    assert [len(part.rows) for part in parts] == [3, 3, 3, 3]
    assert days.runs(demo.pk)[0].name == parts[0].run.name


@pytest.mark.usefixtures("worked")
def test_the_day_s_page_says_who_has_no_number_and_speaks_of_no_flags(
    page: Client, demo: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(plans, "progress", lambda _pk: Progress("done", 4, 4))
    shown = page.get(f"/days/{demo.pk}/")
    assert shown.context["without"][:2] == (12, 12)
    assert "Without a number: 12 of 12." in shown.content.decode()
    reasons = shown.context["without"].reasons
    assert len(reasons) == len(set(reasons))
    assert not any("--" in remedy for _, remedy in reasons)
