"""`leanladder procedure`: words on the terminal, a PDF on request."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest

from leanladder.cli.main import main
from leanladder.cli.procedure import KINDS
from leanladder.wording import text

Printed = pytest.CaptureFixture[str]


@pytest.mark.parametrize("kind", KINDS)
def test_it_prints_the_words(capsys: Printed, kind: str) -> None:
    assert main(["procedure", kind]) == 0
    printed = capsys.readouterr()
    assert printed.err == ""
    assert "There is no number for" in printed.out
    assert "Back to numbers:" in printed.out
    assert max(map(len, printed.out.splitlines())) <= 100


@pytest.mark.parametrize("kind", KINDS)
def test_it_writes_a_pdf_with_the_same_words(capsys: Printed, tmp_path: Path, kind: str) -> None:
    out = tmp_path / "page.pdf"
    assert main(["procedure", kind, "--out", str(out)]) == 0
    assert str(out) in capsys.readouterr().out
    content = out.read_bytes()
    assert content.startswith(b"%PDF")
    said = " ".join(
        " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages).split()
    )
    assert "There is no number for" in said
    assert {"wet": "standing water", "drying": "Dark patches", "open-road": "Meltwater"}[kind] in said


def test_an_unknown_one_brings_the_nearest(capsys: Printed) -> None:
    assert main(["procedure", "open_road"]) == 2
    assert "Did you mean open-road?" in capsys.readouterr().err


def test_a_folder_that_is_not_there_is_told(capsys: Printed, tmp_path: Path) -> None:
    assert main(["procedure", "wet", "--out", str(tmp_path / "none" / "page.pdf")]) == 2
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize(
    ("refusal", "kind"),
    [
        ("wet_or_damp", "wet"),
        ("drying", "drying"),
        ("not_closed_course", "open-road"),
        ("open_route", "open-road"),
    ],
)
def test_refusals_name_the_procedure_that_stands_in(capsys: Printed, refusal: str, kind: str) -> None:
    named = re.search(r"`leanladder (procedure [a-z-]+)`", text(f"remedy.{refusal}"))
    assert named is not None
    assert named[1] == f"procedure {kind}"
    assert main(named[1].split()) == 0
