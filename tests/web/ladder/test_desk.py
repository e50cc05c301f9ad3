"""Where tries are answered: which way limits go, whole ladders, giving up, the socket."""

from __future__ import annotations

import threading
from multiprocessing.connection import Client as Line
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from leanladder.records import stored
from leanladder.records.models import Day
from leanladder.web import plans, tries
from leanladder.web.jobs import desk as desks
from leanladder.web.jobs import tries as worker
from leanladder.web.jobs.opened import Opened


@pytest.fixture
def desk(day: Day, run: str, monkeypatch: pytest.MonkeyPatch) -> desks.Desk:
    """Give a desk that finds the day's entries: its threads would not see what a test has not kept yet."""
    worked = plans.worked(day.pk)
    assert worked is not None
    monkeypatch.setattr(desks, "_entries", lambda _which: worked.entries)
    return desks.Desk()


@pytest.fixture
def question(day: Day, run: str) -> dict[str, Any]:
    worked = plans.worked(day.pk)
    assert worked is not None
    return {"day": day.pk, "digest": worked.digest, "run": run, "place": 0, "wishes": {}}


def answered(desk: desks.Desk, question: dict[str, Any]) -> dict[str, Any]:
    """The desk's answer once it has one."""
    for _ in range(100):
        found = desk.answer(question)
        if found["state"] != "waiting":
            return found
    raise AssertionError("the desk never answers")


def test_a_colder_track_lowers_limits_and_a_warmer_one_raises_none_of_them(
    desk: desks.Desk, question: dict[str, Any], day: Day
) -> None:
    track_c = plans.worked(day.pk).entries[0].ladder.session.road.open_c  # type: ignore[union-attr]  # it is planned
    colder = answered(desk, {**question, "kind": "draft", "wishes": {"track_c": track_c - 3.0}})
    assert colder["state"] == "done"
    assert {way for _, _, way, _ in colder["moved"]} <= {-1, 0}
    assert all(front <= 0.1 and rear <= 0.1 for _, _, _, (front, rear) in colder["moved"])


def test_at_rest_the_whole_ladder_is_told(desk: desks.Desk, question: dict[str, Any], day: Day) -> None:
    own = plans.worked(day.pk).entries[0].ladder  # type: ignore[union-attr]  # it is planned
    found = answered(desk, {**question, "kind": "final"})
    laps = stored.from_json(found["laps"])
    assert own is not None
    assert isinstance(laps, tuple)
    caps = [rung.cap_bike_deg for lap in laps for rung in lap.rungs]
    assert caps == pytest.approx([rung.cap_bike_deg for lap in own.laps for rung in lap.rungs])


def test_the_newest_question_of_a_client_makes_older_ones_give_up(
    desk: desks.Desk, question: dict[str, Any]
) -> None:
    answered(desk, {**question, "kind": "draft", "client": "one", "number": 5})
    assert desk.answer({**question, "kind": "final", "client": "one", "number": 4}) == {"state": "given_up"}
    assert answered(desk, {**question, "kind": "draft", "client": "two", "number": 1})["state"] == "done"


def test_what_was_drafted_for_one_is_told_to_another_at_once(
    desk: desks.Desk, question: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked, draft = [], Opened.draft

    def counted(*args: Any) -> Any:
        asked.append(args)
        return draft(*args)

    monkeypatch.setattr(Opened, "draft", counted)
    answers = [
        answered(desk, {**question, "kind": "draft", "wishes": {"air_c": 14.0}, "client": name, "number": 1})
        for name in ("one", "two")
    ]
    assert answers[0] == answers[1]
    assert len(asked) == 1


def test_who_gives_up_does_not_make_another_give_up(
    desk: desks.Desk, question: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, gone, draft = threading.Event(), threading.Event(), Opened.draft

    def slow(opened: Opened, wishes: Any, going_on: Any) -> Any:
        begun.set()
        gone.wait(10.0)
        return draft(opened, wishes, going_on)

    monkeypatch.setattr(Opened, "draft", slow)
    answered(desk, {**question, "kind": "draft", "wishes": {"air_c": 30.0, "cloud": 2.0}})  # opens it, wrong
    same, answers = {**question, "kind": "draft", "wishes": {"air_c": 15.0}}, {}

    def ask(name: str) -> None:
        answers[name] = answered(desk, {**same, "client": name, "number": 1})["state"]

    asking = [threading.Thread(target=ask, args=(name,)) for name in ("leaves", "stays")]
    for each in asking:
        each.start()
        begun.wait(10.0)
    desk.answer({**same, "place": 99, "client": "leaves", "number": 2})
    gone.set()
    for each in asking:
        each.join()
    assert answers == {"leaves": "given_up", "stays": "done"}


def test_what_has_no_number_or_cannot_be_meant_is_told(desk: desks.Desk, question: dict[str, Any]) -> None:
    frost = answered(desk, {**question, "kind": "final", "wishes": {"track_c": 1.0}})
    assert frost == {"state": "refused", "code": "road_too_cold"}
    assert answered(desk, {**question, "kind": "draft", "wishes": {"track_c": 400.0}})["state"] == "wrong"
    assert answered(desk, {**question, "kind": "draft", "place": 99})["state"] == "gone"


def test_everything_behind_a_limit_is_worked_out_once(desk: desks.Desk, question: dict[str, Any]) -> None:
    asked = {**question, "kind": "why", "lap": 1, "turn": 3}
    first, again = answered(desk, asked), desk.answer(asked)
    assert first["state"] == "done"
    assert again == first


def test_the_page_asks_over_the_socket(
    desk: desks.Desk, page: Client, day: Day, run: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    listening = tries.listener()
    threading.Thread(target=worker._accept, args=(listening, desk), daemon=True).start()
    address = reverse("try_draft", args=[day.pk, run, 1])
    for _ in range(100):
        told = page.post(
            address, {"sky": "all", "lap": "1", "turn": "3", "client": "a", "number": "1"}
        ).json()
        if told["state"] != "waiting":
            break
    assert told["state"] == "done"
    assert told["said"][0].startswith("Here the limit")
    assert told["said"][-1] == "Nothing is given out of this run."
    final = page.post(
        reverse("try_final", args=[day.pk, run, 1]), {"sky": "all", "number": "2", "client": "a"}
    ).json()
    assert "Only tried" in final["table"]
    listening.close()


def test_who_has_not_the_key_is_not_heard(desk: desks.Desk) -> None:
    listening = tries.listener()
    threading.Thread(target=worker._accept, args=(listening, desk), daemon=True).start()
    with (
        pytest.raises(Exception, match="digest"),
        Line(tries.address(), family="AF_UNIX", authkey=b"another"),
    ):
        pass
    listening.close()
