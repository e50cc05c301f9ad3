"""Tyres looked at in one go, machines by number."""

from __future__ import annotations

from django.test import Client

from leanladder.records import stable


def test_the_ticked_ones_are_kept_and_what_is_known_stays(head: Client) -> None:
    state = {"scrubbed_left_deg": 20.0, "scrubbed_right_deg": 30.0, "date_code": "1025"}
    written = {"machine": "naked", "tyre": "sport-road"}
    one = stable.save_machine("1", {**written, "front_state": state}, True, None)
    stable.save_machine("2", written, False, None)
    answer = head.post("/machines/looked/", {"machine": [str(one.pk), "x"], "tyres_seen": "edges"})
    assert answer.status_code == 302
    assert stable.machine("1").guest
    assert stable.machine("1").written["front_state"] == {"scrubbed": True, "date_code": "1025"}
    assert stable.machine("1").written["rear_state"] == {"scrubbed": True}
    assert stable.machine("2").written == written


def test_without_a_look_nothing_is_kept(head: Client) -> None:
    one = stable.save_machine("1", {"machine": "naked", "tyre": "sport-road"}, False, None)
    answer = head.post("/machines/looked/", {"machine": [str(one.pk)], "tyres_seen": ""})
    assert answer.status_code == 400
    assert "front_state" not in stable.machine("1").written


def test_two_comes_before_ten(head: Client) -> None:
    for name in ("10", "2", "b", "1b"):
        stable.save_machine(name, {"machine": "naked", "tyre": "sport-road"}, False, None)
    page = head.get("/machines/").content.decode()
    places = [page.index(f">{name}</a>") for name in ("1b", "2", "10", "b")]
    assert places == sorted(places)


def test_tyres_that_nobody_looked_at_stand_out(head: Client) -> None:
    written = {"machine": "naked", "tyre": "sport-road"}
    stable.save_machine(
        "1", {**written, "front_state": {"scrubbed": True}, "rear_state": {"scrubbed": True}}, False, None
    )
    assert "unseen-tyres" not in head.get("/machines/").content.decode()
    stable.save_machine("2", written, False, None)
    assert head.get("/machines/").content.decode().count("unseen-tyres") == 1
