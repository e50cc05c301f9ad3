"""Tyre conditions in `leanladder plan` and `leanladder day check`, in words and as JSON."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from leanladder.cli.example import example_files
from leanladder.cli.main import main

Capture = pytest.CaptureFixture[str]
STATED = "front_state = { scrubbed_left_deg = 0, scrubbed_right_deg = 42"


@pytest.fixture
def day(tmp_path: Path) -> Path:
    for name, content in example_files().items():
        (tmp_path / name).write_bytes(content)
    return tmp_path / "day.toml"


def run(capsys: Capture, *arguments: str) -> tuple[int, str, str]:
    code = main(list(arguments))
    out, err = capsys.readouterr()
    return code, " ".join(out.split()), err


def changed(day: Path, old: str, new: str) -> None:
    written = day.read_text(encoding="utf-8")
    assert old in written
    day.write_text(written.replace(old, new, 1), encoding="utf-8")


def ladders(capsys: Capture, day: Path, *more: str) -> list[dict[str, Any]]:
    code, out, err = run(capsys, "plan", str(day), "--laps", "1", "--json", *more)
    assert (code, err) == (0, "")
    found: list[dict[str, Any]] = json.loads(out)["ladders"]
    return found


def test_the_json_names_machines_nobody_looked_at(capsys: Capture, day: Path) -> None:
    found = ladders(capsys, day)
    coached = [(each["session"], each["machines"]) for each in found if each["coach_pace"]]
    assert coached == [("larks 1", ["3"]), ("plovers 1", ["3"])]
    for each in found:
        unknown = {"condition.unknown", "condition.unknown_ridden"} & {
            note["code"] for note in each["remarks"]
        }
        assert bool(unknown) == ("3" in each["machines"])
        assert each["inputs"]["coach_pace"] == each["coach_pace"]
        assert each["inputs"]["date"] == "2026-04-12"


def test_the_json_holds_each_condition_and_what_is_scrubbed(capsys: Capture, day: Path) -> None:
    dunlin = next(each for each in ladders(capsys, day) if each["riders"] == ["Dunlin"])
    assert dunlin["inputs"]["front_state"] == {
        "scrubbed_left_deg": 0.0,
        "scrubbed_right_deg": 42.0,
        "crown": "round",
        "date_code": "4025",
        "heat_cycles": None,
        "plugged": False,
    }
    (left,) = (corner for corner in dunlin["laps"][0]["corners"] if corner["side"] == "left")
    assert left["limited_by"] == "scrubbing"
    assert left["scrubbed_bike_deg"] == left["cap_bike_deg"] == 10.0


def test_the_printed_day_tells_under_the_heading(capsys: Capture, day: Path) -> None:
    code, out, _ = run(capsys, "plan", str(day), "--session", "plovers 1", "--laps", "1")
    assert code == 0
    heading = out.index("Machines: 22.")
    assert (
        heading < out.index("Not scrubbed to the left: front. Machines 22.") < out.index("How far", heading)
    )
    assert "Nobody stated the condition of the tyres: front and rear. Machines 3." in out
    assert "Coach's pace on every lap, within the limits of level new." in out
    assert "= not scrubbed in" in out


def test_a_plug_refuses_its_machine_in_words_and_as_json(capsys: Capture, day: Path) -> None:
    changed(day, STATED, "front_state = { plugged = true, scrubbed_left_deg = 0, scrubbed_right_deg = 42")
    code, out, _ = run(capsys, "plan", str(day), "--session", "plovers 1", "--laps", "1")
    assert code == 0
    assert "A tyre has a repair plug. It does not go out. Fit another tyre." in out
    (dunlin,) = (
        each for each in ladders(capsys, day, "--session", "plovers 1") if each["machines"] == ["22"]
    )
    assert dunlin["refusal"]["code"] == "plugged"
    assert dunlin["coach_pace"] is False


def test_a_date_code_after_the_day_ends_in_words(capsys: Capture, day: Path) -> None:
    changed(day, 'date_code = "4025"', 'date_code = "4026"')
    for command in (("plan",), ("day", "check")):
        code, out, err = run(capsys, *command, str(day))
        assert (code, out) == (2, "")
        assert "machines, 22, front_state, date_code" in err


def test_a_day_check_explains_it(capsys: Capture, day: Path) -> None:
    _, out, _ = run(capsys, "day", "check", str(day))
    assert "Nobody stated the front tyre's condition. Two sessions at the coach's pace." in out
    assert "The front tyre's heat cycles are not stated." in out
