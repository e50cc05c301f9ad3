"""The typesetter: the same bytes each time, our font alone, no time of making."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader

from leanladder.sheets import typesetter

DATA = {"title": "Ünder the hëdge", "language": "en", "pages": []}


@pytest.fixture(autouse=True)
def _one_page(monkeypatch: pytest.MonkeyPatch) -> None:
    page = (
        '#import "theme.typ": *\n#show: sheet.with(title: data.title)\n'
        '#data.title *bold* #told("9 °C", "measured") #picture("a.svg")\n'
    )
    known = dict(typesetter._templates()) | {"one.typ": page.encode()}
    monkeypatch.setattr(typesetter, "_templates", lambda: known)


def svg(word: str) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="50" height="20">'
        f'<text x="0" y="15" font-family="Source Sans Pro" font-size="12">{word}</text></svg>'
    )


def made(word: str = "drawn") -> bytes:
    return typesetter.typeset("one.typ", DATA, {"a.svg": svg(word)})


def test_the_same_data_give_the_same_bytes() -> None:
    assert made() == made()
    assert made() != made("other")


def test_text_of_page_and_drawing_stands_in_the_pdf() -> None:
    text = PdfReader(BytesIO(made())).pages[0].extract_text()
    for words in ("Ünder the hëdge", "9 °C", "drawn"):
        assert words in text


def test_no_time_and_no_person_in_the_file() -> None:
    told = PdfReader(BytesIO(made())).metadata
    assert told is not None
    assert set(told) <= {"/Title", "/Creator"}


def test_only_the_font_that_ships_is_used() -> None:
    fonts = PdfReader(BytesIO(made())).pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    names = {str(font.get_object()["/BaseFont"]) for font in fonts.values()}
    assert names
    assert all("SourceSansPro" in name for name in names)


def test_pictures_for_looking_are_png() -> None:
    (page,) = typesetter.pages_png("one.typ", DATA, {"a.svg": svg("x")}, ppi=30)
    assert page.startswith(b"\x89PNG")


def test_an_unknown_template_is_an_error() -> None:
    with pytest.raises(FileNotFoundError, match="nothing"):
        typesetter.typeset("nothing.typ", DATA)


def test_every_template_that_ships_imports_the_theme() -> None:
    templates = typesetter._templates()
    assert {"theme.typ", "coach.typ"} <= set(templates)
    for name, text in templates.items():
        assert name == "theme.typ" or b'#import "theme.typ"' in text
        assert b"@preview" not in text
