"""What is done where there is no number, as PDF: a page of words."""

from __future__ import annotations

from collections.abc import Mapping

from leanladder.domain.paper import Procedure
from leanladder.sheets.said import all_said, label, spoken, translation_mark
from leanladder.sheets.typesetter import typeset


def procedure_pdf(page: Procedure) -> bytes:
    """Return the page of a procedure, A4, without a number."""
    return typeset("procedure.typ", procedure_data(page))


def procedure_data(page: Procedure) -> Mapping[str, object]:
    """Return what the template of procedures takes, every text worded."""
    tongue = spoken(page.language)
    mark = translation_mark(tongue)
    foot = [label(f"page.{code}", tongue) for code in _foot_codes(page)]
    return {
        "title": label(f"procedure.title_{page.kind}", tongue),
        "language": tongue,
        "void": page.kind != "open_road",
        "says": label(f"procedure.says_{page.kind}", tongue),
        "parts": [
            {"head": label(part.head, tongue), "lines": all_said(part.lines, tongue)} for part in page.parts
        ],
        "foot": foot if mark is None else [*foot, mark],
    }


def _foot_codes(page: Procedure) -> tuple[str, ...]:
    # A leaflet for the road must not say "closed course only".
    return ("guide_road",) if page.kind == "open_road" else ("guide_head", "cards_void")
