"""What the pages of a day share: its head, where its other pages are, keeping part of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import NoReverseMatch, reverse

from leanladder.records import days
from leanladder.records.days.editing import HEAD_KEYS
from leanladder.records.models import Day, Person
from leanladder.sheets.said import dated
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of

# Pages of a day by wording code, the name of their address, and whether they are the head instructor's alone.
PAGES = (
    ("day", "day", False),
    ("weather", "day_weather", True),
    ("groups", "day_groups", True),
    ("sessions", "day_sessions", True),
    ("ladders", "day_ladders", False),
    ("live", "live", False),
    ("lists", "day_lists", True),
    ("paper", "paper", True),
)


def address(name: str, *given: object) -> str:
    """Return an address by its name, empty where no page has it."""
    try:
        return reverse(name, args=given)
    except NoReverseMatch:
        return ""


def units_of(request: HttpRequest) -> str:
    """Return the units of who asks."""
    return person_of(request).units


def day_page(
    request: HttpRequest, pk: int, template: str, more: Mapping[str, Any], *, status: int = 200
) -> HttpResponse:
    """Return a page of a day; raises InputError where there is no such day."""
    day = days.day(pk)
    imperial = units_of(request) == "imperial"
    shared = {
        "day": day,
        "dated": dated(day.date, language_of(request)),
        "pages": pages(request, pk),
        "degrees": "°F" if imperial else "°C",
        "speed": "mph" if imperial else "m/s",
    }
    return render(request, template, {**shared, **more}, status=status)


def pages(request: HttpRequest, pk: int) -> list[tuple[str, str, bool]]:
    """Return the pages of a day that someone may see: code, address, whether it is this one."""
    is_head = person_of(request).is_head
    found = ((code, address(name, pk)) for code, name, head in PAGES if is_head or not head)
    return [(code, where, where == request.path) for code, where in found if where]


def head_of(day: Day) -> dict[str, Any]:
    """Return the head of a day as its file writes it."""
    written = days.written_day(day.pk)
    return {key: written[key] for key in HEAD_KEYS if key in written}


def keep_head(pk: int, who: Person, **changed: object) -> Day:
    """Keep a day's head with something changed in it; raises InputError."""
    day = days.day(pk)
    return days.save_day({**head_of(day), **changed}, day.circuit_id, who, day_pk=pk)
