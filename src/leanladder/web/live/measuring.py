"""Measured now: figures beside how they are known, and one tap to change them."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from leanladder.records import days
from leanladder.records import live as happening
from leanladder.records.models import Day, Person
from leanladder.web.access import coach_or_head
from leanladder.web.live.board import LATE, Now, RunState
from leanladder.web.live.clock import local, local_now, rolls_at
from leanladder.web.live.figures import CLOUDS, WINDS_MPS, Units, nearest, units_of
from leanladder.web.live.reach import own_runs
from leanladder.web.live.working import roads, working
from leanladder.web.mine import person_of


class Shown(NamedTuple):
    """A temperature as it stands on the page: the figure, how it is known, its neighbours for one tap."""

    name: str
    figure: int | None
    origin: str
    less: int
    more: int


class Measured(NamedTuple):
    """What the page shows as measured, and for which run it is kept; none for all that roll soon."""

    temperatures: tuple[Shown, ...]
    cloud: str
    wind: str
    seen_dry: bool
    at: str
    for_run: str


def measured_now(now: Now, units: Units, run: RunState | None, *, for_run: str = "") -> Measured:
    """Return what is known by measuring, figure by figure, else what the ladders rest on."""
    name = "" if run is None else run.name
    known = happening.measured(now.day.pk, name)
    road = roads(now.day.pk, now.working).get(name)
    return Measured(
        temperatures=(
            _shown("track_c", known.track_c, None if road is None else (road.track_c, road.origin), units),
            _shown("air_c", known.air_c, None if road is None else (road.air_c, "assumed"), units),
        ),
        cloud=nearest(known.cloud, CLOUDS),
        wind=nearest(known.wind_mps, WINDS_MPS),
        seen_dry=known.seen_dry,
        at="" if known.at is None else local(known.at, now.day),
        for_run=for_run,
    )


def _shown(name: str, measured_c: float | None, rests_on: tuple[float, str] | None, units: Units) -> Shown:
    if measured_c is None and rests_on is None:
        return Shown(name, None, "assumed", 0, 0)
    value_c, origin = (measured_c, "measured") if measured_c is not None else rests_on or (0.0, "")
    figure = units.warm(value_c)
    return Shown(name, figure, origin, figure - 1, figure + 1)


@coach_or_head
@require_POST
def measure(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep what someone measured or saw just now; the ladders follow, what was given out stays."""
    person, day = person_of(request), days.day(pk)
    readings = _readings(request, units_of(person.units))
    seen_dry = request.POST.get("seen_dry") == "1"
    for name in _for_runs(day, person, request.POST.get("for_run", "")):
        happening.measure(pk, person, run_name=name, seen_dry=seen_dry, **readings)
    working(pk)
    return back(request, pk)


def _readings(request: HttpRequest, units: Units) -> dict[str, float | None]:
    post = request.POST
    return {
        "track_c": units.typed_c(post.get("track_c", ""), "track_c"),
        "air_c": units.typed_c(post.get("air_c", ""), "air_c"),
        "cloud": CLOUDS.get(post.get("cloud", "")),
        "wind_mps": WINDS_MPS.get(post.get("wind", "")),
    }


def _for_runs(day: Day, person: Person, named: str) -> list[str]:
    """The runs that a reading is for by name; none for all that roll soon.

    A reading without a run is for what rolls after it: one that is late by now takes it by name too.
    """
    own = own_runs(day.pk, person)
    if named:
        return [run.name for run in own if run.name == named]
    at: datetime = local_now(day)
    late = [run.name for run in own if _late(rolls_at(day, run.at), at)]
    return ["", *late]


def _late(rolls: datetime, at: datetime) -> bool:
    return rolls < at <= rolls + LATE


def back(request: HttpRequest, pk: int) -> HttpResponse:
    """Return to the page that a form was sent from, else to the day's live page."""
    wanted = request.POST.get("back", "")
    if wanted.startswith("/") and url_has_allowed_host_and_scheme(wanted, allowed_hosts=None):
        return redirect(wanted)
    return redirect("live", pk)
