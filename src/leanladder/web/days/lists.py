"""The head instructor's lists as pages, in the words of the paper; ticks stay in this browser."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from leanladder.domain.paper import DayList, PressureRow
from leanladder.planning import lists as planned
from leanladder.records import days, stable
from leanladder.sheets.lists import list_data
from leanladder.units.convert import convert
from leanladder.web import plans
from leanladder.web.access import head_only
from leanladder.web.days.looked import assumed, look_at, opened
from leanladder.web.days.page import address, day_page, units_of
from leanladder.web.days.steps import fault_of
from leanladder.web.frame import language_of
from leanladder.web.paper.kept import evening_list_of

KINDS = ("evening", "morning")
NONE = "\N{EN DASH}"


@head_only
@require_GET
def index(request: HttpRequest, pk: int) -> HttpResponse:
    """Show which lists there are."""
    return day_page(request, pk, "days/lists.html", {})


@head_only
@require_GET
def one(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    """Show the evening's list or the morning's, or how far the ladders are that it needs."""
    if kind not in KINDS:
        raise Http404
    looked = look_at(pk)
    if looked.fault is not None:
        missing = {"kind": kind, "fault": fault_of(pk, looked), "not_whole": True}
        return day_page(request, pk, "days/list.html", missing)
    found = plans.worked(pk)
    if found is None:
        return day_page(request, pk, "days/list.html", {"kind": kind, "progress": plans.progress(pk)})
    made = _made(pk, kind, found, language_of(request))
    told: Mapping[str, Any] = list_data(made[0])
    table = told["pressures"] or {"rows": []}
    more = {
        "kind": kind,
        "list": told,
        "after": told["pressures-after"],
        "pressures": pressure_rows(made[0], table["rows"], units_of(request)),
        "likely_only": made[1],
    }
    return day_page(request, pk, "days/list.html", more)


def _made(pk: int, kind: str, found: plans.Worked, language: str) -> tuple[DayList, bool]:
    """A list, and whether it knows of the likely air alone."""
    if kind == "morning":
        return planned.morning_list(found.day, found.circuit, found.entries, language), False
    kept = evening_list_of(pk, language)
    if kept is not None:
        return kept, False
    with opened(pk) as day:
        return planned.evening_list(day, found.circuit, {"likely": found.entries}, language), True


def pressure_rows(page: DayList, worded: Sequence[Mapping[str, Any]], units: str) -> list[dict[str, Any]]:
    """Return the rows of the table of pressures: as on paper, or in psi and degF.

    Rounded up to what a gauge is read to, never under a minimum. Notes stay as on paper, in bar.
    """
    rows = [dict(row) for row in worded]
    if units != "imperial":
        return rows
    return [
        {**told, **_imperial(row, str(told["gauge"]))} for row, told in zip(page.pressures, rows, strict=True)
    ]


def _imperial(row: PressureRow, gauge: str) -> dict[str, Any]:
    offset = "" if not row.offset_bar else f"{convert(abs(row.offset_bar), 'bar', 'psi'):.1f}"
    return {
        "now": [_psi(row.front_bar), _psi(row.rear_bar)],
        "minimum": [_psi(row.minimum_front_bar), _psi(row.minimum_rear_bar)],
        "home": [_psi(row.home_front_bar), _psi(row.home_rear_bar)],
        "set": f"{convert(row.set_c, 'degC', 'degF'):.0f} °F",
        "gauge": gauge.replace(f"{abs(row.offset_bar):.2f}", offset) if row.offset_bar else gauge,
    }


def _psi(bar: float | None) -> str:
    return NONE if bar is None else f"{-(-convert(bar, 'bar', 'psi') * 10 // 1) / 10:.1f}"


@head_only
@require_GET
def assumptions(request: HttpRequest, pk: int) -> HttpResponse:
    """Show all that a plan of the day would assume, each with the page that says otherwise."""
    looked = look_at(pk)
    places = {
        "weather": address("day_weather", pk),
        "groups": address("day_groups", pk),
        "sessions": address("day_sessions", pk),
        "head": address("day_head", pk),
        "riders": address("riders"),
        "circuit": "" if looked.day is None else address("circuit", days.day(pk).circuit_id),
    }
    own = {("machine", each.name): address("machine", each.pk) for each in stable.machines()}
    own |= {("rider", each.name): address("rider", each.pk) for each in stable.riders()}
    known = () if looked.circuit is None else assumed(pk, looked.circuit, language_of(request))
    found = [
        (
            each,
            [
                (words, own.get((place, each.name or ""), places.get(place, "")), place)
                for words, place in each.lines
            ],
        )
        for each in known
    ]
    return day_page(request, pk, "days/assumed.html", {"assumed": found, "fault": fault_of(pk, looked)})
