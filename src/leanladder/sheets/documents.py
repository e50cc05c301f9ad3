"""A day's documents as PDF, each by what stands on its pages."""

from __future__ import annotations

from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import (
    Briefing,
    CoachSheet,
    DayList,
    Document,
    NoCard,
    NoSheet,
    Procedure,
    RiderCard,
    SetChoice,
)
from leanladder.sheets.briefing import briefing_pdf
from leanladder.sheets.card import cards_pdf
from leanladder.sheets.coach import coach_pdf
from leanladder.sheets.lists import choice_pdf, list_pdf
from leanladder.sheets.procedure import procedure_pdf


def document_pdf(document: Document) -> bytes:
    """Return a document as PDF; raises LeanladderError where it has no page or more than fits on one."""
    pages = document.pages
    if isinstance(pages, DayList):
        return list_pdf(pages)
    if isinstance(pages, SetChoice):
        return choice_pdf(pages)
    if isinstance(pages, Procedure):
        return procedure_pdf(pages)
    sheets = [page for page in pages if isinstance(page, CoachSheet | NoSheet)]
    if sheets:
        return coach_pdf(sheets)
    briefings = [page for page in pages if isinstance(page, Briefing)]
    if briefings:
        return briefing_pdf(briefings)
    cards = [page for page in pages if isinstance(page, RiderCard | NoCard)]
    if cards:
        return cards_pdf(cards)
    raise LeanladderError(f"there is nothing to print: {document.path}")
