"""Tries while a control moves, and once it rests: what they would do; nothing of it is given out."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.template.loader import render_to_string
from django.views.decorators.http import require_POST

from leanladder.domain.errors import InputError
from leanladder.domain.ladder import Ladder
from leanladder.web import plans, tries
from leanladder.web.access import coach_or_head
from leanladder.web.ladder.controls import query_of, wishes
from leanladder.web.ladder.found import Found, NotTheirsError, combination, point, reader_of
from leanladder.web.ladder.stays import moved, stays
from leanladder.web.ladder.table import table, with_laps
from leanladder.web.ladder.views import laps_of, not_tried
from leanladder.web.typed import whole_number

# Which way a limit goes: down, nowhere, up.
WAYS = {-1: "lower", 0: "same", 1: "higher"}
SIGNS = {-1: "▼", 0: "=", 1: "▲"}


@coach_or_head
@require_POST
def draft(request: HttpRequest, day_pk: int, run: str, entry: int) -> HttpResponse:
    """Answer which way limits go, and how warm shoulders arrive, while a control moves."""
    return _answered(request, (day_pk, run, entry), "draft")


@coach_or_head
@require_POST
def final(request: HttpRequest, day_pk: int, run: str, entry: int) -> HttpResponse:
    """Answer the ladder as it would be, counted in full."""
    return _answered(request, (day_pk, run, entry), "final")


def _answered(request: HttpRequest, which: tuple[int, str, int], kind: str) -> HttpResponse:
    worked = plans.worked(which[0])
    try:
        found = None if worked is None else combination(request, worked, *which[1:])
    except NotTheirsError:
        return JsonResponse({"state": "refused"}, status=403)
    if found is None or found.entry.ladder is None:
        return JsonResponse({"state": "gone"})
    own, reader = found.entry.ladder, reader_of(request)
    try:
        wished = wishes(own.session, request.POST.dict(), reader)
    except InputError as error:
        return JsonResponse({"state": "wrong", "said": [error.message]})
    answer = tries.ask({**found.question, "kind": kind, "wishes": wished, **_client(request)})
    return JsonResponse(_told(request, found, own, answer, kind))


def _told(
    request: HttpRequest, found: Found, own: Ladder, answer: tries.Message, kind: str
) -> dict[str, Any]:
    """The worker's answer as the page takes it."""
    reader = reader_of(request)
    if answer["state"] in {"waiting", "given_up"}:
        return {"state": answer["state"]}
    if answer["state"] != "done":
        return {"state": answer["state"], "said": not_tried(answer, own, reader)}
    tell = _draft_told if kind == "draft" else _final_told
    return {"state": "done", **tell(request, found, own, answer)}


def _client(request: HttpRequest) -> dict[str, object]:
    """Who asks, from which page, and their how manyeth question it is: the newest counts."""
    return {
        "client": f"{request.user.pk}:{request.POST.get('client', '')[:40]}",
        "number": whole_number(request.POST.get("number")) or 0,
    }


def _draft_told(request: HttpRequest, found: Found, own: Ladder, answer: tries.Message) -> dict[str, Any]:
    reader = reader_of(request)
    rungs = {(lap.lap, rung.number): rung for lap in own.laps for rung in lap.rungs}
    cells: dict[str, list[str]] = {}
    for lap, number, way, warmer_k in answer["moved"]:
        rung = rungs.get((lap, number))
        if rung is None:
            continue
        was_c = [getattr(rubber, f"{rung.side}_c") for rubber in (rung.front, rung.rear)]
        warm_c = min(was + more for was, more in zip(was_c, warmer_k, strict=True))
        cells[f"{lap}-{number}"] = [SIGNS[way], f"{reader.units.whole(warm_c)} {reader.units.degree}"]
    at = _point(request, own)
    here = next((way for lap, number, way, _ in answer["moved"] if (lap, number) == at), None)
    said = [] if here is None else [reader.say(f"ladder.here_{WAYS[here]}")]
    return {"cells": cells, "said": [*said, stays(found, at, reader)]}


def _final_told(request: HttpRequest, found: Found, own: Ladder, answer: tries.Message) -> dict[str, Any]:
    reader = reader_of(request)
    laps = laps_of(answer)
    if laps is None:
        return {"state": "failed", "said": [reader.say("ladder.try_away")]}
    shown, at = with_laps(own, laps), _point(request, own)
    context = {
        "ladder": table(shown, at, reader, own),
        "language": reader.language,
        "query": query_of(request.POST),
    }
    page = render_to_string("ladder/table.html", context)
    return {"table": page, "said": moved(found, own, shown, at, reader)}


def _point(request: HttpRequest, own: Ladder) -> tuple[int, int | None]:
    lap, rung = point(own, request.POST.get("lap"), request.POST.get("turn"))
    return lap.lap, rung.number if rung else None
