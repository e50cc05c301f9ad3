"""The page of a day's sessions: times, lengths, starts, and groups in turn."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from leanladder.domain.errors import InputError
from leanladder.records import days
from leanladder.records.day_content import changing
from leanladder.records.models import Person, Run
from leanladder.web.access import head_only
from leanladder.web.days.fields import Row, clock, number, plain, rows_of, stated, typed, whole, without
from leanladder.web.days.page import day_page, units_of
from leanladder.web.days.rotation import Rotation, minute_of, runs_of
from leanladder.web.mine import person_of

START_KEYS = ("kind", "warmers_c", "on_min", "off_min", "in_sun")
KEYS = ("was", "name", "group", "at", "minutes", "laps", *START_KEYS)
KINDS = ("cold", "warmers", "stopped")
# What each kind of start takes, as a day's file has it.
_TAKES = {"cold": (), "warmers": ("warmers_c", "on_min", "off_min"), "stopped": ("off_min", "in_sun")}
# What the form of a rotation begins with.
FIRST = {
    "first": "09:00",
    "minutes": "15",
    "between": "5",
    "rounds": "4",
    "break_at": "12:00",
    "break_for": "60",
}


@head_only
@require_http_methods(["GET", "POST"])
def sessions(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a day's sessions, and keep them; rows come and go without anything being kept yet."""
    units = units_of(request)
    if request.method != "POST":
        return _page(request, pk, [row_of(run, units) for run in days.runs(pk)])
    rows = rows_of(request.POST, KEYS)
    if "remove" in request.POST:
        return _page(request, pk, without(rows, request.POST["remove"]))
    if request.POST.get("do") == "add":
        return _page(request, pk, [*rows, {**dict.fromkeys(KEYS, ""), "minutes": FIRST["minutes"]}])
    try:
        wanted = [(row["was"], entry_of(row, units)) for row in rows if row["name"] or row["at"]]
        _keep(pk, wanted, person_of(request))
    except InputError as fault:
        return _page(request, pk, rows, fault)
    return redirect("day", pk)


@head_only
@require_POST
def in_turn(request: HttpRequest, pk: int) -> HttpResponse:
    """Make sessions of groups in turn, beside those that are there or in place of them."""
    anew = request.POST.get("anew") == "on"
    try:
        rotation = _rotation(request)
        with changing(pk, person_of(request)):
            there = [run.name for run in days.runs(pk)]
            for name in there if anew else ():
                days.remove_run(pk, name, person_of(request))
            for entry in runs_of(rotation, () if anew else there):
                days.save_run(pk, entry, person_of(request))
    except InputError as fault:
        rows = [row_of(run, units_of(request)) for run in days.runs(pk)]
        return _page(request, pk, rows, fault)
    return redirect("day_sessions", pk)


def _rotation(request: HttpRequest) -> Rotation:
    post = request.POST
    has_break = post.get("break_at") and post.get("break_for")
    return Rotation(
        groups=post.getlist("groups"),
        first_min=minute_of(post.get("first", ""), "first"),
        minutes=plain(post.get("minutes", ""), "minutes") or 0.0,
        between_min=plain(post.get("between", ""), "between") or 0.0,
        rounds=whole(post.get("rounds", ""), "rounds") or 0,
        break_min=minute_of(post["break_at"], "break") if has_break else None,
        break_for_min=plain(post.get("break_for", ""), "break") or 0.0,
    )


def row_of(run: Run, units: str) -> Row:
    """Return a run as it stands in the fields of a row."""
    start: Mapping[str, Any] = run.start or {}
    return {
        "was": run.name,
        "name": run.name,
        "group": run.group.name,
        "at": clock(run.at),
        "minutes": "" if run.minutes is None else f"{run.minutes:g}",
        "laps": "" if run.laps is None else str(run.laps),
        "kind": str(start.get("kind", "")),
        "warmers_c": typed(start.get("warmers_c"), "degC", units),
        "on_min": typed(start.get("on_min"), "min", units),
        "off_min": typed(start.get("off_min"), "min", units),
        "in_sun": "sun" if start.get("in_sun") else "shade",
    }


def entry_of(row: Row, units: str) -> dict[str, Any]:
    """Return a row as a session of a day's file; raises InputError for what is no number."""
    name = row["name"]
    entry = {
        "name": name,
        "group": row["group"],
        "at": row["at"],
        "minutes": number(row["minutes"], f"{name} minutes", "min", units),
        "laps": whole(row["laps"], f"{name} laps"),
    }
    return stated(entry) | ({"start": _start(row, units)} if row["kind"] else {})


def _start(row: Row, units: str) -> dict[str, Any]:
    """Return what a kind of start takes of the fields that are there; the others do not count."""
    given = {
        "warmers_c": number(row["warmers_c"], f"{row['name']} warmers", "degC", units),
        "on_min": number(row["on_min"], f"{row['name']} minutes on", "min", units),
        "off_min": number(row["off_min"], f"{row['name']} minutes off", "min", units),
        "in_sun": row["in_sun"] == "sun",
    }
    return {"kind": row["kind"], **stated({key: given[key] for key in _TAKES.get(row["kind"], ())})}


def _keep(pk: int, wanted: list[tuple[str, dict[str, Any]]], who: Person) -> None:
    """Keep the sessions that are wanted and no others, as one change."""
    with changing(pk, who):
        kept = {was for was, _ in wanted if was}
        for run in days.runs(pk):
            if run.name not in kept:
                days.remove_run(pk, run.name, who)
        for was, entry in wanted:
            days.save_run(pk, entry, who, was=was or None)


def _page(request: HttpRequest, pk: int, rows: list[Row], fault: InputError | None = None) -> HttpResponse:
    names = [group.name for group in days.groups(pk)]
    typed_in = request.POST if "rounds" in request.POST else {}
    more = {
        "rows": rows,
        "names": names,
        "kinds": KINDS,
        "turn": {**FIRST, **{key: typed_in[key] for key in FIRST if key in typed_in}},
        "fault": fault,
    }
    return day_page(request, pk, "days/sessions.html", more, status=400 if fault else 200)
