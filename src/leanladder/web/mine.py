"""What is whose: a coach sees the groups that name them."""

from __future__ import annotations

from django.http import HttpRequest

from leanladder.domain.day import Day, DaySession
from leanladder.records.models import Person


def groups_for(person: Person, day: Day) -> frozenset[str]:
    """Return the names of the groups of a day that someone may see."""
    if person.is_head:
        return frozenset(group.name for group in day.groups)
    return frozenset(group.name for group in day.groups if person.coach_name in group.coaches)


def runs_for(person: Person, day: Day) -> tuple[DaySession, ...]:
    """Return the runs of a day that someone may see."""
    mine = groups_for(person, day)
    return tuple(run for run in day.sessions if run.group in mine)


def person_of(request: HttpRequest) -> Person:
    """Return who asks; only for views that signed-in people reach."""
    if not isinstance(request.user, Person):
        raise TypeError("nobody is signed in here")
    return request.user
