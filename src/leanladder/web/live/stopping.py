"""A run that stopped: since when, how its rubber cools, what holds if it rolls again now."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET, require_POST

from leanladder import drawing, wording
from leanladder.records import latest
from leanladder.records import live as happening
from leanladder.records.history import utc_now
from leanladder.records.models import Person, Run, Standing
from leanladder.web import handing
from leanladder.web.access import coach_or_head
from leanladder.web.frame import language_of
from leanladder.web.live import cooling, restart
from leanladder.web.live.board import Now, RunState, board
from leanladder.web.live.clock import local, stopwatch
from leanladder.web.live.figures import CLOUDS, WINDS_MPS, units_of
from leanladder.web.live.measuring import Measured, back, measured_now
from leanladder.web.live.reach import run_of
from leanladder.web.live.views import NOTHING_NEW, ask_why, raises, shared
from leanladder.web.mine import person_of


@coach_or_head
@require_GET
def run(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Show a run: its cards, and where it stopped the stopwatch and what holds for a restart."""
    person = person_of(request)
    of_run = run_of(pk, run_pk, person)
    about = _about(request, board(pk, person), of_run)
    more = {
        "measured": _measured(person, about),
        "clouds": tuple(CLOUDS),
        "winds": tuple(WINDS_MPS),
    }
    return render(request, "live/run.html", about | more)


@coach_or_head
@require_GET
def run_part(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Answer a run's page that asks whether anything changed: nothing, or the part of it that did."""
    person = person_of(request)
    of_run = run_of(pk, run_pk, person)
    now = board(pk, person)
    if request.GET.get("stamp") == now.stamp():
        return HttpResponse(status=NOTHING_NEW)
    about = _about(request, now, of_run)
    more = {"part_only": True, "measured": _measured(person, about)}
    return render(request, "live/run_now.html", about | more)


def _measured(person: Person, about: Mapping[str, Any]) -> Measured:
    state: RunState = about["state"]
    return measured_now(about["now"], units_of(person.units), state, for_run=state.name)


def _about(request: HttpRequest, now: Now, of_run: Run) -> dict[str, Any]:
    state = next(each for each in now.runs if each.pk == of_run.pk)
    stop = next((each for each in now.stops if each.pk == state.stop_pk), None)
    here = reverse("live_run", args=[now.day.pk, of_run.pk])
    about = shared(request, now, here) | {"run": of_run, "state": state, "stop": stop}
    if stop is not None:
        seconds = (utc_now() - stop.since).total_seconds()
        about |= {
            "elapsed_s": f"{seconds:.1f}",
            "stopwatch": stopwatch(seconds),
            "since": local(stop.since, now.day),
            "warmers_since": stop.warmers_at and local(stop.warmers_at, now.day),
        }
    return about


@coach_or_head
@require_POST
def stop(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Keep that a run has stopped just now: its cards are void."""
    person = person_of(request)
    of_run = run_of(pk, run_pk, person)
    handing.stop(pk, of_run.name, person, in_sun=request.POST.get("in_sun") == "1")
    return redirect("live_run", pk, run_pk)


@coach_or_head
@require_POST
def change(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Keep where a stopped run stands, and whether warmers are on again; or that it is over."""
    person = person_of(request)
    of_run = run_of(pk, run_pk, person)
    lasting = _lasting(pk, of_run)
    post = request.POST
    if post.get("over") == "1":
        happening.end_stop(lasting.pk, person)
        return redirect("live", pk)
    stated = {key: post[key] == "1" for key in ("in_sun", "in_lane", "warmers") if key in post}
    happening.change_stop(lasting.pk, person, **stated)
    return redirect("live_run", pk, run_pk)


def _lasting(pk: int, of_run: Run) -> Standing:
    """The stop of a run; raises Http404 where it rolls."""
    found = next((each for each in happening.stops(pk) if each.run_name in (None, of_run.name)), None)
    if found is None:
        raise Http404
    return found


@coach_or_head
@require_GET
def strip(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Answer the strip of minutes: how the rubber cools from the flag on, and where the stopwatch is."""
    of_run = run_of(pk, run_pk, person_of(request))
    lasting = _lasting(pk, of_run)
    stood_min = (utc_now() - lasting.since).total_seconds() / 60.0
    rubber_c = cooling.after_flag(pk, of_run.name, lasting)
    picture = "" if rubber_c is None else _picture(rubber_c, stood_min, request)
    return render(request, "live/strip.html", {"picture": picture})


def _picture(rubber_c: tuple[float, ...], stood_min: float, request: HttpRequest) -> str:
    language, units = language_of(request), units_of(person_of(request).units)
    words = drawing.StopWords(
        *(wording.unmarked(f"live.strip_{code}", language) for code in ("warm", "cold", "minutes"))
    )
    here = min(int(stood_min), len(rubber_c) - 1)
    title = wording.unmarked(
        "live.strip_name",
        language,
        minutes=int(stood_min),
        first=units.warm(rubber_c[0]),
        now=units.warm(rubber_c[here]),
        unit=units.degree,
    )
    picture = drawing.cooling(rubber_c, stood_min, words, drawing.Name(title, "strip"))
    return mark_safe(picture)  # noqa: S308  # ours, escaped there


@coach_or_head
@require_GET
def restart_part(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Answer what holds if a stopped run rolls again now, or that it is being worked out."""
    of_run = run_of(pk, run_pk, person_of(request))
    lasting, language = _lasting(pk, of_run), language_of(request)
    given = cooling.last_given(pk, of_run.name, lasting.since)
    rolled = cooling.rolled_min(pk, of_run.name, lasting, given)
    over = of_run.minutes is not None and rolled >= of_run.minutes
    what = None if over else handing.restart_ready(pk, of_run.name)
    about: dict[str, Any] = {"run": of_run, "day": of_run.day, "what": what, "over": over}
    if what is not None:
        told = restart.told(what, given, lasting, language)
        about |= {"told": told, "until": local(what.until, of_run.day)}
    return render(request, "live/restart.html", about)


@coach_or_head
@require_POST
def give_restart(request: HttpRequest, pk: int, run_pk: int) -> HttpResponse:
    """Give restart cards out: the stop ends, a new day word holds.

    After rain, and with limits above those of the laps before, by the head instructor alone, who says why.
    """
    person = person_of(request)
    of_run = run_of(pk, run_pk, person)
    mark, reason = latest.mark_of_calls(pk, of_run.name), request.POST.get("reason", "").strip()
    raised = raises(pk, of_run, handing.restart_rises)
    if raised and (not person.is_head or not reason):
        return ask_why(request, of_run, raised, "live_give_restart")
    handing.give_restart(pk, of_run.name, person, reason, mark=mark)
    return back(request, pk)
