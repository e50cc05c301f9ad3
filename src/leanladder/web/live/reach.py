"""What of a day someone may look at and act on: coaches their own groups' runs."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.http import Http404

from leanladder.records import days
from leanladder.records.models import Given, Group, Person, Run


def own_runs(day_pk: int, person: Person) -> list[Run]:
    """Return the runs of a day that someone may see, by time."""
    return [run for run in days.runs(day_pk) if owns(run.group, person)]


def own_groups(day_pk: int, person: Person) -> list[Group]:
    """Return the groups of a day that someone may see, in the day's order."""
    return [group for group in days.groups(day_pk) if owns(group, person)]


def owns(group: Group, person: Person) -> bool:
    """Return whether a group is someone's: all are the head instructor's."""
    return person.is_head or person.coach_name in group.coaches


def run_of(day_pk: int, run_pk: int, person: Person) -> Run:
    """Return a run by its key; raises Http404 without one, PermissionDenied for another coach's."""
    run = next((each for each in days.runs(day_pk) if each.pk == run_pk), None)
    if run is None:
        raise Http404
    if not owns(run.group, person):
        raise PermissionDenied
    return run


def check_given(given: Given, day_pk: int, person: Person) -> None:
    """Raise Http404 for what another day gave out, PermissionDenied for another coach's run."""
    if given.day_id != day_pk:
        raise Http404
    if not person.is_head and given.run_name not in {run.name for run in own_runs(day_pk, person)}:
        raise PermissionDenied
