"""`leanladder plan DAY` and `leanladder day check DAY` end to end."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from leanladder.cli.example import example_files
from leanladder.cli.main import main
from leanladder.interchange.schemas import schema_text
from leanladder.wording import unmarked

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def day(tmp_path: Path) -> Path:
    for name, content in example_files().items():
        (tmp_path / name).write_bytes(content)
    return tmp_path / "day.toml"


def run(capsys: Capture, *arguments: str) -> tuple[int, str, str]:
    code = main(list(arguments))
    out, err = capsys.readouterr()
    return code, out, err


def valid(answer: dict[str, Any], name: str) -> None:
    """Hold an answer to a schema that refers to the ladder's as `ladder.json`."""
    ladder = Resource.from_contents(json.loads(schema_text("ladder")))
    registry: Any = Registry().with_resource("ladder.json", ladder)
    Draft202012Validator(json.loads(schema_text(name)), registry=registry).validate(answer)


def changed(day: Path, old: str, new: str) -> None:
    written = day.read_text(encoding="utf-8")
    assert old in written
    day.write_text(written.replace(old, new, 1), encoding="utf-8")


def test_the_json_answer_is_valid_and_holds_every_rider(capsys: Capture, day: Path) -> None:
    code, out, err = run(capsys, "plan", str(day), "--laps", "1", "--json")
    assert (code, err) == (0, "")
    answer = json.loads(out)
    valid(answer, "day-plan")
    ladders = answer["ladders"]
    rode = [(ladder["session"], rider) for ladder in ladders for rider in ladder["riders"]]
    assert len(rode) == len(set(rode)) == 12
    assert all(ladder["schema"] == "leanladder.ladder/1" and len(ladder["laps"]) == 1 for ladder in ladders)
    tracks = [ladder["inputs"]["road"]["open_c"] for ladder in ladders]
    assert tracks == sorted(tracks)  # an April morning on which air and sun rise
    assert len(set(tracks)) == 4
    stood = [ladder for ladder in ladders if ladder["after"] is not None]
    assert {ladder["session"] for ladder in stood} == {"plovers 1", "larks 2", "plovers 2"}
    plovers = [ladder for ladder in ladders if ladder["session"] == "plovers 1"]
    usual: dict[str, float] = {}
    for ladder in plovers:
        usual |= zip(ladder["riders"], ladder["usual_deg"], strict=True)
    assert usual == {"Hobby": 48.0, "Dunlin": 38.0, "Merle": 38.0}
    assert all(ladder["coaches"] == ["Isolde"] for ladder in plovers)
    assert 32.0 in {deg for ladder in ladders for deg in ladder["usual_deg"]}  # Linnet's own
    assert all("tyres_stood" in {w["code"] for w in ladder["warnings"]} for ladder in stood)


def test_the_printed_day(capsys: Capture, day: Path) -> None:
    code, out, err = run(capsys, "plan", str(day), "--laps", "1", "--session", "larks 2")
    assert (code, err) == (0, "")
    assert out.startswith("larks 2, 10:30, group larks.")
    assert "larks 1, 09:30" not in out
    assert "Riders: Wren, Sedge. Machines: 1, 2." in out
    assert "the tyres come from larks 1" in out
    assert out.count("How far may they lean?") == 2
    assert "What we do not know" not in out
    assert max(map(len, out.splitlines())) <= 100


def test_a_field_that_mixes_is_told_under_its_session(capsys: Capture, day: Path) -> None:
    """An experienced rider on warmers beside regular ones: by far the most speed, so out first."""
    asked = ("plan", str(day), "--session", "plovers 1", "--laps", "3")
    _, out, _ = run(capsys, *asked)
    assert out.count("Mixed field:") == 1
    assert "- No passing before lap 3." in out
    assert max(map(len, out.splitlines())) <= 100
    _, out, _ = run(capsys, *asked, "--json")
    answer = json.loads(out)
    valid(answer, "day-plan")
    (field,) = answer["fields"]
    assert (field["session"], field["mixed"]) == ("plovers 1", True)
    assert field["parts"][0]["machines"] == ["21"]
    laps = [[ladder["laps"][lap]["corners"] for ladder in answer["ladders"]] for lap in range(3)]
    assert len(field["closings"]) == sum(len(corners[0]) for corners in laps)
    for closing in field["closings"]:
        corners = (turn for ladder in laps[closing["lap"] - 1] for turn in ladder)
        speeds = [turn["speed_kmh"] for turn in corners if turn["number"] == closing["number"]]
        assert closing["closing_kmh"] == pytest.approx(max(speeds) - min(speeds))


def test_a_session_of_one_combination_has_no_field(capsys: Capture, day: Path) -> None:
    written = day.read_text(encoding="utf-8")
    start = written.index('[[riders]]\nname = "Linnet"')
    day.write_text(written[:start] + written[written.index("[[riders]]", start + 1) :], encoding="utf-8")
    _, out, _ = run(capsys, "plan", str(day), "--session", "larks 1", "--laps", "1")
    assert "Mixed field" not in out


def test_a_flag_takes_the_place_of_the_file_for_one_session(capsys: Capture, day: Path) -> None:
    asked = ("plan", str(day), "--session", "larks 1", "--laps", "1", "--json")
    _, out, _ = run(capsys, *asked, "--track", "15", "--air", "12", "--wind", "2.5")
    (inputs, *_) = (ladder["inputs"] for ladder in json.loads(out)["ladders"])
    assert inputs["road"] | {"open_c": 15.0, "origin": "measured"} == inputs["road"]
    assert (inputs["weather"]["air_c"], inputs["weather"]["wind_mps"]) == (12.0, 2.5)
    assert inputs["weather"]["humidity_pct"] == pytest.approx(57.5)


def ladders_of(capsys: Capture, day: Path, *more: str) -> list[dict[str, Any]]:
    _, out, _ = run(capsys, "plan", str(day), "--laps", "1", "--json", *more)
    answer = json.loads(out)
    valid(answer, "day-plan")
    ladders: list[dict[str, Any]] = answer["ladders"]
    return ladders


def test_who_and_what_goes_out_is_changed_for_one_session(capsys: Capture, day: Path) -> None:
    session = ("--session", "larks 2")
    ladders = ladders_of(capsys, day, *session, "--rider", "regular", "--tyre", "race", "--rear", "track-day")
    assert [ladder["riders"] for ladder in ladders] == [["Wren", "Sedge"], ["Linnet"]]
    for ladder in ladders:
        inputs = ladder["inputs"]
        assert inputs["level"] == "regular"
        assert max(ladder["usual_deg"]) <= 38.0
        assert inputs["tyres"] == {"front": "race", "rear": "track-day"}
        assert inputs["start"]["kind"] == "cold"
        assert ladder["after"] is None
        said = {warning["code"]: warning["text"] for warning in ladder["warnings"]}
        assert said["changed_by_flags"] == "Not as the day's file has it: --rider, --tyre, --rear."
    assert [ladder["after"] for ladder in ladders_of(capsys, day, *session)] == ["larks 1", "plovers 1"]


def test_pressures_and_start_are_changed_for_one_session(capsys: Capture, day: Path) -> None:
    more = ("--session", "larks 2", "--cold-pressure", "2.4,2.2@12", "--start", "warmers:80:60:5")
    for ladder in ladders_of(capsys, day, *more):
        offset_bar = 0.0 if ladder["machines"] == ["3"] else 0.05
        cold = ladder["inputs"]["cold_pressure"]
        assert cold["front_bar"] == pytest.approx(2.4 - offset_bar)
        assert (cold["set_c"], ladder["inputs"]["start"]["kind"]) == (12.0, "warmers")


def test_a_band_makes_the_day_for_its_end_of_the_forecast(capsys: Capture, day: Path) -> None:
    asked = ("plan", str(day), "--session", "larks 1", "--laps", "1", "--json")
    airs = []
    for band in ("cold", "likely", "mild"):
        answer = json.loads(run(capsys, *asked, "--band", band)[1])
        valid(answer, "day-plan")
        assert answer["inputs"]["band"] == band
        airs.append(answer["ladders"][0]["inputs"]["weather"]["air_c"])
    assert airs == [7.0, 9.0, 11.0]
    assert run(capsys, *asked, "--band", "warm")[0] == 2
    printed = run(capsys, *asked[:-1], "--band", "cold")[1]
    assert printed.startswith("Planned for the cold end of the forecast's air.\n\nlarks 1, 09:30")


def test_a_refused_session_stands_beside_the_others(capsys: Capture, day: Path) -> None:
    changed(
        day, 'at = "09:00"\nair_c = 8\nair_cold_c = 6', 'at = "09:30"\nair_c = 2\ntrack_c = 2\nair_cold_c = 1'
    )
    code, out, _ = run(capsys, "plan", str(day), "--laps", "1", "--json")
    assert code == 0
    answer = json.loads(out)
    valid(answer, "day-plan")
    refused = [ladder for ladder in answer["ladders"] if ladder["refusal"]]
    assert {ladder["session"] for ladder in refused} == {"larks 1"}
    assert all(ladder["refusal"]["code"] == "road_too_cold" and "laps" not in ladder for ladder in refused)
    assert any(ladder["session"] == "larks 2" and ladder["laps"] for ladder in answer["ladders"])
    _, printed, _ = run(capsys, "plan", str(day), "--laps", "1")
    assert printed.count("No ladder. The road is at or below 3 °C.") == 1
    assert "Riders: Wren, Sedge, Linnet. Machines: 1, 2, 3.\n\nNo ladder." in printed
    assert max(map(len, printed.splitlines())) <= 100
    code, out, err = run(capsys, "plan", str(day), "--session", "larks 1", "--json")
    assert (code, out) == (3, "")
    assert json.loads(err)["code"] == "road_too_cold"


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--track", "9"), "--session"),
        (("--tyre", "race"), "--session"),
        (("--rider", "new"), "--session"),
        (("--start", "cold"), "--session"),
        (("--cold-pressure", "2.1,1.9@15"), "--session"),
        (("--session", "larks 1", "--rider", "knew"), "Did you mean new?"),
        (("--session", "larks 1", "--front", "sport-raod"), "Did you mean sport-road?"),
        (("--session", "larks 1", "--start", "warm"), "stopped:MIN:sun"),
        (("--session", "larks 1", "--cold-pressure", "33,30@15"), "psi"),
        (("--session", "larks 1", "--machine", "naked"), "under the machine"),
        (("--session", "larks 1", "--hot-pressure", "2.5,2.4"), "Give hot"),
        (("--surface", "polished"), "--surface"),
        (("--states",), "--states"),
        (("--session", "lark 1"), "Did you mean larks 1?"),
        (("--session", "larks 1", "--air", "280"), "looks like K"),
        (("--laps", "41"), "1 to 40"),
    ],
)
@pytest.mark.parametrize("as_json", [False, True])
def test_what_does_not_go_with_a_day(
    capsys: Capture, day: Path, more: tuple[str, ...], said: str, *, as_json: bool
) -> None:
    code, out, err = run(capsys, "plan", str(day), *more, *(["--json"] if as_json else []))
    assert (code, out) == (2, "")
    assert said in (" ".join(str(part) for part in json.loads(err).values()) if as_json else err)


@pytest.mark.parametrize("missing", ["--circuit", "--air", "--start", "--laps", "--rider"])
def test_without_a_day_the_options_are_required(capsys: Capture, day: Path, missing: str) -> None:
    asked = {"--circuit": "c.csv", "--air": "8", "--start": "cold", "--laps": "2", "--rider": "new"}
    given = [part for pair in asked.items() if pair[0] != missing for part in pair]
    code, out, err = run(capsys, "plan", *given)
    assert (code, out) == (2, "")
    assert f"Missing option '{missing}'." in err
    assert run(capsys, "plan", *given, missing, asked[missing], "--session", "x")[0] == 2
    assert run(capsys, "plan", *given, missing, asked[missing], "--band", "cold")[0] == 2


def test_a_course_not_stated_to_be_closed_has_no_number(capsys: Capture, day: Path) -> None:
    notes = day.parent / "circuit-notes.toml"
    changed(notes, "closed_course = true\n", "")
    assert run(capsys, "plan", str(day))[0] == 3
    assert run(capsys, "day", "check", str(day))[0] == 3
    assert run(capsys, "day", "check", str(day), "--closed-course")[0] == 0


def test_check_says_what_it_would_assume(capsys: Capture, day: Path) -> None:
    code, out, err = run(capsys, "day", "check", str(day))
    assert (code, err) == (0, "")
    for words in (
        "Session larks 2:",
        "computed, not measured",
        "Its tyres come from plovers 1",
        "Rider Wren:",
    ):
        assert words in out
    assert max(map(len, out.splitlines())) <= 100
    code, out, _ = run(capsys, "day", "check", str(day), "--json")
    answer = json.loads(out)
    valid(answer, "day-check")
    assert {each["about"] for each in answer["assumptions"]} == {"day", "session", "machine", "rider"}


def test_a_faulty_day_is_told_by_file_line_and_key(capsys: Capture, day: Path) -> None:
    changed(day, "cloud = 0.4", "clouds = 0.4")
    for command in (("plan",), ("day", "check")):
        code, out, err = run(capsys, *command, str(day), "--json")
        assert (code, out) == (2, "")
        error = json.loads(err)
        assert (error["file"], error["remedy"]) == (str(day), "Did you mean cloud?")
        assert error["line"]


def test_an_unknown_action_is_a_usage_error(capsys: Capture, day: Path) -> None:
    assert run(capsys, "day", "plan", str(day))[0] == 2


def test_another_language_words_the_whole_ladder_and_says_once_that_nobody_reviewed_it(
    capsys: Capture, day: Path
) -> None:
    code, out, _ = run(capsys, "--language", "de", "plan", str(day), "--session", "larks 1")
    assert code == 0
    for english in ("sets it", "coach's pace", "least margin", "stays colder", "limit"):
        assert english not in out
    assert "Die Vorsichtstabelle bestimmt die Grenze." in out
    assert "nur Tempo des Instruktors" in out
    assert "|12#)" in out or "|10=)" in out  # marks in cells stay one character
    assert out.count(unmarked("page.unreviewed", "de")) == 1
    assert out.endswith(unmarked("page.unreviewed", "de") + "\n")


def test_an_english_answer_says_nothing_of_translations(capsys: Capture, day: Path) -> None:
    _, out, _ = run(capsys, "plan", str(day), "--session", "larks 1")
    assert unmarked("page.unreviewed") not in out
