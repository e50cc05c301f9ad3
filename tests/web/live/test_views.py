"""The live page: handing out, what raises limits, who may."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from leanladder.records import given as handed
from leanladder.records.models import Day, Person, Run
from leanladder.web import handing
from leanladder.web.live.board import board


def address(day: Day, run: str, what: str = "") -> str:
    """The address of a run's page, or of what is done there."""
    found = Run.objects.get(day=day, name=run)
    return f"/days/{day.pk}/live/{found.pk}/{what}"


def text(client: Client, where: str) -> str:
    """What a page says."""
    answer = client.get(where)
    assert answer.status_code == 200, answer.status_code
    return answer.content.decode()


def test_the_page_says_what_is_next_and_gives_it_out(planned: Day, heads: Client) -> None:
    page = text(heads, f"/days/{planned.pk}/live/")
    assert "larks 1" in page
    assert "Not given out" in page
    answer = heads.post(address(planned, "larks 1", "give/"))
    assert answer.status_code == 302
    given = handed.current(planned.pk, "larks 1")
    assert given is not None
    assert given.by_name == "Oda Fenn"
    page = text(heads, f"/days/{planned.pk}/live/")
    assert given.word in page
    assert "Counts until" in page


def test_while_ladders_are_worked_out_cards_stay_and_the_page_says_so(
    planned: Day, head: Person, heads: Client
) -> None:
    given = handing.give_out(planned.pk, "larks 1", head)
    heads.post(f"/days/{planned.pk}/live/measure/", {"track_c": "14"})
    page = text(heads, f"/days/{planned.pk}/live/")
    assert "being worked out" in page
    assert "Give out" not in page.replace("give out anew", "")
    assert handed.current(planned.pk, "larks 1") == given


def test_once_they_are_there_it_offers_to_give_out_anew(
    planned: Day, head: Person, heads: Client, stands: Callable[[], None]
) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    heads.post(f"/days/{planned.pk}/live/measure/", {"track_c": "14"})
    stands()
    page = text(heads, address(planned, "larks 1"))
    assert "measured or lowered since" in page
    assert "Give out anew" in page
    heads.post(address(planned, "larks 1", "give/"))
    assert len(handed.given_of(planned.pk)) == 2


def test_a_page_that_asks_hears_nothing_while_nothing_changed(
    planned: Day, head: Person, heads: Client
) -> None:
    for where in (f"/days/{planned.pk}/live/now/", address(planned, "larks 1", "now/")):
        stamp = board(planned.pk, head).stamp()
        same = heads.get(f"{where}?stamp={stamp}")
        assert same.status_code in {200, 204}  # another minute may have begun
        assert heads.get(f"{where}?stamp=other").status_code == 200


def test_nobody_but_head_and_coaches_sees_it(planned: Day, asks: Callable[[Person | None], Client]) -> None:
    nobody = asks(None)
    for where in ("live/", "live/now/", "live/cards/", "given/"):
        assert nobody.get(f"/days/{planned.pk}/{where}").status_code == 302
    assert nobody.post(f"/days/{planned.pk}/live/rain/", {"held": "1"}).status_code == 401


def test_a_coach_acts_on_their_own_runs_alone(planned: Day, coachs: Client) -> None:
    assert coachs.post(address(planned, "larks 1", "give/")).status_code == 302
    for what in ("give/", "stop/", "change/", "again/"):
        assert coachs.post(address(planned, "plovers 1", what)).status_code == 403
    for what in ("", "now/", "strip/", "restart/"):
        assert coachs.get(address(planned, "plovers 1", what)).status_code == 403
    assert handed.current(planned.pk, "plovers 1") is None


def test_a_run_of_another_day_is_not_found(planned: Day, heads: Client) -> None:
    assert heads.get(f"/days/{planned.pk}/live/999999/").status_code == 404


def test_a_coach_of_no_group_is_told_whom_to_ask(
    planned: Day, coach: Person, asks: Callable[[Person | None], Client]
) -> None:
    coach.coach_name = "Nobody"
    coach.save()
    assert "Ask the head instructor" in text(asks(coach), f"/days/{planned.pk}/live/")


def test_after_rain_the_head_alone_gives_out_and_says_why(
    planned: Day, head: Person, heads: Client, coachs: Client
) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    handing.void_all(planned.pk, head)
    where = address(planned, "larks 1", "give/")
    assert coachs.post(where, {"reason": "dry"}).status_code == 403
    assert heads.post(where).status_code == 200
    assert handed.current(planned.pk, "larks 1") is None
    assert heads.post(where, {"reason": "two looked: dry"}).status_code == 302
    given = handed.current(planned.pk, "larks 1")
    assert given is not None
    assert given.reason == "two looked: dry"


def test_rain_holds_for_a_run_that_had_no_cards_yet_too(
    planned: Day, head: Person, heads: Client, coachs: Client
) -> None:
    handing.give_out(planned.pk, "plovers 1", head)
    handing.void_all(planned.pk, head)
    where = address(planned, "larks 1", "give/")
    assert coachs.post(where, {"reason": "dry"}).status_code == 403
    assert heads.post(where).status_code == 200
    assert heads.post(where, {"reason": "two looked: dry"}).status_code == 302
    assert heads.post(where).status_code == 302


def test_rain_before_any_card_holds_the_first_ones_too(
    planned: Day, head: Person, heads: Client, coachs: Client
) -> None:
    word = handing.void_all(planned.pk, head)
    now = board(planned.pk, head)
    assert now.is_wet
    assert now.voided is not None
    assert now.voided.word == word
    assert word in text(coachs, f"/days/{planned.pk}/live/")
    where = address(planned, "larks 1", "give/")
    assert coachs.post(where, {"reason": "dry"}).status_code == 403
    assert heads.post(where).status_code == 200
    assert heads.post(where, {"reason": "two looked: dry"}).status_code == 302
    assert not board(planned.pk, head).is_wet


def test_what_would_raise_limits_is_the_heads_with_a_reason(
    planned: Day, head: Person, heads: Client, coachs: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = handing.give_out(planned.pk, "larks 1", head)
    monkeypatch.setattr(handing, "rises", lambda _: True)
    where = address(planned, "larks 1", "give/")
    assert coachs.post(where, {"reason": "warmer"}).status_code == 403
    assert heads.post(where).status_code == 200
    assert handed.current(planned.pk, "larks 1") == first
    assert heads.post(where, {"reason": "measured 14"}).status_code == 302


def test_what_lowers_limits_is_a_coachs_too(
    planned: Day, head: Person, coachs: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    monkeypatch.setattr(handing, "rises", lambda _: False)
    assert coachs.post(address(planned, "larks 1", "give/")).status_code == 302


def test_a_form_leads_back_to_pages_of_ours_alone(planned: Day, heads: Client) -> None:
    for wanted in ("//elsewhere.test/", "https://elsewhere.test/", "nowhere"):
        answer = heads.post(f"/days/{planned.pk}/live/measure/", {"track_c": "9", "back": wanted})
        assert answer["Location"] == f"/days/{planned.pk}/live/"


def test_what_counts_and_the_way_to_make_it_void_stand_above_the_rest(
    planned: Day, head: Person, heads: Client
) -> None:
    given = handing.give_out(planned.pk, "larks 1", head)
    page = text(heads, f"/days/{planned.pk}/live/")
    assert page.index(given.word) < page.index("Not given out")
    handing.void_all(planned.pk, head)
    page = text(heads, f"/days/{planned.pk}/live/")
    assert page.index("VOID ALL CARDS") < page.index("Not confirmed")
    assert 'id="live-missing"' in text(heads, f"/days/{planned.pk}/live/now/?stamp=other")
