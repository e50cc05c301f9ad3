"""Handing out: kept by value, void at once, and a restart from the tyres as they were."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client

from leanladder import catalogue
from leanladder.domain.errors import InputError
from leanladder.domain.paper import RiderCard
from leanladder.planning.day import Again
from leanladder.records import days, given, links, live
from leanladder.records.models import Day, Person, Plan
from leanladder.web import handing, plans
from leanladder.web.card import book
from leanladder.web.card.book import Book
from leanladder.web.today import Inputs

Asks = Callable[[Person | None], Client]
RUN = "larks 1"


@pytest.fixture
def short(demo: Day, head: Person, monkeypatch: pytest.MonkeyPatch) -> Day:
    """Give a day of one run of two laps with one rider, planned as soon as it is asked for."""
    for run in days.runs(demo.pk):
        if run.name != RUN:
            days.remove_run(demo.pk, run.name, head)
    days.save_run(demo.pk, {"name": RUN, "group": "larks", "at": "09:30", "laps": 2}, head, was=RUN)
    for name in ("Sedge", "Linnet"):
        days.unplace(demo.pk, name, head)

    def at_once(plan_pk: int, inputs: str) -> None:
        plans.work_out_now(plan_pk, Inputs.read(inputs))

    monkeypatch.setattr(plans, "_asked", at_once)
    return demo


def test_what_is_handed_out_stays_as_it_was(short: Day, head: Person, asks: Asks) -> None:
    out = handing.give_out(short.pk, RUN, head)
    was = handing.handed(out.pk)
    assert [card.rider for card in was.cards] == ["Wren"]
    assert was.inputs == plans.inputs_of(short.pk)
    assert handing.differences(out) == ()
    token = links.token(links.link_for(short.pk, "Wren"))
    phone = asks(None)
    page = phone.get(f"/c/{token}")
    assert page.status_code == 200
    assert out.word.upper() in page.content.decode()

    live.measure(short.pk, head, run_name=RUN, track_c=13.0)
    codes = {sentence.code for sentence in handing.differences(out)}
    assert "handing.readings" in codes
    assert codes & {"handing.lower", "handing.higher"}
    assert handing.handed(out.pk) == was
    assert phone.get(f"/c/{token}/still?given={out.pk}").json()["state"] == "counts"

    again = handing.give_out(short.pk, RUN, head, "measured")
    assert again.word != out.word
    assert phone.get(f"/c/{token}/still?given={out.pk}").json()["state"] == "changed"


def test_that_there_is_no_number_any_more_is_said(short: Day, head: Person) -> None:
    out = handing.give_out(short.pk, RUN, head)
    live.measure(short.pk, head, run_name=RUN, track_c=1.0)
    assert "handing.refused" in {sentence.code for sentence in handing.differences(out)}


def test_before_anything_is_given_out_a_link_says_so(short: Day, head: Person, asks: Asks) -> None:
    token = links.token(links.link_for(short.pk, "Wren"))
    early = asks(None).get(f"/c/{token}")
    assert early.status_code == 200
    assert "No card yet" in early.content.decode()
    assert "refresh" in early.content.decode()
    handing.give_out(short.pk, RUN, head)
    assert "No card yet" not in asks(None).get(f"/c/{token}").content.decode()


def test_rain_makes_all_void_with_a_new_word(short: Day, head: Person, asks: Asks) -> None:
    out = handing.give_out(short.pk, RUN, head)
    token = links.token(links.link_for(short.pk, "Wren"))
    word = handing.void_all(short.pk, head)
    assert word not in {out.word}
    still = asks(None).get(f"/c/{token}/still?given={out.pk}").json()
    assert still["state"] == "void"
    assert still["word"] == word.upper()
    assert [row.rider for row in given.unconfirmed(short.pk)] == ["Wren"]
    asks(None).post(f"/c/{token}/read", {"given": out.pk})
    assert given.unconfirmed(short.pk) == []


def test_a_laptops_clock_set_back_ends_a_card(
    short: Day, head: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = handing.give_out(short.pk, RUN, head)
    token = links.token(links.link_for(short.pk, out.riders[0][0]))
    found = Book().found(token)
    assert found is not None
    assert found.state.state == "counts"
    monkeypatch.setattr(book, "now", lambda: out.at - timedelta(hours=1))
    found = Book().found(token)
    assert found is not None
    assert (found.state.state, found.state.left_s) == ("ended", 0.0)


def test_a_link_taken_back_leads_nowhere(short: Day, head: Person, asks: Asks) -> None:
    handing.give_out(short.pk, RUN, head)
    link = links.link_for(short.pk, "Wren")
    token = links.token(link)
    links.revoke(link, head)
    assert asks(None).get(f"/c/{token}").status_code == 404
    assert asks(None).get(f"/c/{token[:-1]}x").status_code == 404


def test_lowered_limits_make_cards_void_and_are_lower(short: Day, head: Person) -> None:
    out = handing.give_out(short.pk, RUN, head)
    before = handing.handed(out.pk).cards[0]
    handing.lower(short.pk, head, "wind", colder_k=0.3)
    assert given.current(short.pk, RUN) is None
    after = handing.handed(handing.give_out(short.pk, RUN, head).pk).cards[0]
    assert isinstance(before, RiderCard)
    assert isinstance(after, RiderCard)
    quarters = [
        [fan.quarters for row in card.rows for fan in row.fans if fan is not None] for card in (before, after)
    ]
    assert all(now <= was for was, now in zip(*quarters, strict=True))


def test_a_stop_makes_the_runs_cards_void_and_a_restart_has_its_own(short: Day, head: Person) -> None:
    out = handing.give_out(short.pk, RUN, head)
    handing.stop(short.pk, RUN, head, in_sun=False)
    assert given.given(out.pk).void_why == "stopped"
    ready = handing.restart_ready(short.pk, RUN)
    assert ready is not None
    again = ready.inputs.again
    assert again is not None
    assert again == Again(RUN, again.rolled_min, 5.0)
    assert again.rolled_min < 0.5
    back = handing.give_restart(short.pk, RUN, head)
    assert back.word != out.word
    assert back.valid_minutes <= 5.0
    assert live.stops(short.pk) == []
    with pytest.raises(InputError, match="not stopped"):
        handing.restart_ready(short.pk, RUN)


def test_a_plan_is_worked_out_once_for_the_same_day(short: Day) -> None:
    first = plans.worked(short.pk)
    assert first is not None
    assert plans.worked(short.pk) is first
    assert Plan.objects.filter(day=short.pk).count() == 1


def test_what_was_worked_out_before_rain_does_not_count_after_it(
    short: Day, head: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Someone taps rain while cards are being given out: whichever is kept first, none counts."""
    handing.give_out(short.pk, RUN, head)
    made = handing.ready

    def meanwhile(day_pk: int, run_name: str) -> handing.Ready | None:
        found = made(day_pk, run_name)
        handing.void_all(day_pk, head)
        return found

    monkeypatch.setattr(handing, "ready", meanwhile)
    with pytest.raises(InputError, match="at this moment"):
        handing.give_out(short.pk, RUN, head)
    assert given.current(short.pk, RUN) is None


def test_what_was_worked_out_before_limits_were_lowered_does_not_count(
    short: Day, head: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = handing.ready

    def meanwhile(day_pk: int, run_name: str) -> handing.Ready | None:
        found = made(day_pk, run_name)
        handing.lower(day_pk, head, "wind", colder_k=4.0)
        return found

    monkeypatch.setattr(handing, "ready", meanwhile)
    with pytest.raises(InputError, match="at this moment"):
        handing.give_out(short.pk, RUN, head)
    assert given.given_of(short.pk) == []


def test_rain_takes_another_word_where_its_own_has_just_gone(
    short: Day, head: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = handing.give_out(short.pk, RUN, head)
    words = iter([out.word, "heron 2"])
    monkeypatch.setattr(handing, "next_word", lambda _: next(words))
    assert handing.void_all(short.pk, head) == "heron 2"
    assert given.current(short.pk, RUN) is None


def test_no_phone_and_no_board_takes_a_word_that_stood_on_paper(
    short: Day, head: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    left = handing.next_word(short.pk)
    others = set(catalogue.day_words()) - {left}
    monkeypatch.setattr(handing, "words_on_paper", lambda _: others)
    assert handing.give_out(short.pk, RUN, head).word == left
    assert handing.void_all(short.pk, head) not in {left, *others}
