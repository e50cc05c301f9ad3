"""Documents as PDF, each by what stands on its pages."""

from __future__ import annotations

import pytest

from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import Document
from leanladder.planning.procedures import procedure
from leanladder.sheets import document_pdf, procedure_pdf


def test_a_document_is_set_by_what_stands_on_it() -> None:
    page = procedure("wet", "en")
    assert document_pdf(Document("procedure-wet.pdf", page)) == procedure_pdf(page)


def test_a_document_without_a_page_is_none() -> None:
    with pytest.raises(LeanladderError):
        document_pdf(Document("cards.pdf", ()))
