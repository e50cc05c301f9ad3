"""Rain: one held tap, every card void, and who does not know yet."""

from __future__ import annotations

import pytest
from django.test import Client

from leanladder.domain.errors import Fault, InputError
from leanladder.records import given as handed
from leanladder.records.models import Day, Given, Person
from leanladder.web import handing


@pytest.fixture
def both(planned: Day, head: Person) -> list[Given]:
    """Give both groups' first runs, given out."""
    return [handing.give_out(planned.pk, name, head) for name in ("larks 1", "plovers 1")]


def test_a_held_button_makes_every_card_void(planned: Day, both: list[Given], heads: Client) -> None:
    answer = heads.post(f"/days/{planned.pk}/live/rain/", {"held": "1"}, follow=True)
    page = answer.content.decode()
    after = handed.given_of(planned.pk)
    assert all(each.void_why == "rain" and each.void_by_name == "Oda Fenn" for each in after)
    word = after[0].void_word
    assert word
    assert word not in {each.word for each in both}
    assert f'<p class="new-word">{word}</p>' in page
    assert "Nobody has to ride." in page
    assert all(rider in page for each in both for rider, _ in each.riders)


def test_a_button_that_was_not_held_asks_first(planned: Day, both: list[Given], heads: Client) -> None:
    answer = heads.post(f"/days/{planned.pk}/live/rain/", {"held": "0"})
    assert answer.status_code == 200
    assert "Make every card void?" in answer.content.decode()
    assert all(each.void_at is None for each in handed.given_of(planned.pk))
    heads.post(f"/days/{planned.pk}/live/rain/", {"sure": "1"})
    assert all(each.void_at for each in handed.given_of(planned.pk))
    assert len(both) == 2


def test_a_coach_too_makes_every_card_void(planned: Day, both: list[Given], coachs: Client) -> None:
    """It rains on all groups: whoever sees it first says so for all."""
    page = coachs.post(f"/days/{planned.pk}/live/rain/", {"held": "1"}, follow=True).content.decode()
    larks, plovers = handed.given_of(planned.pk)
    assert larks.void_why == plovers.void_why == "rain"
    assert larks.void_word == plovers.void_word
    # of other groups a coach still sees no names
    assert not any(rider in page for rider, _ in both[1].riders if rider not in dict(both[0].riders))


def test_a_day_that_cannot_be_read_keeps_nobody_from_it(
    planned: Day, both: list[Given], heads: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise InputError("this day cannot be read.", Fault(field="day"))

    monkeypatch.setattr(handing, "worked", broken)
    heads.post(f"/days/{planned.pk}/live/rain/", {"held": "1"})
    assert len(both) == sum(1 for each in handed.given_of(planned.pk) if each.void_at and each.void_word)


def test_told_in_person_counts_as_confirmed(planned: Day, both: list[Given], heads: Client) -> None:
    heads.post(f"/days/{planned.pk}/live/rain/", {"held": "1"})
    given = both[0]
    rider = given.riders[0][0]
    where = f"/days/{planned.pk}/live/told/{given.pk}/"
    assert heads.post(where, {"rider": rider}).status_code == 302
    assert rider not in {row.rider for row in handed.unconfirmed(planned.pk)}
    assert heads.post(where, {"rider": "a stranger"}).status_code == 400


def test_a_coach_tells_their_own_riders_alone(planned: Day, both: list[Given], coachs: Client) -> None:
    given = both[1]
    where = f"/days/{planned.pk}/live/told/{given.pk}/"
    assert coachs.post(where, {"rider": given.riders[0][0]}).status_code == 403


def test_without_cards_the_procedure_and_the_word_are_there_all_the_same(planned: Day, heads: Client) -> None:
    page = heads.post(f"/days/{planned.pk}/live/rain/", {"held": "1"}, follow=True).content.decode()
    kept = handed.rained(planned.pk)
    assert kept is not None
    assert f'<p class="new-word">{kept.word}</p>' in page
    assert "No card was given out." in page
    assert "Everyone has confirmed" not in page
    assert "Nobody has to ride." in page


def test_before_any_rain_the_page_says_that_nothing_is_void(planned: Day, heads: Client) -> None:
    page = heads.get(f"/days/{planned.pk}/live/void/").content.decode()
    assert "No card counts" in page
    assert "new-word" not in page
