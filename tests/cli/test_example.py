from __future__ import annotations

import json
from pathlib import Path

import pytest

from leanladder.cli.main import main


def test_it_writes_the_annotated_files(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["example", "--out", str(tmp_path / "mine")]) == 0
    names = sorted(path.name for path in (tmp_path / "mine").iterdir())
    assert names == ["circuit-notes.toml", "circuit.csv", "day.toml", "machine.toml", "tyre.toml"]
    out = capsys.readouterr().out
    assert all(str(tmp_path / "mine" / name) in out for name in names)


def test_each_file_for_people_says_what_may_be_changed(tmp_path: Path) -> None:
    main(["example", "--out", str(tmp_path)])
    for path in tmp_path.glob("*.toml"):
        lines = path.read_text().splitlines()
        assert lines[0].startswith("schema = "), path.name
        assert sum(line.lstrip().startswith("#") or " # " in line for line in lines) >= 5, path.name


def test_it_never_writes_over_a_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    (tmp_path / "tyre.toml").write_text("mine")
    assert main(["example", "--out", str(tmp_path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "there already" in err
    assert [path.name for path in tmp_path.iterdir()] == ["tyre.toml"]
    assert (tmp_path / "tyre.toml").read_text() == "mine"


def test_a_file_in_place_of_the_folder_is_told(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    (tmp_path / "out").write_text("")
    assert main(["example", "--out", str(tmp_path / "out")]) == 2
    assert "leanladder: " in capsys.readouterr().err


def test_schema_lists_and_prints(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    assert "leanladder.error/1" in capsys.readouterr().out
    assert main(["schema", "error"]) == 0
    assert json.loads(capsys.readouterr().out)["properties"]["schema"]["const"] == "leanladder.error/1"
