"""Riders' links: a code to scan each, when their phone asked last, taken back and made anew."""

from __future__ import annotations

import io
from typing import NamedTuple

import segno
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_GET, require_POST

from leanladder.records import days, latest, links
from leanladder.records.models import Group, Link, Place
from leanladder.web.access import coach_or_head
from leanladder.web.live.clock import local
from leanladder.web.live.measuring import back
from leanladder.web.live.reach import own_groups
from leanladder.web.mine import person_of
from leanladder.web.serve import own_address

THIS_LAPTOP = frozenset({"localhost", "127.0.0.1", "[::1]"})


class Row(NamedTuple):
    """A rider on the page: link, code as a drawing, address, and when their phone asked last."""

    rider: str
    machine: str
    link_pk: int
    code: str
    address: str
    seen: str


@coach_or_head
@require_GET
def cards(request: HttpRequest, pk: int) -> HttpResponse:
    """Show every rider's code and link, by group."""
    groups = own_groups(pk, person_of(request))
    return render(request, "live/cards.html", {"day": days.day(pk), "groups": _parts(request, pk, groups)})


@coach_or_head
@require_GET
def card_sheet(request: HttpRequest, pk: int, group_pk: int) -> HttpResponse:
    """Show a group's codes to be printed and cut apart."""
    group = next((each for each in own_groups(pk, person_of(request)) if each.pk == group_pk), None)
    if group is None:
        raise Http404
    return render(request, "live/sheet.html", {"day": days.day(pk), "groups": _parts(request, pk, [group])})


@coach_or_head
@require_POST
def anew(request: HttpRequest, pk: int, link_pk: int) -> HttpResponse:
    """Take a rider's link back for good, and make another one."""
    person = person_of(request)
    link = next((each for each in links.links(pk) if each.pk == link_pk), None)
    riders = {place.rider.name for _, some in _places(pk, own_groups(pk, person)) for place in some}
    if link is None or link.rider_name not in riders:
        raise Http404
    links.revoke(link, person, reason=request.POST.get("reason", ""))
    links.link_for(pk, link.rider_name)
    return back(request, pk)


def _parts(request: HttpRequest, pk: int, groups: list[Group]) -> list[tuple[Group, list[Row]]]:
    day, there = days.day(pk), {each.rider_name: each for each in links.links(pk)}
    some = _places(pk, groups)
    for _, places in some:
        for place in places:
            name = place.rider.name
            if name not in there:
                there[name] = links.link_for(pk, name)
    seen = latest.last_seen(each.pk for each in there.values())
    host = host_of(request)
    parts = []
    for group, places in some:
        rows = [_row(place, there[place.rider.name], host) for place in places]
        known = {key: local(at, day) for key, at in seen.items()}
        parts.append((group, [row._replace(seen=known.get(row.link_pk, "")) for row in rows]))
    return parts


def _places(pk: int, groups: list[Group]) -> list[tuple[Group, list[Place]]]:
    places = days.places(pk)
    return [(group, [each for each in places if each.group_id == group.pk]) for group in groups]


def _row(place: Place, link: Link, host: str) -> Row:
    address = f"http://{host}{reverse('card', args=[links.token(link)])}"
    machine = place.machine.name if place.machine else str(place.rider.written.get("machine", ""))
    return Row(place.rider.name, machine, link.pk, code_svg(address), address, "")


def host_of(request: HttpRequest) -> str:
    """Return the name or address under which phones reach this laptop, with its port."""
    name, _, port = request.get_host().rpartition(":")
    if not name or not port.isdigit():
        name, port = request.get_host(), ""
    if name not in THIS_LAPTOP:
        return request.get_host()
    return f"{own_address()}:{port}" if port else own_address()


def code_svg(address: str) -> str:
    """Return the code of an address as SVG to stand in a page, one ink and no style."""
    made = io.BytesIO()
    segno.make(address, error="m", micro=False).save(
        made, kind="svg", border=4, xmldecl=False, svgns=False, svgclass="qr", lineclass=None, omitsize=True
    )
    return mark_safe(made.getvalue().decode())  # noqa: S308  # drawn from our own address
