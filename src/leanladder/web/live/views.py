"""The live page: what rolls next, what counts, what was measured; handing out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from leanladder import catalogue
from leanladder.records import given as handed
from leanladder.records import latest
from leanladder.records.models import Given, Run
from leanladder.web import handing
from leanladder.web.access import coach_or_head
from leanladder.web.live.board import Now, board
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
    mark, reason = latest.mark_of_calls(pk, run.name), request.POST.get("reason", "").strip()
    raised = raises(pk, run, handing.rises)
    if raised and (not person.is_head or not reason):
        return ask_why(request, run, raised, "live_give")
    handing.give_out(pk, run.name, person, reason, mark=mark)
    return back(request, pk)


def ask_why(request: HttpRequest, run: Run, raised: str, way: str) -> HttpResponse:
    """Ask the head instructor for a reason, to go on the same way; tell a coach that it is not theirs."""
    is_head = person_of(request).is_head
    about = {
        "run": run,
        "day": run.day,
        "raised": raised,
        "action": reverse(way, args=[run.day_id, run.pk]),
        "back": request.POST.get("back", ""),
    }
    return render(request, "live/raises.html", about, status=200 if is_head else 403)


def raises(pk: int, run: Run, rises: Callable[[Given], bool]) -> str:
    """Return why giving a run out now would raise what was given out: rain, higher limits; else empty.

    rises: whether what would be given out now lies above what was given out last.
    """
    given = handed.given_of(pk)
    if is_wet(pk, given, run.name):
        return "wet"
    last = handed.last_of(given, run.name)
    return "higher" if last is not None and rises(last) else ""


def is_wet(pk: int, given: Sequence[Given], run_name: str) -> bool:
    """Return whether rain was called in, and none of this run were given out since.

    A run that had no cards then waits for the head instructor as well.
    """
    wet = handed.rained(pk)
    return wet is not None and not any(each.at > wet.at for each in given if each.run_name == run_name)
