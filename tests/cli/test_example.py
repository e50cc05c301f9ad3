from __future__ import annotations

import json
from pathlib import Path

import pytest

from leanladder.cli.example import DAYS
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


@pytest.mark.parametrize("day", [day for day in DAYS if day != "road"])
def test_each_day_is_written_checked_and_planned(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, day: str
) -> None:
    assert main(["example", "--out", str(tmp_path), "--day", day]) == 0
    for path in tmp_path.glob("*.toml"):
        lines = path.read_text(encoding="utf-8").splitlines()
        assert lines[0].startswith("schema = "), path.name
        assert sum(line.lstrip().startswith("#") for line in lines) >= 3, path.name
    file = str(tmp_path / "day.toml")
    assert main(["day", "check", file]) == 0
    capsys.readouterr()
    assert main(["plan", file, "--laps", "1", "--json"]) == 0
    ladders = json.loads(capsys.readouterr().out)["ladders"]
    assert ladders
    assert all(ladder["laps"] for ladder in ladders)


def test_an_unknown_day_brings_the_nearest(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["example", "--out", str(tmp_path), "--day", "carts"]) == 2
    assert "Did you mean kart?" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


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
