"""The sheets of riders' codes."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import CodeSheet, RiderCode
from leanladder.sheets.codes import codes_data, codes_pdf

CODE = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9H0z"/></svg>'


def sheet(group: str, riders: int, language: str = "en") -> CodeSheet:
    codes = tuple(RiderCode(f"rider {number}", f"{number}", CODE) for number in range(riders))
    return CodeSheet("Ours", date(2026, 4, 12), group, language, "http://10.0.0.9:8571", codes)


def test_a_group_begins_a_page_and_twelve_riders_fill_one() -> None:
    pages = PdfReader(BytesIO(codes_pdf((sheet("larks", 12), sheet("plovers", 2))))).pages
    assert len(pages) == 2
    words = [page.extract_text() for page in pages]
    assert "Group larks" in words[0]
    assert all(f"rider {number}\n" in words[0] for number in range(12))
    assert "Group plovers" in words[1]
    assert "10.0.0.9:8571" in words[1]


def test_more_riders_take_another_page_and_none_is_left_out() -> None:
    pages = PdfReader(BytesIO(codes_pdf((sheet("larks", 20),)))).pages
    words = "".join(page.extract_text() for page in pages)
    assert len(pages) == 2
    assert all(f"rider {number}\n" in words for number in range(20))


def test_the_page_speaks_the_language_and_says_who_has_not_reviewed_it() -> None:
    told = codes_data((sheet("larks", 1, "de"),))
    assert told["title"] == "Codes der Fahrerkarten"
    assert len(told["foot"]) == 2  # type: ignore[arg-type]  # a list of lines


def test_without_a_group_there_is_nothing_to_print() -> None:
    with pytest.raises(LeanladderError):
        codes_pdf(())
