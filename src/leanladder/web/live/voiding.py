"""Rain: every card void at once, a new day word, what is done now, and who does not know yet."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from leanladder.planning.procedures import procedure
from leanladder.records import given as handed
from leanladder.records.models import Person
from leanladder.sheets.said import label, said
from leanladder.web import handing
from leanladder.web.access import coach_or_head
from leanladder.web.frame import language_of
from leanladder.web.live.board import board
from leanladder.web.live.measuring import back
from leanladder.web.live.reach import check_given
from leanladder.web.live.views import NOTHING_NEW, shared
from leanladder.web.mine import person_of

RAIN = "rain"


@coach_or_head
@require_http_methods(["GET", "POST"])
def rain(request: HttpRequest, pk: int) -> HttpResponse:
    """Make every card void; a button that was not held asks first."""
    person = person_of(request)
    if request.method == "POST" and "1" in (request.POST.get("held"), request.POST.get("sure")):
        void(pk, person)
        return redirect("live_void", pk)
    return render(request, "live/rain.html", {"day": board(pk, person).day})


def void(pk: int, person: Person) -> None:
    """Make every card of a day void, whoever says so: it rains on all, and the board has one word."""
    handing.void_all(pk, person, RAIN)


@coach_or_head
@require_GET
def voided(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what was made void last: the word for the board, the procedure, who has not confirmed it."""
    now, language = board(pk, person_of(request)), language_of(request)
    parts = [
        (label(part.head, language), [said(line, language) for line in part.lines])
        for part in procedure("wet", language).parts
    ]
    return render(
        request, "live/void.html", shared(request, now, reverse("live_void", args=[pk])) | {"parts": parts}
    )


@coach_or_head
@require_GET
def unconfirmed_part(request: HttpRequest, pk: int) -> HttpResponse:
    """Answer who has not confirmed yet, or nothing where that is as the page has it."""
    now = board(pk, person_of(request))
    if request.GET.get("stamp") == now.stamp():
        return HttpResponse(status=NOTHING_NEW)
    return render(
        request, "live/unconfirmed_part.html", shared(request, now, reverse("live_void", args=[pk]))
    )


@coach_or_head
@require_POST
def told(request: HttpRequest, pk: int, given_pk: int) -> HttpResponse:
    """Keep that someone has told a rider in person."""
    person, given = person_of(request), handed.given(given_pk)
    check_given(given, pk, person)
    handed.told(given, request.POST.get("rider", ""), person)
    return back(request, pk)
