"""The page of groups: who goes out on what, led by whom."""

from __future__ import annotations

from django.test import Client

from leanladder.records import days
from leanladder.records.models import Change, Day
from leanladder.web.days.groups import PLACE_KEYS


def sent(day: Day, **changed: tuple[str, str, str]) -> dict[str, list[str]]:
    """The rows of the page as a browser sends them, some riders elsewhere: group, machine, level."""
    rows = []
    for place in days.places(day.pk):
        machine = "" if place.machine is None else place.machine.name
        there = (place.group.name, machine, place.level)
        rows.append((place.rider.name, *changed.get(place.rider.name, there)))
    return dict(zip(PLACE_KEYS, map(list, zip(*rows, strict=True)), strict=True))


def written(day: Day) -> dict[str, tuple[str, str, str]]:
    riders = days.written_day(day.pk)["riders"]
    return {each["name"]: (each["group"], each["machine"], each["level"]) for each in riders}


def test_nothing_changes_without_a_change(page: Client, demo: Day) -> None:
    before, history = days.written_day(demo.pk), Change.objects.count()
    assert page.get(f"/days/{demo.pk}/groups/").status_code == 200
    page.post(f"/days/{demo.pk}/groups/places/", sent(demo))
    assert days.written_day(demo.pk) == before
    assert Change.objects.count() == history


def test_a_rider_changes_group_machine_and_level_for_the_day(page: Client, demo: Day) -> None:
    page.post(f"/days/{demo.pk}/groups/places/", sent(demo, Sedge=("plovers", "1", "regular")))
    assert written(demo)["Sedge"] == ("plovers", "1", "regular")
    page.post(f"/days/{demo.pk}/groups/places/", sent(demo, Sedge=("", "", "")))
    assert "Sedge" not in written(demo)


def test_two_riders_of_a_group_swap_machines_in_one_step(page: Client, demo: Day) -> None:
    answer = page.post(
        f"/days/{demo.pk}/groups/places/", sent(demo, Wren=("larks", "2", ""), Sedge=("larks", "1", ""))
    )
    assert answer.status_code == 302
    assert written(demo)["Wren"][1] == "2"
    assert written(demo)["Sedge"][1] == "1"


def test_one_machine_carries_one_rider_and_nothing_is_half_kept(page: Client, demo: Day) -> None:
    before = days.written_day(demo.pk)
    rows = sent(demo, Linnet=("larks", "1", ""), Hobby=("", "", ""))
    answer = page.post(f"/days/{demo.pk}/groups/places/", rows)
    assert answer.status_code == 400
    assert answer.context["fault"].fault.value == "1"
    assert days.written_day(demo.pk) == before


def test_machines_come_along_to_spare(page: Client, demo: Day) -> None:
    rows = sent(demo, Hobby=("", "", ""))
    page.post(f"/days/{demo.pk}/groups/places/", {**rows, "spare": ["21"]})
    assert "21" in [each["name"] for each in days.written_day(demo.pk)["machines"]]
    page.post(f"/days/{demo.pk}/groups/places/", sent(demo))
    assert "21" not in [each["name"] for each in days.written_day(demo.pk)["machines"]]


def test_groups_are_named_led_moved_and_taken_away(page: Client, demo: Day) -> None:
    where = f"/days/{demo.pk}/groups/one/"
    page.post(where, {"name": "gulls", "do": "keep"})
    page.post(where, {"was": "gulls", "name": "terns", "coaches": ["Maren"], "do": "keep"})
    page.post(where, {"was": "terns", "do": "up"})
    assert [(each.name, each.coaches) for each in days.groups(demo.pk)][1] == ("terns", ["Maren"])
    page.post(where, {"was": "terns", "do": "remove"})
    assert [each.name for each in days.groups(demo.pk)] == ["larks", "plovers"]
    assert page.post(where, {"name": "larks"}).status_code == 400


def test_coaches_come_and_go_but_not_one_who_leads(page: Client, demo: Day) -> None:
    where = f"/days/{demo.pk}/groups/coaches/"
    names = [each["name"] for each in days.day(demo.pk).coaches]
    page.post(where, {"coach": [*names, "Ruben"], "language": ["en"] * (len(names) + 1)})
    assert [each["name"] for each in days.day(demo.pk).coaches] == [*names, "Ruben"]
    answer = page.post(where, {"coach": ["", *names[1:]], "language": ["en"] * len(names)})
    assert answer.status_code == 400
    assert [each["name"] for each in days.day(demo.pk).coaches] == [*names, "Ruben"]


def test_a_coach_whose_language_is_not_stated_reads_english(page: Client, demo: Day) -> None:
    shown = page.get(f"/days/{demo.pk}/groups/").content.decode()
    coaches = shown.partition("/groups/coaches/")[2].partition("</form>")[0]
    stated = [each.get("language", "en") for each in demo.coaches]
    assert coaches.count("<option selected>en</option>") == stated.count("en") + 1


def test_a_group_for_each_level_in_one_step_but_for_who_shares_a_machine(page: Client, demo: Day) -> None:
    for name in ("larks", "plovers"):
        page.post(f"/days/{demo.pk}/groups/one/", {"was": name, "do": "remove"})
    page.post(f"/days/{demo.pk}/groups/by-level/")
    groups = {name: group for name, (group, _, _) in written(demo).items()}
    assert groups["Wren"] == "new"
    assert groups["Hobby"] == "experienced"
    # Linnet and Merle are regular, and have machine 3 as theirs.
    assert len(groups) == 5
    assert ("Linnet" in groups) != ("Merle" in groups)
