"""The page of a day's coaches, groups, and who goes out in which on what."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from typing import NamedTuple

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from leanladder import catalogue, wording
from leanladder.domain.errors import InputError
from leanladder.records import days, stable
from leanladder.records.day_content import changing
from leanladder.records.models import Group, Person, Place, Rider
from leanladder.web.access import head_only
from leanladder.web.days.fields import Row, rows_of
from leanladder.web.days.page import address, day_page, keep_head
from leanladder.web.mine import person_of

PLACE_KEYS = ("rider", "group", "machine", "level")
COACH_KEYS = ("coach", "language")


class Out(NamedTuple):
    """A rider as the page has them: group, machine and level of the day, and which are their own."""

    rider: Rider
    group: str
    machine: str
    level: str
    own_machine: str
    own_level: str


@head_only
@require_GET
def groups(request: HttpRequest, pk: int) -> HttpResponse:
    """Show who goes out in which group, on what, led by whom."""
    return _page(request, pk)


@head_only
@require_POST
def keep_coaches(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep the day's coaches and their languages; the last row adds one."""
    rows = [row for row in rows_of(request.POST, COACH_KEYS) if row["coach"]]
    entries = [{"name": row["coach"], "language": row["language"] or "en"} for row in rows]
    return _tried(request, pk, lambda who: keep_head(pk, who, coaches=entries))


@head_only
@require_POST
def keep_group(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep a group, new or the one called was: its name and coaches; or move it up, or take it away."""
    was, name = request.POST.get("was", ""), request.POST.get("name", "").strip()
    coaches = request.POST.getlist("coaches")

    def change(who: Person) -> None:
        match request.POST.get("do"):
            case "up":
                days.order_groups(pk, _one_up([each.name for each in days.groups(pk)], was), who)
            case "remove":
                days.remove_group(pk, was, who)
            case _:
                days.save_group(pk, name, coaches, who, was=was or None)

    return _tried(request, pk, change)


@head_only
@require_POST
def keep_places(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep who goes out in which group, on which machine, at which level: all rows at once."""
    rows = rows_of(request.POST, PLACE_KEYS)
    spare = request.POST.getlist("spare")

    def change(who: Person) -> None:
        with changing(pk, who):
            _place(pk, rows, who)
            _bring(pk, spare, who)

    return _tried(request, pk, change)


@head_only
@require_POST
def by_level(request: HttpRequest, pk: int) -> HttpResponse:
    """Make a group a level of every rider on record; who shares a machine with another of it stays out."""

    def change(who: Person) -> None:
        with changing(pk, who):
            for level in catalogue.level_names():
                riders = [each for each in stable.riders() if each.written.get("level") == level]
                if riders:
                    days.save_group(pk, level, [], who)
                for each in riders:
                    with contextlib.suppress(InputError), transaction.atomic():
                        days.place(pk, level, each.name, who)

    return _tried(request, pk, change)


def _tried(request: HttpRequest, pk: int, change: Callable[[Person], object]) -> HttpResponse:
    try:
        with transaction.atomic():
            change(person_of(request))
    except InputError as fault:
        return _page(request, pk, fault)
    return redirect("day_groups", pk)


def _page(request: HttpRequest, pk: int, fault: InputError | None = None) -> HttpResponse:
    day = days.day(pk)
    placed = {each.rider.name: each for each in days.places(pk)}
    there = {each.machine.name for each in day.brought.select_related("machine")}
    outs = [_out(each, placed.get(each.name)) for each in stable.riders()]
    groups = days.groups(pk)
    more = {
        "groups": [(each, [out for out in outs if out.group == each.name]) for each in groups],
        "names": [each.name for each in groups],
        "outs": sorted((out for out in outs if out.group), key=lambda out: _order(out, groups)),
        "rest": [out for out in outs if not out.group],
        "machines": stable.machines(),
        "spare": [(each, each.name in there) for each in stable.machines() if not _ridden(each.name, outs)],
        "levels": catalogue.level_names(),
        "languages": wording.languages(),
        "riders_where": address("riders_paste") or address("riders"),
        "fault": fault,
    }
    return day_page(request, pk, "days/groups.html", more, status=400 if fault else 200)


def _order(out: Out, groups: list[Group]) -> tuple[int, str]:
    return next(at for at, group in enumerate(groups) if group.name == out.group), out.rider.name


def _ridden(machine: str, outs: list[Out]) -> bool:
    return any(out.group and machine == (out.machine or out.own_machine) for out in outs)


def _out(rider: Rider, place: Place | None) -> Out:
    own = (str(rider.written.get("machine", "")), str(rider.written.get("level", "")))
    if place is None:
        return Out(rider, "", "", "", *own)
    machine = "" if place.machine is None else place.machine.name
    return Out(rider, place.group.name, machine, place.level, *own)


def _one_up(names: list[str], name: str) -> list[str]:
    at = names.index(name) if name in names else 0
    if at:
        names[at - 1 : at + 1] = [names[at], names[at - 1]]
    return names


def _place(pk: int, rows: list[Row], who: Person) -> None:
    """Put riders where the rows have them; those who swap machines are taken out first."""
    now = {each.rider.name: each for each in days.places(pk)}
    changed = [row for row in rows if _as_row(now.get(row["rider"])) != row]
    for row in changed:
        if row["rider"] in now and (not row["group"] or _swaps(row, now[row["rider"]])):
            days.unplace(pk, row["rider"], who)
    for row in changed:
        if row["group"]:
            machine, level = row["machine"] or None, row["level"] or None
            days.place(pk, row["group"], row["rider"], who, machine=machine, level=level)


def _as_row(place: Place | None) -> Row:
    if place is None:
        return {}
    machine = "" if place.machine is None else place.machine.name
    return {"rider": place.rider.name, "group": place.group.name, "machine": machine, "level": place.level}


def _swaps(row: Row, place: Place) -> bool:
    return _as_row(place)["machine"] != row["machine"] or place.group.name != row["group"]


def _bring(pk: int, spare: list[str], who: Person) -> None:
    """Bring the machines along that are chosen to spare, and leave those at home that nobody rides."""
    day = days.day(pk)
    there = {each.machine.name for each in day.brought.select_related("machine")}
    ridden = {str(rider_machine(each)) for each in days.places(pk)}
    for name in there - ridden - set(spare):
        days.take_away(pk, name, who)
    for name in [name for name in spare if name not in there]:
        days.bring(pk, name, who)


def rider_machine(place: Place) -> str:
    """Return the machine that someone rides on a day."""
    return str(place.rider.written.get("machine", "")) if place.machine is None else place.machine.name
