"""What to do next towards a first own day: a circuit, riders with machines, the day itself."""

from __future__ import annotations

from typing import NamedTuple

from django.http import HttpRequest
from django.urls import reverse

from leanladder.records.models import Circuit, Day, Rider
from leanladder.web.access import is_head


class Next(NamedTuple):
    """A step: where it is done, and the code of its words."""

    where: str
    code: str


def next_step(request: HttpRequest) -> Next | None:
    """Return the next step, None for who may not take it or where there is a day already."""
    if not is_head(request) or Day.objects.exists():
        return None
    if not Circuit.objects.exists():
        return Next(reverse("circuit_new"), "stable.next_circuit")
    if not Rider.objects.exists():
        return Next(reverse("riders_paste"), "stable.next_riders")
    return Next(reverse("day_new"), "stable.next_day")
