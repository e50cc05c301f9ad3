"""circuit-notes/1: what may be written, what it becomes, and what a mistake brings."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import jsonschema
import pytest

from leanladder.domain.circuit import Bank, CircuitNotes, CornerName, Patch, Stretch
from leanladder.domain.errors import InputError
from leanladder.interchange.file_schemas import file_schema_text
from leanladder.interchange.notes import read_notes
from leanladder.interchange.schemas import schema_text

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "src" / "leanladder" / "data" / "example" / "circuit-notes.toml"
HEAD = 'schema = "circuit-notes/1"\n'


def notes_of(folder: Path, text: str) -> CircuitNotes:
    path = folder / "notes.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    return read_notes(path)


def test_the_shipped_schema_is_the_models() -> None:
    assert schema_text("circuit-notes") == file_schema_text("circuit-notes")


def test_the_example_is_valid_by_the_shipped_schema_and_uses_every_part() -> None:
    written = tomllib.loads(EXAMPLE.read_text(encoding="utf-8"))
    schema = json.loads(schema_text("circuit-notes"))
    jsonschema.Draft202012Validator(schema).validate(written)
    left_out = set(schema["properties"]) - set(written)
    assert left_out == {"merges", "splits_m"}
    for key in left_out:
        assert key in EXAMPLE.read_text(encoding="utf-8")


def test_nothing_but_the_schema_is_needed(tmp_path: Path) -> None:
    notes = notes_of(tmp_path, "")
    assert notes == CircuitNotes(file=str(tmp_path / "notes.toml"))
    assert notes.closed_course is None


def test_every_key_comes_through(tmp_path: Path) -> None:
    notes = notes_of(
        tmp_path,
        """
        name = "Somewhere"
        source = "walked"
        reverse = true
        start_at_m = 12
        pit_exit_m = 40.5
        pit_entry_m = 900
        zone = "Europe/London"
        hard_upright_allowed = true
        closed_course = false
        splits_m = [100, 250.0]
        merges = [{ from_m = 10, to_m = 90 }]
        names = [{ at_m = 55, name = "First" }]
        banks = [{ from_m = 1, to_m = 2, bank_deg = -3.0 }]
        elevation = [{ at_m = 0, height_m = 81 }]
        shaded = [{ from_m = 950, to_m = 30 }]
        patches = [{ from_m = 5, to_m = 6, surface = "polished" }]
        """,
    )
    assert notes == CircuitNotes(
        name="Somewhere",
        source="walked",
        reverse=True,
        start_at_m=12.0,
        pit_exit_m=40.5,
        pit_entry_m=900.0,
        zone="Europe/London",
        hard_upright_allowed=True,
        closed_course=False,
        splits_m=(100.0, 250.0),
        merges=(Stretch(10.0, 90.0),),
        names=(CornerName(55.0, "First"),),
        banks=(Bank(Stretch(1.0, 2.0), -3.0),),
        elevation=((0.0, 81.0),),
        shaded=(Stretch(950.0, 30.0),),
        patches=(Patch(Stretch(5.0, 6.0), "polished"),),
        file=str(tmp_path / "notes.toml"),
    )


@pytest.mark.parametrize(
    ("text", "line", "field", "words"),
    [
        ("closed_corse = true\n", 2, "closed_corse", "closed_course"),
        ('\nclosed_course = "yes"\n', 3, "closed_course", "true or false"),
        ("pit_exit_m = -4\n", 2, "pit_exit_m", "0"),
        ("start_at_m = nan\n", 2, "start_at_m", "finite"),
        ('zone = "Europe/Londn"\n', 2, "zone", "Europe/London"),
        ('zone = "../etc"\n', 2, "zone", "zone"),
        ("[[banks]]\nfrom_m = 1\nto_m = 2\nbank_deg = 80\n", 5, "banks.0.bank_deg", "20"),
        ("[[names]]\nat_m = 3\n", 2, "names.0.name", "name"),
        ("[[shaded]]\nfrom_m = 3\n", 2, "shaded.0.to_m", "to_m"),
    ],
)
def test_a_mistake_is_placed_and_explained(
    tmp_path: Path, text: str, line: int, field: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        notes_of(tmp_path, text)
    error = caught.value
    assert error.fault.file == str(tmp_path / "notes.toml")
    assert error.fault.line == line
    assert error.fault.field == field
    assert words in str(error)


def test_another_kind_of_file_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "tyre.toml"
    path.write_text('schema = "tyre/1"\n', encoding="utf-8")
    with pytest.raises(InputError, match="another kind"):
        read_notes(path)
