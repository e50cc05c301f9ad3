"""Pages of words: on one page, without a number."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, Literal

import pytest

from leanladder.planning.procedures import procedure
from leanladder.sheets import procedure_pdf

Kind = Literal["wet", "drying", "open_road"]
Reads = Callable[[bytes], Any]


@pytest.mark.parametrize(
    ("kind", "title"), [("wet", "Wet track"), ("drying", "Drying track"), ("open_road", "On the open road")]
)
def test_a_procedure_is_one_page_of_words(kind: Kind, title: str, read: Reads) -> None:
    page = read(procedure_pdf(procedure(kind, "en")))
    assert page.sizes == [(210, 297)]
    assert title in page.texts[0]
    assert "Guide only." in page.texts[0]
    assert not re.search(r"\d", page.texts[0])
    assert ("Cards with numbers do not count here." in page.texts[0]) is (kind != "open_road")


def test_the_same_procedure_gives_the_same_bytes() -> None:
    assert procedure_pdf(procedure("wet", "en")) == procedure_pdf(procedure("wet", "en"))
