"""Lowering all limits, whoever leads; letting them up, the head instructor alone; each with a reason."""

from __future__ import annotations

import pytest
from django.test import Client

from leanladder.records import given as handed
from leanladder.records import live as happening
from leanladder.records.models import Day, Person
from leanladder.web import handing


@pytest.mark.parametrize(
    ("by", "told"),
    [
        ("colder:4", "As if the track were 4 K colder"),
        ("level:new", "Everybody as level new at most"),
        ("surer:99", "Grip carries limits in 99 of 100 cases"),
    ],
)
def test_lowering_makes_cards_void_and_keeps_why(
    planned: Day, head: Person, heads: Client, by: str, told: str
) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    where = f"/days/{planned.pk}/live/lower/"
    assert heads.post(where, {"by": by, "reason": "fog"}).status_code == 302
    (kept,) = happening.lowered(planned.pk)
    assert (kept.reason, kept.by_name) == ("fog", "Oda Fenn")
    assert handed.current(planned.pk, "larks 1") is None
    for page in (f"/days/{planned.pk}/live/", where):
        assert f"{told}. <span" in heads.get(page).content.decode().replace("\n", "")


@pytest.mark.parametrize(
    "typed", [{"by": "colder:4"}, {"reason": "fog"}, {"by": "colder:-4", "reason": "fog"}, {"by": "surer:50"}]
)
def test_without_a_reason_or_a_way_nothing_is_lowered(
    planned: Day, heads: Client, typed: dict[str, str]
) -> None:
    assert heads.post(f"/days/{planned.pk}/live/lower/", typed).status_code == 400
    assert happening.lowered(planned.pk) == []


def test_letting_up_takes_a_reason(planned: Day, head: Person, heads: Client) -> None:
    kept = handing.lower(planned.pk, head, "fog", colder_k=4.0)
    where = f"/days/{planned.pk}/live/let-up/{kept.pk}/"
    assert heads.post(where).status_code == 400
    assert heads.post(where, {"reason": "fog has gone"}).status_code == 302
    assert happening.lowered(planned.pk) == []
    assert heads.post(where, {"reason": "again"}).status_code == 404


def test_a_coach_lowers_for_all_and_does_not_let_up(planned: Day, head: Person, coachs: Client) -> None:
    handing.give_out(planned.pk, "larks 1", head)
    where = f"/days/{planned.pk}/live/lower/"
    assert "let-up" not in coachs.get(where).content.decode()
    assert coachs.post(where, {"by": "colder:4", "reason": "fog"}).status_code == 302
    (kept,) = happening.lowered(planned.pk)
    assert handed.current(planned.pk, "larks 1") is None
    assert "let-up" not in coachs.get(where).content.decode()
    assert coachs.post(f"/days/{planned.pk}/live/let-up/{kept.pk}/", {"reason": "x"}).status_code == 403
    assert happening.lowered(planned.pk) == [kept]
