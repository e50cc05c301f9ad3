"""The page of a day's weather, hour by hour."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from leanladder.domain.errors import InputError
from leanladder.records import days
from leanladder.web.access import head_only
from leanladder.web.days.fields import Row, clock, number, rows_of, stated, typed, without
from leanladder.web.days.page import day_page, keep_head, units_of
from leanladder.web.mine import person_of

KEYS = ("at", "air_c", "air_cold_c", "air_mild_c", "track_c", "cloud", "wind_mps", "humidity_pct", "road")
ROADS = ("dry", "damp", "wet", "drying")
_UNITS = {"air_c": "degC", "air_cold_c": "degC", "air_mild_c": "degC", "track_c": "degC", "wind_mps": "m/s"}
# What a fault calls a field.
_NAMES = {
    "air_c": "air", "air_cold_c": "air if cold", "air_mild_c": "air if mild", "track_c": "track",
    "wind_mps": "wind",
}  # fmt: skip
_PER_CENT = 100.0


@head_only
@require_http_methods(["GET", "POST"])
def weather(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a day's weather by hour, and keep it; rows come and go without anything being kept yet."""
    units = units_of(request)
    if request.method != "POST":
        rows = [row_of(entry, units) for entry in days.day(pk).weather] or [dict.fromkeys(KEYS, "")]
        return _page(request, pk, rows)
    rows = rows_of(request.POST, KEYS)
    if "remove" in request.POST:
        return _page(request, pk, without(rows, request.POST["remove"]))
    if request.POST.get("do") == "add":
        return _page(request, pk, [*rows, next_row(rows)])
    try:
        entries = [entry_of(row, units) for row in rows if any(row.values())]
        keep_head(pk, person_of(request), weather=sorted(entries, key=lambda entry: str(entry.get("at"))))
    except InputError as fault:
        return _page(request, pk, rows, fault)
    return redirect("day", pk)


def row_of(entry: Mapping[str, Any], units: str) -> Row:
    """Return an entry of a day's file as it stands in the fields of a row."""
    row = {key: "" if entry.get(key) is None else str(entry[key]) for key in KEYS}
    row |= {key: typed(entry.get(key), unit, units) for key, unit in _UNITS.items()}
    row["at"] = clock(row["at"])
    row["cloud"] = f"{entry['cloud'] * _PER_CENT:g}" if entry.get("cloud") is not None else ""
    row["humidity_pct"] = f"{entry['humidity_pct']:g}" if entry.get("humidity_pct") is not None else ""
    return row


def entry_of(row: Row, units: str) -> dict[str, Any]:
    """Return a row as an entry of a day's file; raises InputError for what is no number."""
    cloud = number(row["cloud"], f"{row['at']} cloud", "%", units)
    entry: dict[str, Any] = {"at": clock(row["at"]), "road": row["road"]}
    entry |= {
        key: number(row[key], f"{row['at']} {_NAMES[key]}", unit, units) for key, unit in _UNITS.items()
    }
    entry["cloud"] = None if cloud is None else cloud / _PER_CENT
    entry["humidity_pct"] = number(row["humidity_pct"], f"{row['at']} humidity", "%", units)
    return stated(entry)


def next_row(rows: list[Row]) -> Row:
    """Return a row an hour after the last, with its figures; a measured track is not carried on."""
    if not rows:
        return dict.fromkeys(KEYS, "")
    last = rows[-1]
    hour, _, minute = last["at"].partition(":")
    later = f"{int(hour) + 1:02}:{minute}" if hour.isdigit() and int(hour) < 23 else ""
    return {**last, "at": later, "track_c": "", "road": ""}


def _page(request: HttpRequest, pk: int, rows: list[Row], fault: InputError | None = None) -> HttpResponse:
    more = {"rows": rows, "roads": ROADS, "fault": fault}
    return day_page(request, pk, "days/weather.html", more, status=400 if fault else 200)
