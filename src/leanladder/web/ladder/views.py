"""The coach's ladder: what it shows, why, and where its figures came from."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET

from leanladder import catalogue
from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder, Lap, Rung
from leanladder.domain.why import Why
from leanladder.records import stored
from leanladder.web import plans, tries
from leanladder.web.access import coach_or_head, is_head
from leanladder.web.faults import refused
from leanladder.web.ladder import pictures, said
from leanladder.web.ladder.controls import controls, query_of, wishes
from leanladder.web.ladder.found import Found, NotTheirsError, combination, of_run, point, reader_of
from leanladder.web.ladder.origins import by_kind
from leanladder.web.ladder.pictures import Reader
from leanladder.web.ladder.stays import moved
from leanladder.web.ladder.table import table, with_laps
from leanladder.web.out import out

# Refusals for a cold road: where part of it lies in the shade, that part counts.
COLD = frozenset({"road_too_cold", "near_dew_point"})
# A view of a combination's ladder.
Shows = Callable[[HttpRequest, Found, Ladder], HttpResponse]
LIMITS = ("caution_card", "front_grip", "rear_grip", "level_top", "clearance", "scrubbing")


@coach_or_head
@require_GET
def run(request: HttpRequest, day_pk: int, run: str) -> HttpResponse:
    """Show who goes out on what in a run, each with a way to their ladder."""
    worked = plans.worked(day_pk)
    if worked is None:
        return waiting(request, day_pk)
    try:
        entries = of_run(request, worked, run)
    except NotTheirsError:
        return refused(request)
    reader = reader_of(request)
    rows = [_row(place, entry, reader) for place, entry in enumerate(entries, 1)]
    session = next(each for each in worked.day.sessions if each.name == run)
    return render(request, "ladder/run.html", {"worked": worked, "run": session, "rows": rows})


def _row(place: int, entry: DayLadder, reader: Reader) -> dict[str, Any]:
    row: dict[str, Any] = {"place": place, "entry": entry, "riders": ", ".join(entry.riders)}
    if entry.ladder is not None:
        first = entry.ladder.laps[0]
        row["first"] = min((math.floor(rung.cap_bike_deg) for rung in first.rungs), default=None)
    elif entry.refusal is not None:
        row["refusal"] = said.refusal(entry.refusal, reader.language)[0]
    return row


def _of_combination(shows: Shows) -> Callable[[HttpRequest, int, str, int], HttpResponse]:
    """Let a view show a combination's ladder: until there is one, and where there is none, a page says so."""

    @wraps(shows)
    def view(request: HttpRequest, day_pk: int, run: str, entry: int) -> HttpResponse:
        worked = plans.worked(day_pk)
        if worked is None:
            return waiting(request, day_pk)
        try:
            found = combination(request, worked, run, entry)
        except NotTheirsError:
            return refused(request)
        if found.entry.ladder is None:
            return _no_number(request, found, reader_of(request))
        return shows(request, found, found.entry.ladder)

    return view


@coach_or_head
@require_GET
@_of_combination
def ladder(request: HttpRequest, found: Found, own: Ladder) -> HttpResponse:
    """Show a combination's ladder, the point chosen in it, and what was tried of it."""
    return render(request, "ladder/ladder.html", _page(request, found, own, reader_of(request)))


def waiting(request: HttpRequest, day_pk: int) -> HttpResponse:
    """Return the page while a day's ladders are worked out."""
    return render(request, "ladder/waiting.html", {"progress": plans.progress(day_pk)})


def _no_number(request: HttpRequest, found: Found, reader: Reader) -> HttpResponse:
    why_not, do = ("", "")
    if found.entry.refusal is not None:
        why_not, do = said.refusal(found.entry.refusal, reader.language)
    return render(request, "ladder/no_number.html", {**_head(found), "why_not": why_not, "do": do})


def _page(request: HttpRequest, found: Found, own: Ladder, reader: Reader) -> dict[str, Any]:
    lap, rung = point(own, request.GET.get("lap"), request.GET.get("turn"))
    return {
        **_head(found),
        "out": out(found.worked, found.run),
        **_figures(own, reader),
        **_shown(request, found, own, lap, rung, reader),
        "controls": controls(own.session, request.GET, reader),
        "warnings": said.warnings(found.entry, own, reader.language),
        "cautions": said.cautions(own, reader.language),
        "charts": [mark_safe(each) for each in pictures.charts(own, reader)],  # noqa: S308  # ours, escaped there
        "chance": _chance(own, reader),
        "falls": said.falls(own.fall_odds, reader.language) if own.fall_odds and is_head(request) else (),
    }


def _head(found: Found) -> dict[str, Any]:
    entry = found.entry
    return {
        "worked": found.worked,
        "run": entry.session,
        "entry": entry,
        "place": found.place,
        "riders": ", ".join(entry.riders),
    }


def _figures(own: Ladder, reader: Reader) -> dict[str, Any]:
    session = own.session
    road = session.road
    shade = session.circuit.shaded.any() and road.shaded_c < road.open_c
    return {
        "session": session,
        "degree": reader.units.degree,
        "track": reader.units.nearest(road.open_c),
        "shade": reader.units.whole(road.shaded_c) if shade else None,
        "air": reader.units.nearest(session.weather.air_c),
        "origin": road.origin,
        "origin_said": reader.say(f"ladder.origin_{road.origin}"),
        "start": said.start(session.start, reader.language),
        "usual_deg": f"{session.level.usual_lean_deg.value:.0f}",
        "length_km": f"{session.circuit.length_m / 1000.0:.2f}",
        "parameters": own.parameters,
    }


def _shown(
    request: HttpRequest, found: Found, own: Ladder, lap: Lap, rung: Rung | None, reader: Reader
) -> dict[str, Any]:
    """The ladder, as it is or as it is tried, with all that belongs to the point chosen."""
    shown, tried, told = _tried(request, found, own, reader)
    at = (lap.lap, rung.number if rung else None)
    lap, rung = point(shown, str(lap.lap), str(at[1]))
    why, why_state = _why(request, found, at)
    return {
        "tried": tried,
        "try_told": told or (moved(found, own, shown, at, reader) if tried else []),
        "ladder": table(shown, at, reader, own if tried else None),
        "query": query_of(request.GET),
        "lap": lap,
        "rung": rung,
        "corner": next(
            (each for each in own.session.circuit.corners if rung and each.number == rung.number), None
        ),
        "map": mark_safe(pictures.circuit(shown, lap, at[1], reader)),  # noqa: S308  # ours, escaped there
        "marks": [(mark_safe(mark), words) for mark, words in pictures.marks(reader, LIMITS)],  # noqa: S308
        "scale": mark_safe(pictures.scale(reader)),  # noqa: S308
        **(_point(shown, rung, why, reader) if rung else {}),
        "why_state": why_state,
        "more": _more(why, reader) if why else None,
    }


def _tried(request: HttpRequest, found: Found, own: Ladder, reader: Reader) -> tuple[Ladder, bool, list[str]]:
    """The ladder to be shown, whether it is only tried, and what to say where it cannot be."""
    wished = wishes(own.session, request.GET, reader)
    if not wished:
        return own, False, []
    answer = tries.ask_patiently({**found.question, "kind": "final", "wishes": wished})
    laps = laps_of(answer)
    if laps is None:
        return own, False, not_tried(answer, own, reader)
    return with_laps(own, laps), True, []


def laps_of(answer: tries.Message) -> tuple[Lap, ...] | None:
    """Return the laps of the worker's answer, None where it has none."""
    if answer["state"] != "done":
        return None
    laps = stored.from_json(answer["laps"])
    return laps if isinstance(laps, tuple) else None


def not_tried(answer: tries.Message, own: Ladder, reader: Reader) -> list[str]:
    """Return why a try has no number; where a figure of the open track misleads, which place counts."""
    if answer["state"] == "refused":
        cold = answer["code"] in COLD and bool(own.session.circuit.shaded.any())
        coldest = [reader.say("ladder.try_coldest")] if cold else []
        return [reader.say(answer["code"]), *coldest]
    if answer["state"] == "wrong":
        return [str(answer["text"])]
    return [reader.say("ladder.try_away")]


def _why(request: HttpRequest, found: Found, at: tuple[int, int | None]) -> tuple[Why | None, str]:
    """Everything behind a limit, where it was asked for: worked out by the worker meanwhile."""
    if request.GET.get("why") != "1" or at[1] is None:
        return None, ""
    answer = tries.ask({**found.question, "kind": "why", "lap": at[0], "turn": at[1]})
    if answer["state"] != "done":
        return None, answer["state"]
    why = stored.from_json(answer["why"])
    return (why, "done") if isinstance(why, Why) else (None, "failed")


def _point(shown: Ladder, rung: Rung, why: Why | None, reader: Reader) -> dict[str, Any]:
    top_deg = shown.session.level.top_lean_deg.value
    front, rear = pictures.crowns(shown, rung, why, reader)
    return {
        "limit_deg": math.floor(rung.cap_bike_deg),
        "side": reader.say(f"side.{rung.side}"),
        "reason": said.reason(rung, reader.language),
        "others": said.others(rung, top_deg, reader.language),
        "doubts": list(said.doubt(rung.doubt, top_deg, reader.language)) if rung.doubt else [],
        "crowns": (mark_safe(front), mark_safe(rear)),  # noqa: S308  # ours, escaped there
        "fall": said.chance(rung.doubt.fall_odds, reader.language) if rung.doubt else "",
    }


def _more(why: Why, reader: Reader) -> dict[str, Any]:
    return {
        "sentences": said.sentences(why.sentences[2:], reader.language),
        "changes": said.changes(why, reader.language),
    }


def _chance(own: Ladder, reader: Reader) -> str:
    return reader.say("odds.chance", of_100=f"{own.session.chance.of_100:g}") if own.members else ""


def _kinds(request: HttpRequest, some: tuple[str, ...]) -> list[tuple[str, list[str]]]:
    reader = reader_of(request)
    return [(reader.say(f"ladder.sources_{kind}", count=len(those)), those) for kind, those in by_kind(some)]


@coach_or_head
@require_GET
@_of_combination
def sources(request: HttpRequest, found: Found, own: Ladder) -> HttpResponse:
    """Show where the figures behind a ladder came from."""
    session = own.session
    used = (
        session.front.tyre, session.rear.tyre, session.motorcycle, session.level, session.surface,
        *(catalogue.parameters(name) for name in catalogue.table_names()),
    )  # fmt: skip
    some = catalogue.sources(*used)
    page = {**_head(found), "sources": some, "kinds": _kinds(request, some), "parameters": own.parameters}
    return render(request, "ladder/sources.html", page)
