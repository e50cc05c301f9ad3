"""`leanladder sheets DAY` end to end: which files, which words, what is refused."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from leanladder.cli.example import example_files
from leanladder.cli.main import main
from leanladder.interchange.schemas import schema_text
from leanladder.planning.documents import plain_name

Capture = pytest.CaptureFixture[str]
# Little to plan and to typeset: the first session alone, of one lap.
SHORT = ("--session", "larks 1", "--laps", "1")
KINDS = ("briefing", "cards", "coach")


@pytest.fixture
def day(tmp_path: Path) -> Path:
    """The example's day in a folder of its own, one rider a group."""
    for name, content in example_files().items():
        (tmp_path / name).write_bytes(content)
    return tmp_path / "day.toml"


def without(day: Path, key: str) -> None:
    """Take a key's lines out of the file, so that the tests do not lean on what the example states."""
    lines = day.read_text().splitlines(keepends=True)
    day.write_text("".join(line for line in lines if not line.startswith(key)))


def measured_nowhere(day: Path) -> None:
    without(day, "track_c")


def names(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*.pdf"))


def answer(capsys: Capture) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    Draft202012Validator(json.loads(schema_text("sheets"))).validate(found)
    return found


def test_a_measured_track_makes_one_set_for_today(day: Path, tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "out"
    assert (
        main(["sheets", str(day), "--out", str(out), *SHORT, "--track", "15", "--rider", "regular", "--json"])
        == 0
    )
    told = answer(capsys)
    assert names(out) == [f"today/01-larks-1-{kind}.pdf" for kind in KINDS]
    assert sorted(told["files"]) == names(out)
    assert [(each["folder"], each["set"]) for each in told["sets"]] == [("today", None)]
    assert all(path.read_bytes().startswith(b"%PDF-") for path in out.rglob("*.pdf"))
    (words,) = {each["day_word"] for each in told["sets"]}
    sheets = PdfReader(out / "today" / "01-larks-1-coach.pdf").pages
    assert all("level regular" in page.extract_text() for page in sheets)
    for kind in KINDS:
        pages = PdfReader(out / "today" / f"01-larks-1-{kind}.pdf").pages
        assert all(words in page.extract_text() for page in pages)


def test_without_a_measured_track_there_are_three_sets(day: Path, tmp_path: Path, capsys: Capture) -> None:
    measured_nowhere(day)
    out = tmp_path / "out"
    assert main(["sheets", str(day), "--out", str(out), *SHORT, "--json"]) == 0
    told = answer(capsys)
    assert names(out) == [f"set-{each}/01-larks-1-{kind}.pdf" for each in "abc" for kind in KINDS]
    assert len({each["day_word"] for each in told["sets"]}) == 3


def test_a_band_makes_one_set_with_its_letter(day: Path, tmp_path: Path, capsys: Capture) -> None:
    measured_nowhere(day)
    out = tmp_path / "out"
    assert (
        main(["sheets", str(day), "--out", str(out), *SHORT, "--band", "cold", "--word", "Pebble", "--json"])
        == 0
    )
    assert [(each["set"], each["day_word"]) for each in answer(capsys)["sets"]] == [("a", "PEBBLE")]


def test_large_print_makes_every_card_a_page_twice_as_large(day: Path, tmp_path: Path) -> None:
    """A5, 148 mm by 210 mm (ISO 216), where a card else is A6."""
    widths = []
    for folder, more in (("usual", []), ("large", ["--large-print"])):
        out = tmp_path / folder
        assert main(["sheets", str(day), "--out", str(out), *SHORT, "--band", "cold", *more]) == 0
        pages = PdfReader(out / "today" / "01-larks-1-cards.pdf").pages
        widths.append({round(float(page.mediabox.width) / 72.0 * 25.4) for page in pages})
    assert widths == [{105}, {148}]


def test_a_whole_evening_has_its_lists_too(day: Path, tmp_path: Path, capsys: Capture) -> None:
    measured_nowhere(day)
    lines = day.read_text()
    day.write_text(
        lines[: lines.index("[[sessions]]")]
        + '[[sessions]]\nname = "Früh / 1"\ngroup = "larks"\nat = "09:30"\nlaps = 1\n'
    )
    out = tmp_path / "out"
    assert main(["sheets", str(day), "--out", str(out)]) == 0
    told = capsys.readouterr().out
    lists = [
        "choose-a-set.pdf",
        "evening-list.pdf",
        "morning-list.pdf",
        "procedure-drying.pdf",
        "procedure-wet.pdf",
    ]
    assert names(out) == [*lists, *(f"set-{each}/01-fruh-1-{kind}.pdf" for each in "abc" for kind in KINDS)]
    assert "Set a, for a cold day: day word" in told


def test_nothing_is_replaced(day: Path, tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "out"
    there = out / "today" / "01-larks-1-cards.pdf"
    there.parent.mkdir(parents=True)
    there.write_text("kept")
    assert main(["sheets", str(day), "--out", str(out), *SHORT, "--band", "cold"]) == 2
    assert there.read_text() == "kept"
    assert names(out) == ["today/01-larks-1-cards.pdf"]
    assert capsys.readouterr().out == ""


def test_a_wet_day_is_outside_the_model_and_still_has_its_pages(
    day: Path, tmp_path: Path, capsys: Capture
) -> None:
    without(day, "road")
    text = day.read_text()
    day.write_text(text.replace("[[weather]]\n", '[[weather]]\nroad = "wet"\n', 1))
    out = tmp_path / "out"
    assert main(["sheets", str(day), "--out", str(out), "--band", "likely", "--json"]) == 3
    told = capsys.readouterr()
    assert told.out == ""
    error = json.loads(told.err)
    assert str(out) in error["message"]
    assert {"procedure-wet.pdf", "today/01-larks-1-coach.pdf", "today/01-larks-1-cards.pdf"} <= set(
        names(out)
    )


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (["--word", "pebble"], "--word"),
        (["--band", "cold", "--word", "two words"], "--word"),
        (["--track", "9"], "--track"),
        (["--session", "nobody's"], "--session"),
    ],
)
def test_what_cannot_be_used_is_named(
    day: Path, tmp_path: Path, capsys: Capture, arguments: list[str], field: str
) -> None:
    measured_nowhere(day)
    out = tmp_path / "out"
    assert main(["sheets", str(day), "--out", str(out), "--json", *arguments]) == 2
    assert json.loads(capsys.readouterr().err)["field"] == field
    assert not out.exists()


def test_names_of_files_are_plain() -> None:
    assert plain_name("larks 1") == "larks-1"
    assert plain_name("../Große Runde/2") == "groe-runde-2"
    assert plain_name("夜") == "session"
