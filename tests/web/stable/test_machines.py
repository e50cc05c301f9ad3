"""Machines: few fields do, all fields of a day's file are there, and nothing drifts."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from leanladder.records import days, stable
from leanladder.records.models import Machine, Person
from leanladder.web.stable.machine_form import MachineForm, initial_of

FEW = {"name": "1", "machine": "naked", "tyre": "sport-road", "tyres_seen": ""}


def typed(form: MachineForm) -> dict[str, Any]:
    """What a browser would send of a form that nobody touched."""
    values = {name: form[name].value() for name in form.fields}
    shown = {name: form.fields[name].prepare_value(value) for name, value in values.items()}
    return {name: value for name, value in shown.items() if value not in {None, False}}


def test_without_any_the_list_says_what_next(head: Client) -> None:
    assert "No machine yet" in head.get("/machines/").content.decode()


def test_name_model_and_tyres_do(head: Client) -> None:
    assert head.post("/machines/new/", FEW).status_code == 302
    kept = stable.machine("1")
    assert kept.written == {"machine": "naked", "tyre": "sport-road"}
    assert not kept.guest
    assert "not seen" in head.get("/machines/").content.decode()


def test_nothing_is_chosen_beforehand(head: Client) -> None:
    answer = head.post("/machines/new/", {**FEW, "machine": "", "tyre": ""})
    assert answer.status_code == 400
    assert not Machine.objects.exists()


def test_all_of_it(head: Client) -> None:
    more = {
        "guest": "on", "tyres_seen": "each",
        "front_seen": "sides", "front_left_deg": "30", "front_right_deg": "42,5",
        "rear_seen": "edges", "rear_crown": "squared", "rear_date_code": "1025", "rear_heat_cycles": "3",
        "rear_plugged": "on", "rear": "race",
        "cold_front_bar": "2,1", "cold_rear_bar": "1.8", "cold_set_c": "9", "gauge_offset_bar": "0,05",
        "minimum_front_bar": "2", "minimum_rear_bar": "1.7", "hot_front_bar": "2.5", "hot_rear_bar": "2.2",
        "start_kind": "warmers", "warmers_c": "80", "on_min": "60", "off_min": "5",
    }  # fmt: skip
    assert head.post("/machines/new/", {**FEW, **more}).status_code == 302
    assert stable.machine("1").guest
    assert stable.machine("1").written == {
        "machine": "naked",
        "front": "sport-road",
        "rear": "race",
        "cold": {"front_bar": 2.1, "rear_bar": 1.8, "set_c": 9.0},
        "gauge_offset_bar": 0.05,
        "front_state": {"scrubbed_left_deg": 30.0, "scrubbed_right_deg": 42.5},
        "rear_state": {
            "scrubbed": True,
            "crown": "squared",
            "date_code": "1025",
            "heat_cycles": 3,
            "plugged": True,
        },
        "start": {"kind": "warmers", "warmers_c": 80.0, "on_min": 60.0, "off_min": 5.0},
        "minimum": {"front_bar": 2.0, "rear_bar": 1.7},
        "hot": {"front_bar": 2.5, "rear_bar": 2.2},
    }


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"front_left_deg": "30"}, "so far on each side"),
        ({"front_seen": "sides", "front_left_deg": "30"}, "so far on each side"),
        ({"cold_front_bar": "2.2"}, "rear_bar is missing"),
        (
            {"cold_front_bar": "34", "cold_rear_bar": "31", "cold_set_c": "9"},
            "Is it in psi?",
        ),
        ({"cold_front_bar": "two"}, "This is no number."),
        ({"front_date_code": "9925"}, "this is no date code"),
        ({"front_date_code": "1025"}, "how far it is scrubbed"),
        ({"front_heat_cycles": "2.5"}, "This is no number."),
        ({"start_kind": "warmers"}, "do not make a start"),
        ({"name": ""}, "Something is missing"),
    ],
)
def test_what_does_not_fit_is_told_and_stays_typed(head: Client, more: dict[str, str], says: str) -> None:
    answer = head.post("/machines/new/", {**FEW, **more})
    assert answer.status_code == 400
    page = answer.content.decode()
    assert says.casefold() in page.casefold().replace("&#x27;", "'")
    assert all(f'value="{value}"' in page for key, value in more.items() if key.endswith("_bar"))
    assert not Machine.objects.exists()


def test_a_name_that_is_taken_replaces_nothing(head: Client) -> None:
    head.post("/machines/new/", FEW)
    answer = head.post("/machines/new/", {**FEW, "machine": "cruiser"})
    assert answer.status_code == 400
    assert stable.machine("1").written["machine"] == "naked"


def test_the_next_one_starts_as_the_last(head: Client) -> None:
    answer = head.post("/machines/new/", {**FEW, "tyres_seen": "edges", "another": "1"}, follow=True)
    page = answer.content.decode()
    assert '<option value="naked" selected>' in page
    assert '<option value="" selected>nobody has looked yet' in page
    assert 'name="name" maxlength' in page


def test_renamed_with_its_riders(head: Client) -> None:
    head.post("/machines/new/", FEW)
    stable.save_rider("Wren", {"level": "new", "machine": "1"}, None)
    head.post(f"/machines/{stable.machine('1').pk}/", {**FEW, "name": "1b"})
    assert stable.rider("Wren").written["machine"] == "1b"


def test_one_that_someone_rides_stays(head: Client) -> None:
    head.post("/machines/new/", FEW)
    stable.save_rider("Wren", {"level": "new", "machine": "1"}, None)
    answer = head.post(f"/machines/{stable.machine('1').pk}/remove/")
    assert answer.status_code == 400
    assert "Wren" in answer.content.decode()
    assert Machine.objects.exists()


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_a_form_that_nobody_touched_changes_nothing(head: Client, units: str) -> None:
    days.demo_day(None)
    for each in stable.machines():
        initial = initial_of(each.name, each.guest, each.written)
        form = MachineForm(typed(MachineForm(initial=initial, units=units)), initial=initial, units=units)
        assert form.is_valid(), form.errors
        defaults = {"crown": "round", "plugged": False}
        for end in ("front_state", "rear_state"):
            state = each.written.get(end)
            if state is not None:
                each.written[end] = {k: v for k, v in state.items() if defaults.get(k, ...) != v}
        assert form.written() == each.written


def test_pressures_in_the_units_of_who_types(head: Client) -> None:
    Person.objects.update(units="imperial")
    data = {**FEW, "cold_front_bar": "33", "cold_rear_bar": "31", "cold_set_c": "50"}
    assert head.post("/machines/new/", data).status_code == 302
    cold = stable.machine("1").written["cold"]
    assert cold["front_bar"] == pytest.approx(2.2753, abs=1e-4)
    assert cold["set_c"] == 10.0
    page = head.get(f"/machines/{stable.machine('1').pk}/").content.decode()
    assert 'value="33"' in page
    assert "[psi]" in page


def test_the_history_says_who_changed_what(head: Client) -> None:
    head.post("/machines/new/", FEW)
    pk = stable.machine("1").pk
    head.post(f"/machines/{pk}/", {**FEW, "tyre": "race"})
    page = head.get(f"/machines/{pk}/").content.decode()
    assert "Oda" in page
    assert "<strong>race</strong>" in page


def test_a_coach_is_refused(coach: Client) -> None:
    for path in ("/machines/", "/machines/new/", "/riders/", "/riders/list/", "/files/"):
        assert coach.get(path).status_code == 403


def test_the_history_is_in_the_units_of_who_reads(head: Client) -> None:
    head.post("/machines/new/", FEW)
    pk = stable.machine("1").pk
    head.post(f"/machines/{pk}/", {**FEW, "hot_front_bar": "2.5", "hot_rear_bar": "2.2"})
    assert "<strong>2.5 bar</strong>" in head.get(f"/machines/{pk}/").content.decode()
    Person.objects.update(units="imperial")
    assert "<strong>36.3 psi</strong>" in head.get(f"/machines/{pk}/").content.decode()
