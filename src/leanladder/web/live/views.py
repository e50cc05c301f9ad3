"""The live page: what rolls next, what counts, what was measured; handing out."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from leanladder import catalogue
from leanladder.records import given as handed
from leanladder.records.models import Run
from leanladder.web import handing
from leanladder.web.access import coach_or_head
from leanladder.web.live.board import WET, Now, board
from leanladder.web.live.figures import CLOUDS, WINDS_MPS, units_of
from leanladder.web.live.measuring import back, measured_now
from leanladder.web.live.reach import run_of
from leanladder.web.mine import person_of

NOTHING_NEW = 204


@coach_or_head
@require_GET
def live(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the day as it runs, with all that is done about it."""
    now = board(pk, person_of(request))
    more = {
        "clouds": tuple(CLOUDS),
        "winds": tuple(WINDS_MPS),
        "levels": catalogue.level_names()[:-1],
        "measured": _measured(request, now),
    }
    return render(request, "live/live.html", shared(request, now) | more)


@coach_or_head
@require_GET
def now_part(request: HttpRequest, pk: int) -> HttpResponse:
    """Answer a page that asks whether anything changed: nothing, or the part of it that did."""
    now = board(pk, person_of(request))
    if request.GET.get("stamp") == now.stamp():
        return HttpResponse(status=NOTHING_NEW)
    return render(
        request,
        "live/now.html",
        shared(request, now) | {"part_only": True, "measured": _measured(request, now)},
    )


def shared(request: HttpRequest, now: Now, here: str = "") -> dict[str, Any]:
    """Return what a live page and the part of it that is asked for share; here: where its forms lead back."""
    return {
        "now": now,
        "day": now.day,
        "stamp": now.stamp(),
        "here": here or reverse("live", args=[now.day.pk]),
        "degree": units_of(person_of(request).units).degree,
        "others": [run for run in now.runs if now.next_run is None or run.pk != now.next_run.pk],
    }


def _measured(request: HttpRequest, now: Now) -> object:
    for_run = now.next_run.name if now.next_run and not now.is_today else ""
    run = now.next_run or next(iter(now.runs), None)
    return measured_now(now, units_of(person_of(request).units), run, for_run=for_run)


@coach_or_head
@require_POST
def give(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Give a run's cards out, anew where some were; what would raise limits takes the head and a reason."""
    person = person_of(request)
    run = run_of(pk, run_pk, person)
    reason = request.POST.get("reason", "").strip()
    raised = raises(pk, run)
    if raised and (not person.is_head or not reason):
        about = {"run": run, "day": run.day, "raised": raised, "back": request.POST.get("back", "")}
        return render(request, "live/raises.html", about, status=200 if person.is_head else 403)
    handing.give_out(pk, run.name, person, reason)
    return back(request, pk)


def raises(pk: int, run: Run) -> str:
    """Return why giving a run out now would raise what was given out: rain, higher limits; else empty."""
    last = next((each for each in reversed(handed.given_of(pk)) if each.run_name == run.name), None)
    if last is None:
        return ""
    if last.void_at and last.void_why in WET:
        return "wet"
    higher = any(each.code == "handing.higher" for each in handing.differences(last))
    return "higher" if higher else ""
