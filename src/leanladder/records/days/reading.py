"""Days, groups and runs as they are on record."""

from __future__ import annotations

from leanladder.records.checking import Written
from leanladder.records.day_content import content_of_day, day_of
from leanladder.records.models import Day, Group, Place, Run


def days() -> list[Day]:
    """Return the days on record, the latest first, each with its circuit but for the line."""
    return list(Day.objects.select_related("circuit").defer("circuit__line"))


def day(day_pk: int) -> Day:
    """Return a day; raises InputError where there is none."""
    return day_of(day_pk)


def groups(day_pk: int) -> list[Group]:
    """Return a day's groups in order."""
    return list(Group.objects.filter(day=day_pk))


def places(day_pk: int) -> list[Place]:
    """Return who goes out in which group on a day, with rider, group and machine, in order."""
    return list(Place.objects.filter(group__day=day_pk).select_related("group", "rider", "machine"))


def runs(day_pk: int) -> list[Run]:
    """Return a day's runs with their groups, by time."""
    found = Run.objects.filter(day=day_pk).select_related("group")
    return sorted(found, key=lambda run: run.at.rjust(8 if run.at.count(":") > 1 else 5, "0"))


def written_day(day_pk: int) -> Written:
    """Return a day's tables as its file would have them, whether or not they make a whole day yet."""
    return content_of_day(day_of(day_pk))
