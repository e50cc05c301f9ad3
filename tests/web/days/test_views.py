"""Days come and go, are shown, and say what they still want."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from leanladder.domain.weather import Road
from leanladder.records import days, stable
from leanladder.records.models import Day, Person
from leanladder.web.days.looked import look_at
from leanladder.web.days.steps import steps_of

EDITS = (
    "head/",
    "weather/",
    "groups/",
    "sessions/",
    "assumed/",
    "lists/",
    "lists/morning/",
    "export/",
    "paper/",
)


def test_a_day_of_ones_own_from_five_fields(page: Client, demo: Day) -> None:
    form = {
        "date": "2026-05-09", "school": "Ours", "head": "", "circuit": str(demo.circuit_id),
        "first_at": "09:00", "first_air": "9", "last_at": "16:00", "last_air": "",
    }  # fmt: skip
    where = page.post("/days/new/", form)["Location"]
    day = Day.objects.latest("pk")
    assert where == f"/days/{day.pk}/"
    assert day.weather == [{"at": "09:00", "air_c": 9.0}]
    assert [step.code for step in steps_of(day.pk, look_at(day.pk)) if step.is_next] == ["groups"]
    assert "What this day still wants" in page.get(where).content.decode()


@pytest.mark.parametrize("wrong", [{"circuit": ""}, {"first_air": "warm"}, {"school": ""}, {"date": "soon"}])
def test_a_new_day_that_is_none_stays_on_the_page(page: Client, demo: Day, wrong: dict[str, str]) -> None:
    form = {
        "date": "2026-05-09", "school": "Ours", "circuit": str(demo.circuit_id), "first_at": "09:00",
        "first_air": "9", **wrong,
    }  # fmt: skip
    answer = page.post("/days/new/", form)
    assert answer.status_code == 400
    assert answer.context["typed"]["first_at"] == "09:00"
    assert Day.objects.count() == 1


def test_the_head_of_a_day_is_kept(page: Client, demo: Day) -> None:
    shown = page.get(f"/days/{demo.pk}/head/").context["typed"]
    page.post(f"/days/{demo.pk}/head/", {**shown, "date": "2026-04-13", "surface": "ordinary"})
    day = days.day(demo.pk)
    assert (str(day.date), day.surface, day.weather) == ("2026-04-13", "ordinary", demo.weather)
    assert (
        page.post(f"/days/{demo.pk}/head/", {**shown, "latitude_deg": "51", "longitude_deg": ""}).status_code
        == 400
    )


def test_a_day_goes_out_as_a_zip_and_comes_back_the_same(page: Client, demo: Day) -> None:
    packed = page.get(f"/days/{demo.pk}/export/").content
    digest = days.day_file(demo.pk).digest
    page.post(f"/days/{demo.pk}/remove/")
    assert not Day.objects.exists()
    page.post("/days/import/", {"files": SimpleUploadedFile("day.zip", packed)})
    assert days.day_file(Day.objects.get().pk).digest == digest


def test_a_day_comes_in_as_its_file_with_those_it_names(page: Client, demo: Day) -> None:
    found = days.day_file(demo.pk)
    digest = found.digest
    page.post(f"/days/{demo.pk}/remove/")
    uploads = [SimpleUploadedFile(name.rpartition("/")[2], content) for name, content in found.files.items()]
    uploads.append(SimpleUploadedFile("our-day.toml", found.day_toml.encode()))
    assert page.post("/days/import/", {"files": uploads}).status_code == 302
    assert days.day_file(Day.objects.get().pk).digest == digest


def test_a_plugged_tyre_keeps_its_machine_in(page: Client, demo: Day) -> None:
    machine = stable.machine("1")
    state = {**machine.written["rear_state"], "plugged": True}
    stable.save_machine("1", {**machine.written, "rear_state": state}, guest=False, who=None)
    (unfit,) = page.get(f"/days/{demo.pk}/").context["unfit"]
    assert unfit.machine == "1"


def test_what_the_plan_assumes_leads_to_where_it_is_stated(
    page: Client, demo: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The sun's course takes seconds to load, and nothing here is about it.
    road = Road(12.0, 12.0, "computed", 4.0, 0.0)
    monkeypatch.setattr("leanladder.planning.day_check.settle_road", lambda _weather, **_shade: (road, ()))
    assumed = page.get(f"/days/{demo.pk}/assumed/").context["assumed"]
    places = {place for _, lines in assumed for _, where, place in lines if where}
    assert {"weather", "sessions"} <= places
    assert not any("--" in words for _, lines in assumed for words, _, _ in lines)


def test_the_weather_of_a_day_shows_what_is_stated_and_names_three_airs(page: Client, demo: Day) -> None:
    shown = page.get(f"/days/{demo.pk}/").content.decode()
    assert "Air: if cold · likely · if mild." in shown
    assert "<th>Humidity, %</th>" in shown
    assert "<th>Road</th>" not in shown


def test_a_coach_is_told_what_comes_next(coach_page: Client, demo: Day) -> None:
    shown = coach_page.get(f"/days/{demo.pk}/").content.decode()
    assert f'href="/days/{demo.pk}/briefing/"' in shown
    assert "Print the papers" not in shown


def test_a_coach_sees_their_own_group_and_changes_nothing(coach_page: Client, demo: Day) -> None:
    shown = coach_page.get(f"/days/{demo.pk}/")
    assert [group.name for group, _ in shown.context["groups"]] == ["plovers"]
    assert "Wren" not in shown.content.decode()
    for edit in EDITS:
        assert coach_page.get(f"/days/{demo.pk}/{edit}").status_code == 403
    for change in ("groups/places/", "sessions/in-turn/", "remove/", "weather/", "paper/make/evening/"):
        assert coach_page.post(f"/days/{demo.pk}/{change}").status_code == 403


def test_a_coach_without_a_group_that_day_does_not_see_it(head: Person, demo: Day) -> None:
    client = Client()
    stranger = Person.objects.create_user("Nobody", coach_name="Nobody")
    client.force_login(stranger)
    assert client.get("/").context["days"] == []
    assert client.get(f"/days/{demo.pk}/").context["runs"] == []


def test_nobody_who_has_not_signed_in_sees_a_day(demo: Day) -> None:
    assert Client().get(f"/days/{demo.pk}/").status_code == 302


def test_a_day_that_is_not_there_is_told(page: Client) -> None:
    assert page.get("/days/999/").status_code == 400


def test_a_day_not_whole_yet_says_its_steps_not_its_file_s_keys(page: Client, demo: Day) -> None:
    for run in days.runs(demo.pk):
        days.remove_run(demo.pk, run.name, None)
    for each in ("", "ladders/", "lists/morning/", "paper/"):
        shown = page.get(f"/days/{demo.pk}/{each}")
        assert shown.context["fault"] is None
        assert shown.context["not_whole"]
    assert page.get(f"/days/{demo.pk}/export/").status_code == 400
