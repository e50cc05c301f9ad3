"""Riders' codes as PDF: what each scans to open their card, to be cut apart; a page a group."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import CodeSheet
from leanladder.sheets.said import dated, label, spoken, translation_mark
from leanladder.sheets.typesetter import typeset


def codes_pdf(pages: Sequence[CodeSheet]) -> bytes:
    """Return the sheets of codes, a group a page, more where it must; raises LeanladderError without any."""
    if not pages:
        raise LeanladderError("there is no code to print")
    return typeset("codes.typ", codes_data(pages), codes_pictures(pages))


def codes_data(pages: Sequence[CodeSheet]) -> Mapping[str, object]:
    """Return what the template of codes takes, every text worded."""
    tongue = spoken(pages[0].language)
    mark = translation_mark(tongue)
    return {
        "title": label("codes_page.title", tongue),
        "language": tongue,
        "says": [label(f"codes_page.{code}", tongue) for code in ("cut", "own", "wifi")],
        "foot": [label("page.guide_head", tongue), *([] if mark is None else [mark])],
        "groups": [_group(page, at, tongue) for at, page in enumerate(pages)],
    }


def codes_pictures(pages: Sequence[CodeSheet]) -> Mapping[str, str]:
    """Return the codes by file name."""
    return {
        _name(at, number): code.code
        for at, page in enumerate(pages)
        for number, code in enumerate(page.codes)
    }


def _group(page: CodeSheet, at: int, language: str) -> dict[str, object]:
    figures = {"school": page.school, "date": dated(page.date, language)}
    return {
        "head": label("codes_page.group", language, group=page.group),
        "place": label("codes_page.place", language, **figures),
        "codes": [
            {
                "picture": _name(at, number),
                "rider": code.rider,
                "machine": label("codes_page.machine", language, machine=code.machine),
                "says": label("codes_page.before", language),
                "address": page.address.removeprefix("http://"),
            }
            for number, code in enumerate(page.codes)
        ],
    }


def _name(page: int, number: int) -> str:
    return f"code-{page}-{number}.svg"
