"""Riders: one by one or a whole list; nothing half-kept."""

from __future__ import annotations

import pytest
from django.test import Client

from leanladder.domain.errors import InputError
from leanladder.records import days, stable
from leanladder.records.models import Machine, Rider
from leanladder.web.stable.pasted import rows

LIST = {"level_else": "new", "new_machine": "naked", "new_tyre": "sport-road"}


def paste(head: Client, text: str) -> int:
    return head.post("/riders/list/", {**LIST, "riders_text": text}).status_code


def test_without_any_the_list_says_what_next(head: Client) -> None:
    page = head.get("/riders/").content.decode()
    assert "No rider yet" in page
    assert "health" in page


def test_a_rider_needs_a_machine_first(head: Client) -> None:
    assert "A rider needs a machine" in head.get("/riders/new/").content.decode()


def test_one_rider(head: Client) -> None:
    stable.save_machine("1", {"machine": "naked", "tyre": "sport-road"}, False, None)
    data = {"name": "Wren", "level": "regular", "machine_of": "1", "usual_lean_deg": "32,5",
            "hang_off": "on", "card_language": "fr"}  # fmt: skip
    assert head.post("/riders/new/", data).status_code == 302
    assert stable.rider("Wren").written == {
        "level": "regular", "machine": "1", "usual_lean_deg": 32.5, "hang_off": True, "language": "fr",
    }  # fmt: skip
    page = head.get(f"/riders/{stable.rider('Wren').pk}/").content.decode()
    assert "Never raises a limit." in page
    assert 'value="32.5"' in page


def test_a_lean_out_of_range_is_told(head: Client) -> None:
    stable.save_machine("1", {"machine": "naked", "tyre": "sport-road"}, False, None)
    data = {"name": "Wren", "level": "new", "machine_of": "1", "usual_lean_deg": "80", "card_language": "en"}
    answer = head.post("/riders/new/", data)
    assert answer.status_code == 400
    assert "The value is out of range" in answer.content.decode()
    assert not Rider.objects.exists()


def test_a_list_makes_riders_and_the_machines_they_need(head: Client) -> None:
    assert paste(head, "Wren, new, 1\nSedge\tregular\t2\nLinnet; erfahren\n\nHobby\n") == 302
    assert {each.name: each.written["level"] for each in stable.riders()} == {
        "Wren": "new", "Sedge": "regular", "Linnet": "experienced", "Hobby": "new",
    }  # fmt: skip
    assert stable.rider("Hobby").written["machine"] == "Hobby"
    assert stable.machine("Hobby").guest
    assert not stable.machine("1").guest


def test_a_list_leaves_what_it_does_not_say(head: Client) -> None:
    paste(head, "Wren, new, 1")
    stable.save_rider("Wren", {**stable.rider("Wren").written, "large_print": True}, None)
    paste(head, "Wren, regular")
    assert stable.rider("Wren").written == {"level": "regular", "machine": "1", "large_print": True}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Wren, new, 1\nSedge, expert, 2", "line 2: expert"),
        ("Wren, new\nWren, regular", "Two riders have this name"),
        (", new, 1", "no rider"),
        ("Wren, new, 1, 9, more", "no rider"),
        (f"{'x' * 61}, new", "no rider"),
        (f"Wren, new, {'x' * 61}", "too long"),
        ("  \n ", "missing"),
    ],
)
def test_a_wrong_line_keeps_nothing(head: Client, text: str, says: str) -> None:
    answer = head.post("/riders/list/", {**LIST, "riders_text": text})
    assert answer.status_code == 400
    assert says in answer.content.decode()
    assert not Rider.objects.exists()
    assert not Machine.objects.exists()


def test_a_list_has_an_end() -> None:
    with pytest.raises(InputError, match="too long"):
        rows("\n".join(f"r{number}" for number in range(201)), "new")


def test_a_name_with_a_comma_stands_in_quotes() -> None:
    assert rows('"Fenn, Oda", reg', "new")[0].name == "Fenn, Oda"


def test_removed(head: Client) -> None:
    paste(head, "Wren, new, 1")
    assert head.post(f"/riders/{stable.rider('Wren').pk}/remove/").status_code == 302
    assert not Rider.objects.exists()


def test_each_list_says_the_next_step_until_there_is_a_day(head: Client) -> None:
    paste(head, "Zander, new, 99")
    assert "/circuits/new/" in head.get("/riders/").content.decode()
    days.demo_day(None)
    assert "Next:" not in head.get("/riders/").content.decode()


def test_without_a_lean_of_their_own_the_levels_is_shown_as_assumed(head: Client) -> None:
    paste(head, "Wren, new")
    page = head.get("/riders/").content.decode()
    assert '<span class="assumed">30°</span>' in page
    stable.save_rider("Wren", {**stable.rider("Wren").written, "usual_lean_deg": 24.0}, None)
    page = head.get("/riders/").content.decode()
    assert "24°" in page
    assert "assumed" not in page
