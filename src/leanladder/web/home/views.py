"""The first page: the days, the next one first; without any, what to do first."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from leanladder.records import days
from leanladder.records.models import Day, Person
from leanladder.sheets.said import dated
from leanladder.web.access import coach_or_head
from leanladder.web.days.steps import first_steps
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of

MOST = 60


@coach_or_head
@require_GET
def home(request: HttpRequest) -> HttpResponse:
    """Show the days of who asks, and the ways to a first or another one."""
    person, language = person_of(request), language_of(request)
    known = [day for day in days.days()[:MOST] if sees(person, day)]
    today = timezone.localdate()
    coming = min(
        (day for day in known if day.date >= today), key=lambda day: (day.date, day.pk), default=None
    )
    more = {
        "days": [(day, _when(day, coming, today), dated(day.date, language)) for day in known],
        "steps": first_steps() if person.is_head else [],
    }
    return render(request, "home/home.html", more)


def sees(person: Person, day: Day) -> bool:
    """Return whether a day has anything for someone: all for the head instructor, else a group of theirs."""
    return person.is_head or any(person.coach_name in group.coaches for group in day.groups.all())


def _when(day: Day, coming: Day | None, today: date) -> str:
    if day.date == today:
        return "today"
    return "next" if day == coming else "past" if day.date < today else ""
