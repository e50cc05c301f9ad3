"""What a link answers: to its rider, to a phone that asks, and to whoever tries out links."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import RequestFactory

from leanladder.web.card.guesses import MOST_ADDRESSES, MOST_MISSES, WINDOW_S, Guesses

OK, FOUND, BAD, MISSING, NOT_ALLOWED, WAIT = 200, 302, 400, 404, 405, 429


class Asker:
    """Asks the views as a phone does."""

    def __init__(self, desk: Any, token: str) -> None:
        self.desk, self.token = desk, token

    def __call__(
        self, view: str, method: str = "GET", data: dict[str, str] | None = None, **other: Any
    ) -> HttpResponse:
        from leanladder.web.card import views

        token = other.pop("token", self.token)
        path = f"/c/{token}" + ("" if view == "card" else f"/{view}")
        factory = RequestFactory(enforce_csrf_checks=True)
        request = getattr(factory, method.lower())(path, data or {}, **other)
        answer: HttpResponse = getattr(views, view)(request, token, cards=self.desk)
        return answer


@pytest.fixture
def ask(desk: Any, token: str) -> Asker:
    return Asker(desk, token)


def test_the_card_may_be_kept_by_the_phone_alone_and_no_longer_than_it_counts(ask: Asker) -> None:
    answer = ask("card")
    assert answer.status_code == OK
    assert answer["Cache-Control"] == "private, max-age=1200"
    assert answer["Content-Security-Policy"].startswith("default-src 'none'")
    assert answer["Referrer-Policy"] == "no-referrer"
    assert not answer.cookies
    assert f"/c/{ask.token}/read" in answer.content.decode()


def test_a_void_card_is_not_kept(ask: Asker) -> None:
    ask.desk.void()
    assert ask("card")["Cache-Control"] == "no-store"
    assert ask("still", data={"given": "7"})["Cache-Control"] == "no-store"


def test_opening_is_no_sign_that_a_phone_holds_the_card_asking_is(ask: Asker) -> None:
    ask("card")
    assert ask.desk.asked == []
    ask("still", data={"given": "7"})
    assert ask.desk.asked == [("seen", 7)]


def test_still_tells_how_the_card_stands(ask: Asker) -> None:
    said = json.loads(ask("still", data={"given": "7"}).content)
    assert said == {
        "state": "counts",
        "given": 7,
        "word": "HERON",
        "left_s": 1025.0,
        "at": "09:41",
        "why": "",
        "since": "",
    }
    ask.desk.void()
    said = json.loads(ask("still", data={"given": "7"}).content)
    assert (said["state"], said["word"], said["why"]) == ("void", "OTTER", "Rain or a damp track.")
    assert said["since"] == "Void since 09:52, head instructor R. Fell."


def test_a_phone_with_an_earlier_card_hears_of_the_new_one_and_has_not_seen_it(ask: Asker) -> None:
    said = json.loads(ask("still", data={"given": "6"}).content)
    assert (said["state"], said["given"], said["word"]) == ("changed", 6, "HERON")
    assert ask.desk.asked == []


def test_a_phone_with_an_earlier_card_hears_first_of_all_that_the_last_one_is_void(ask: Asker) -> None:
    ask.desk.void()
    said = json.loads(ask("still", data={"given": "6"}).content)
    assert (said["state"], said["given"], said["word"]) == ("void", 6, "OTTER")
    ask("read", "POST", {"given": "6", "word": "OTTER"})
    assert ask.desk.asked == [("read", 7)]


@pytest.mark.parametrize("word", ["", "HERON"])
def test_who_read_of_another_word_has_not_read_of_this_one(ask: Asker, word: str) -> None:
    ask.desk.void()
    ask("read", "POST", {"given": "6", "word": word})
    assert ask.desk.asked == [("read", 6)]


def test_that_void_was_read_is_noted_with_which_card_it_was(ask: Asker) -> None:
    answer = ask("read", "POST", {"given": "7"}, headers={"accept": "*/*"})
    assert answer.status_code == OK
    assert ask.desk.asked == [("read", 7)]
    by_form = ask("read", "POST", {"given": "7"}, headers={"accept": "text/html,*/*"})
    assert (by_form.status_code, by_form["Location"]) == (FOUND, f"/c/{ask.token}?read=7")


@pytest.mark.parametrize("given", ["", "x", "-1", "1.5", "٣", "9" * 30])
def test_a_card_is_named_by_a_number(ask: Asker, given: str) -> None:
    assert ask("still", data={"given": given}).status_code == BAD
    assert ask("read", "POST", {"given": given}).status_code == BAD
    assert ask.desk.asked == []


def test_unknown_and_revoked_look_the_same(ask: Asker) -> None:
    unknown = ask("card", token="7-" + "z" * 22)  # the key to nothing
    ask.desk.found_now = None
    revoked = ask("card")
    assert unknown.status_code == revoked.status_code == MISSING
    assert unknown.content == revoked.content
    assert unknown.items() == revoked.items() or dict(unknown.items()) == dict(revoked.items())
    assert "This link does not count. Ask your coach." in revoked.content.decode()
    assert json.loads(ask("still", data={"given": "7"}).content) == {"state": "gone"}
    assert ask("read", "POST", {"given": "7"}).status_code == MISSING


def test_other_ways_of_asking_are_refused(ask: Asker) -> None:
    assert ask("card", "POST").status_code == NOT_ALLOWED
    assert ask("still", "POST").status_code == NOT_ALLOWED
    assert ask("read").status_code == NOT_ALLOWED


def test_who_tries_out_links_learns_nothing_for_a_while(ask: Asker) -> None:
    for index in range(MOST_MISSES):
        assert ask("card", token=f"7-{index}", REMOTE_ADDR="10.0.0.9").status_code == MISSING
    assert ask("card", REMOTE_ADDR="10.0.0.9").status_code == MISSING
    # A phone that shares the address has not lost its card: it has only not been answered.
    waits = ask("still", data={"given": "7"}, REMOTE_ADDR="10.0.0.9")
    assert (waits.status_code, json.loads(waits.content)) == (WAIT, {"state": "wait"})
    assert ask("card", REMOTE_ADDR="10.0.0.10").status_code == OK


def test_guesses_are_forgotten_after_a_while_and_never_fill_the_memory() -> None:
    now = [0.0]
    guesses = Guesses(lambda: now[0])
    for _ in range(MOST_MISSES):
        guesses.missed("a")
    assert guesses.blocked("a")
    now[0] = WINDOW_S
    assert not guesses.blocked("a")
    guesses.missed("a")
    assert not guesses.blocked("a")
    for index in range(MOST_ADDRESSES + 5):
        guesses.missed(str(index))
    assert len(guesses._misses) == MOST_ADDRESSES


def test_a_refusal_still_opens_as_a_page(ask: Asker, no_card: Any) -> None:
    ask.desk.found_now = replace(ask.desk.found_now, card=no_card)
    assert "No card" in ask("card").content.decode()
    assert json.loads(ask("still", data={"given": "7"}).content)["word"] == ""
