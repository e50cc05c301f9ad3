"""People: who is first, who guesses, who may be removed."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from leanladder.records import people
from leanladder.records.models import Change, Day, Person
from leanladder.web.people import throttle
from leanladder.web.people.forms import SignInForm
from leanladder.web.people.throttle import MOST_WRONG

Asks = Callable[[Person | None], Client]
FIRST = {"username": "Oda", "password": "quite a long word"}


def test_the_first_is_made_on_the_laptop_itself(asks: Asks) -> None:
    assert asks(None).get("/login/")["Location"] == "/first/"
    assert asks(None).post("/first/", FIRST, REMOTE_ADDR="127.0.0.1").status_code == 302
    assert Person.objects.get().is_head
    assert asks(None).get("/first/", REMOTE_ADDR="127.0.0.1")["Location"] == "/login/"


def test_from_elsewhere_only_with_the_laptops_code(asks: Asks, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEANLADDER_FIRST_CODE", "tit-willow")
    for code in ("", "tit", "tit-willow2"):
        assert asks(None).post(f"/first/?code={code}", FIRST, REMOTE_ADDR="192.0.2.7").status_code == 403
    assert not people.any_people()
    assert asks(None).post("/first/?code=tit-willow", FIRST, REMOTE_ADDR="192.0.2.7").status_code == 302


@pytest.mark.parametrize("password", ["short", "password123", "1234567890", "OdaOdaOda1"])
def test_a_password_that_is_easily_guessed_is_refused(asks: Asks, password: str) -> None:
    given = {**FIRST, "username": "OdaOdaOda", "password": password}
    asks(None).post("/first/", given, REMOTE_ADDR="127.0.0.1")
    assert not people.any_people()


def test_guessing_is_slowed_down(asks: Asks, head: Person) -> None:
    wrong = {"username": "Oda", "password": "wrong"}
    for _ in range(MOST_WRONG):
        assert asks(None).post("/login/", wrong, REMOTE_ADDR="192.0.2.9").status_code == 200
    right = {"username": "Oda", "password": "a long enough word"}
    assert asks(None).post("/login/", right, REMOTE_ADDR="192.0.2.9").status_code == 429
    # from another place too, since it is the same name that was guessed
    assert asks(None).post("/login/", right, REMOTE_ADDR="192.0.2.10").status_code == 429


def test_others_guesses_keep_nobody_out_at_the_laptop(asks: Asks, head: Person) -> None:
    """Else any phone could keep the head instructor from signing in, and from calling riders in."""
    form = {"username": "Oda", "password": "not this one"}
    for last in range(MOST_WRONG):
        asks(None).post("/login/", form, REMOTE_ADDR=f"10.0.0.{last}")
    right = {**form, "password": "a long enough word"}
    assert asks(None).post("/login/", right, REMOTE_ADDR="10.0.0.99").status_code == 429
    assert asks(None).post("/login/", right, REMOTE_ADDR="127.0.0.1").status_code == 302
    assert head.pk


def test_many_guesses_at_once_are_no_more_than_one_after_the_other(
    asks: Asks, head: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each is counted before it is found to be wrong: those that come meanwhile see it."""
    seen: list[bool] = []

    def person(_form: SignInForm) -> None:
        seen.append(throttle.blocked("from 127.0.0.1"))

    monkeypatch.setattr(SignInForm, "person", person)
    for _ in range(MOST_WRONG):
        asks(None).post("/login/", {"username": "Oda", "password": "not this one"})
    assert seen == [False] * (MOST_WRONG - 1) + [True]
    assert head.pk


def test_passwords_are_kept_by_argon2(head: Person) -> None:
    assert head.password.startswith("argon2$argon2id$")


def test_a_coach_is_added_and_removed_and_the_history_says_by_whom(asks: Asks, head: Person) -> None:
    browser = asks(head)
    given = {"username": "tobit", "coach_name": "Tobit", "role": "coach", "password": "quite a long word"}
    browser.post("/people/", given)
    tobit = Person.objects.get(username="tobit")
    assert not tobit.is_head
    browser.post(f"/people/{tobit.pk}/remove/")
    browser.post(f"/people/{head.pk}/remove/")
    assert list(Person.objects.all()) == [head]
    rows = Change.objects.filter(what="person", name="tobit").order_by("pk")
    assert [(row.who_name, row.was is None, row.now is None) for row in rows] == [
        ("Oda Fenn", True, False),
        ("Oda Fenn", False, True),
    ]


def test_a_coach_whom_no_group_names_is_pointed_out(asks: Asks, head: Person, coach: Person) -> None:
    assert "No group names them" in asks(head).get("/people/").content.decode()


def test_a_coach_whom_a_group_names_is_not(asks: Asks, head: Person, coach: Person, demo: Day) -> None:
    page = asks(head).get("/people/").content.decode()
    assert "No group names them" not in page
    assert "in days: Maren" in page


def test_what_someone_reads_in_is_kept_and_said(asks: Asks, head: Person) -> None:
    browser = asks(head)
    answer = browser.post("/own/", {"language_of": "fr", "units": "imperial"})
    assert "Gardé." in browser.get(answer["Location"]).content.decode()
    assert "Gardé." not in browser.get("/own/").content.decode()


NEW = {"password_own": "a long enough word", "password": "another long word"}


def test_who_knows_the_old_password_changes_it_and_stays_signed_in(asks: Asks, coach: Person) -> None:
    coach.set_password(NEW["password_own"])
    coach.save()
    here, elsewhere = asks(coach), asks(coach)
    assert here.post("/own/password/", NEW)["Location"] == "/own/?kept=password"
    assert "The password is changed." in here.get("/own/?kept=password").content.decode()
    assert elsewhere.get("/own/").status_code == 302
    coach.refresh_from_db()
    assert coach.check_password(NEW["password"])
    noted = Change.objects.filter(what=people.WHAT, key=str(coach.pk)).latest("pk")
    assert NEW["password"] not in str((noted.was, noted.now, noted.reason))


@pytest.mark.parametrize("wrong", [{"password_own": "not that one"}, {"password": "short"}])
def test_otherwise_a_password_stays(asks: Asks, coach: Person, wrong: dict[str, str]) -> None:
    coach.set_password(NEW["password_own"])
    coach.save()
    assert 'class="wrong"' in asks(coach).post("/own/password/", NEW | wrong).content.decode()
    coach.refresh_from_db()
    assert coach.check_password(NEW["password_own"])


def test_guessing_the_old_password_is_slowed_down(asks: Asks, coach: Person) -> None:
    here = asks(coach)
    for _ in range(MOST_WRONG):
        here.post("/own/password/", NEW | {"password_own": "not that one"})
    assert "Too many wrong tries." in here.post("/own/password/", NEW).content.decode()
