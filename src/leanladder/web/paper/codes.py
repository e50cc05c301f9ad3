"""The sheet of codes: what each rider scans to open their card, group by group."""

from __future__ import annotations

import io

import segno
from django.urls import reverse

from leanladder import sheets
from leanladder.domain.day import Day
from leanladder.domain.paper import CodeSheet, RiderCode
from leanladder.records import links

PATH = "card-codes.pdf"


def codes_of(day_pk: int, day: Day, host: str, language: str) -> dict[str, bytes]:
    """Return the sheet of riders' codes as a file, a page a group; none for a day without riders."""
    pages = tuple(
        CodeSheet(
            school=day.school,
            date=day.date,
            group=group.name,
            language=language,
            address=f"http://{host}",
            codes=tuple(
                RiderCode(rider.name, rider.machine, code_svg(link_address(day_pk, rider.name, host)))
                for rider in day.riders
                if rider.group == group.name
            ),
        )
        for group in day.groups
        if any(rider.group == group.name for rider in day.riders)
    )
    return {PATH: sheets.codes_pdf(pages)} if pages else {}


def link_address(day_pk: int, rider: str, host: str) -> str:
    """Return the address of a rider's card."""
    return f"http://{host}{reverse('card', args=[links.token(links.link_for(day_pk, rider))])}"


def code_svg(address: str) -> str:
    """Return the code of an address as SVG, one ink."""
    made = io.BytesIO()
    segno.make(address, error="m", micro=False).save(
        made, kind="svg", border=4, xmldecl=False, svgclass=None, lineclass=None
    )
    return made.getvalue().decode()
