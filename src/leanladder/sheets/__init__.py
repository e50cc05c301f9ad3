"""Pages as PDF, from what stands on paper."""

from leanladder.sheets.briefing import briefing_pdf
from leanladder.sheets.card import cards_pdf
from leanladder.sheets.coach import coach_pdf
from leanladder.sheets.codes import codes_pdf
from leanladder.sheets.documents import document_pdf
from leanladder.sheets.lists import choice_pdf, list_pdf
from leanladder.sheets.procedure import procedure_pdf

__all__ = [
    "briefing_pdf",
    "cards_pdf",
    "choice_pdf",
    "coach_pdf",
    "codes_pdf",
    "document_pdf",
    "list_pdf",
    "procedure_pdf",
]
