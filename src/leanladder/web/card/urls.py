"""Addresses of riders' cards: the link is the key, so they are short and public."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, path

from leanladder.web.access import public
from leanladder.web.card import views
from leanladder.web.card.book import Book

BOOK = Book()


@public
def card(request: HttpRequest, token: str) -> HttpResponse:
    """Show a rider their card."""
    return views.card(request, token, BOOK)


@public
def still(request: HttpRequest, token: str) -> HttpResponse:
    """Say how the card on a phone stands."""
    return views.still(request, token, BOOK)


@public
def read(request: HttpRequest, token: str) -> HttpResponse:
    """Note that a rider has read that their card is void."""
    return views.read(request, token, BOOK)


read.csrf_exempt = True  # type: ignore[attr-defined]  # the link itself is the key; there is no cookie

urlpatterns: list[URLPattern] = [
    path("c/<str:token>", card, name="card"),
    path("c/<str:token>/still", still, name="card_still"),
    path("c/<str:token>/read", read, name="card_read"),
]
