"""Pages as PDF, from what stands on paper."""

from leanladder.sheets.coach import coach_pdf

__all__ = ["coach_pdf"]
