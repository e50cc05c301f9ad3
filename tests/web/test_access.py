"""Every address says whom it is for, and shows itself to nobody else."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory
from django.urls import URLPattern, URLResolver, get_resolver

from leanladder.records.models import Person
from leanladder.web.access import AccessMiddleware, who_of

Asks = Callable[[Person | None], Client]
PUBLIC = {"first/", "login/", "c/<str:token>", "c/<str:token>/still", "c/<str:token>/read"}


def patterns(resolver: URLResolver, before: str = "") -> Iterator[tuple[str, URLPattern]]:
    for each in resolver.url_patterns:
        if isinstance(each, URLResolver):
            yield from patterns(each, before + str(each.pattern))
        else:
            yield before + str(each.pattern), each


EVERY = list(patterns(get_resolver()))


@pytest.mark.parametrize(("address", "pattern"), EVERY, ids=[address for address, _ in EVERY])
def test_every_address_says_whom_it_is_for(address: str, pattern: URLPattern) -> None:
    assert who_of(pattern.callback) is not None
    assert (who_of(pattern.callback) == "public") == (address in PUBLIC)


def test_a_view_that_says_nothing_is_shown_to_nobody(head: Person) -> None:
    def silent(_request: HttpRequest) -> HttpResponse:
        return HttpResponse("seen")

    request = RequestFactory().get("/")
    request.user = head
    answer = AccessMiddleware(silent).process_view(request, silent, (), {})
    assert answer is not None
    assert answer.status_code == 403


def test_nobody_is_sent_to_sign_in_and_comes_back(asks: Asks, head: Person) -> None:
    browser = asks(None)
    answer = browser.get("/people/")
    assert answer.status_code == 302
    assert answer["Location"] == "/login/?next=%2Fpeople%2F"
    signed = browser.post(
        "/login/", {"username": "Oda", "password": "a long enough word", "next": "/people/"}
    )
    assert signed["Location"] == "/people/"


@pytest.mark.parametrize("elsewhere", ["https://example.org/", "//example.org/", "javascript:alert(1)"])
def test_signing_in_never_leads_elsewhere(asks: Asks, head: Person, elsewhere: str) -> None:
    signed = asks(None).post(
        "/login/", {"username": "Oda", "password": "a long enough word", "next": elsewhere}
    )
    assert signed["Location"] == "/"


@pytest.mark.parametrize("address", ["/people/", "/machines/", "/riders/", "/days/new/"])
def test_a_coach_does_not_see_what_is_the_heads(asks: Asks, coach: Person, address: str) -> None:
    assert asks(coach).get(address).status_code == 403


def test_a_form_of_another_site_is_refused(head: Person) -> None:
    browser = Client(HTTP_HOST="localhost", enforce_csrf_checks=True)
    browser.force_login(head)
    answer = browser.post("/logout/")
    assert answer.status_code == 403
    assert "too old" in answer.content.decode()


def test_another_host_name_is_refused(asks: Asks) -> None:
    assert asks(None).get("/login/", HTTP_HOST="elsewhere.example").status_code == 400


def test_no_page_may_run_what_stands_in_it(asks: Asks, head: Person) -> None:
    policy = asks(head).get("/")["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
