"""All limits lowered at once, with a reason, by whoever leads; let up again by the head instructor."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_POST

from leanladder import catalogue
from leanladder.domain.errors import Fault, InputError
from leanladder.records import days
from leanladder.records import live as happening
from leanladder.web import handing
from leanladder.web.access import coach_or_head, head_only
from leanladder.web.live.board import board
from leanladder.web.live.measuring import back
from leanladder.web.live.working import working
from leanladder.web.mine import person_of

# By how much colder a track may be taken to be [K], and how sure limits may be asked to be [in 100].
COLDER_K = (2.0, 4.0, 6.0)
SURER_OF_100 = (98.0, 99.0)


@coach_or_head
@require_http_methods(["GET", "POST"])
def lower(request: HttpRequest, pk: int) -> HttpResponse:
    """Lower all limits: every card is void, and the ladders are worked out anew."""
    person = person_of(request)
    if request.method == "POST":
        how, _, much = request.POST.get("by", "").partition(":")
        reason = request.POST.get("reason", "")
        if how == "level" and much in catalogue.level_names():
            handing.lower(pk, person, reason, level=much)
        elif how == "colder" and much in {f"{each:g}" for each in COLDER_K}:
            handing.lower(pk, person, reason, colder_k=float(much))
        elif how == "surer" and much in {f"{each:g}" for each in SURER_OF_100}:
            handing.lower(pk, person, reason, chance_of_100=float(much))
        else:
            raise InputError("nothing is lowered.", Fault(field="lower", remedy="Choose by what."))
        working(pk)
        return back(request, pk)
    about = {
        "now": board(pk, person),
        "day": days.day(pk),
        "colder": [f"{each:g}" for each in COLDER_K],
        "surer": [f"{each:g}" for each in SURER_OF_100],
        "levels": catalogue.level_names()[:-1],
    }
    return render(request, "live/lower.html", about)


@head_only
@require_POST
def let_up(request: HttpRequest, pk: int, lowered_pk: int) -> HttpResponse:
    """Let limits be as they were before they were lowered; what was given out stays as it is."""
    if lowered_pk not in {each.pk for each in happening.lowered(pk)}:
        raise Http404
    handing.raise_again(lowered_pk, person_of(request), request.POST.get("reason", ""))
    working(pk)
    return back(request, pk)
