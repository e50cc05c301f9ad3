"""Who may see what: a coach their own groups, a rider their own card, everybody else nothing."""

from __future__ import annotations

from collections.abc import Callable
from http import HTTPStatus
from typing import Any

import pytest
from tests.browser.conftest import Paddock

Looks = Callable[..., Any]


def test_a_coach_sees_their_own_group(looks: Looks, paddock: Paddock) -> None:
    page = looks("phone", paddock.coach)
    page.goto("/")
    page.get_by_role("link", name="Fenside Riding School").click()
    page.get_by_text("new 1").first.wait_for()
    assert not page.get_by_text("Brambling").count()
    assert page.goto(paddock.ladder("new 1")).status == HTTPStatus.OK
    assert page.get_by_role("heading", name="Avocet").is_visible()


def test_a_coach_is_denied_other_groups_and_the_heads_pages(looks: Looks, paddock: Paddock) -> None:
    page = looks("phone", paddock.coach)
    ladder, day = paddock.ladder("regular 1"), paddock.day
    theirs = (ladder, f"{ladder}sources/", ladder.replace("/1/", "/who/"))
    heads = ("/people/", "/machines/", "/riders/", "/circuits/new/", "/days/new/")
    of_day = [f"{day}{name}/" for name in ("weather", "groups", "sessions", "head", "paper", "export")]
    for path in (*theirs, *heads, *of_day):
        answer = page.goto(path)
        assert answer.status in {HTTPStatus.FORBIDDEN, HTTPStatus.NOT_FOUND}, path
        assert "Brambling" not in page.content(), path


@pytest.mark.parametrize("size", ["phone", "laptop"])
def test_who_has_not_signed_in_is_asked_to(looks: Looks, paddock: Paddock, size: str) -> None:
    page = looks(size)
    for path in ("/", paddock.day, paddock.ladder("new 1"), "/people/"):
        page.goto(path)
        assert page.get_by_role("heading", name="Sign in").is_visible(), path
