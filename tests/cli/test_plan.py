"""`leanladder plan` end to end, and everything it refuses."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from leanladder.cli.main import main
from leanladder.interchange.schemas import schema_text

Capture = pytest.CaptureFixture[str]
ASKED = {
    "--tyre": "sport-road",
    "--air": "8",
    "--track": "9",
    "--humidity": "60",
    "--start": "cold",
    "--laps": "2",
    "--rider": "new",
}


def arguments(options: dict[str, str], *flags: str) -> list[str]:
    return ["plan", *(part for pair in options.items() for part in pair), *flags]


def run(capsys: Capture, options: dict[str, str], *flags: str) -> tuple[int, str, str]:
    code = main(arguments(options, *flags))
    out, err = capsys.readouterr()
    return code, out, err


def test_the_json_answer_is_valid_and_whole(capsys: Capture, demo: dict[str, str]) -> None:
    code, out, err = run(capsys, demo | ASKED, "--json")
    assert (code, err) == (0, "")
    answer = json.loads(out)
    Draft202012Validator(json.loads(schema_text("ladder"))).validate(answer)
    assert len(answer["laps"]) == 2
    numbers = [corner["number"] for corner in answer["circuit"]["corners"]]
    assert [rung["number"] for rung in answer["laps"][1]["corners"]] == numbers
    assert answer["inputs"]["tyres"] == {"front": "sport-road", "rear": "sport-road"}
    assert answer["inputs"]["road"]["origin"] == "measured"
    assert {caution["code"] for caution in answer["cautions"]} >= {"dry_only", "closed_course", "limit"}


def test_every_cap_is_the_least_of_its_parts(capsys: Capture, demo: dict[str, str]) -> None:
    """The design's rule, on the unrounded figures of the answer."""
    _, out, _ = run(capsys, demo | ASKED, "--json")
    for lap in json.loads(out)["laps"]:
        for rung in lap["corners"]:
            parts = (rung["physics_bike_deg"], rung["card_bike_deg"], 30.0)
            assert rung["cap_bike_deg"] <= min(parts) + 1e-9
            assert rung["cap_lean_deg"] <= rung["cap_bike_deg"]
            assert rung["plan_bike_deg"] <= rung["cap_bike_deg"] + 1e-9


def test_the_table(capsys: Capture, demo: dict[str, str]) -> None:
    code, out, err = run(capsys, demo | ASKED, "--states")
    assert (code, err) == (0, "")
    for words in (
        "How far may they lean?",
        "Lap 2",
        "Cautions:",
        "Warnings:",
        "Hot pressure",
        "skin",
        "Quillmoor",
    ):
        assert words in out
    assert max(map(len, out.splitlines())) <= 100
    assert "\x1b" not in out


def test_pressures_say_whether_they_were_typed_in(capsys: Capture, demo: dict[str, str]) -> None:
    assert "Set cold, assumed:" in run(capsys, demo | ASKED)[1]
    typed = run(capsys, demo | ASKED | {"--cold-pressure": "2.3,2.0@12"})[1]
    assert "Set cold: front 2.30, rear 2.00 at 12 °C." in typed


def test_an_unclosed_circuit_has_no_number(capsys: Capture, demo: dict[str, str]) -> None:
    open_road = {"--circuit": demo["--circuit"]} | ASKED
    code, out, err = run(capsys, open_road, "--json")
    assert (code, out) == (3, "")
    error = json.loads(err)
    assert error["code"] == "not_closed_course"
    assert "--closed-course" in error["remedy"]
    assert run(capsys, open_road, "--closed-course")[0] == 0


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"--track": "3"}, "road_too_cold"),
        ({"--humidity": "95"}, "near_dew_point"),
        ({"--humidity": ""}, "humidity_unknown"),
        ({"--air": "28", "--track": "", "--humidity": "40"}, "track_unknown"),
    ],
)
def test_a_road_that_cannot_be_trusted_has_no_number(
    capsys: Capture, demo: dict[str, str], changed: dict[str, str], code: str
) -> None:
    asked = {name: value for name, value in (demo | ASKED | changed).items() if value}
    exit_code, out, err = run(capsys, asked, "--json")
    assert (exit_code, out) == (3, "")
    error = json.loads(err)
    assert error["code"] == code
    assert error["remedy"]


def test_a_look_at_the_road_stands_in_for_humidity(capsys: Capture, demo: dict[str, str]) -> None:
    asked = {name: value for name, value in (demo | ASKED).items() if name != "--humidity"}
    assert run(capsys, asked, "--seen-dry")[0] == 0


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"--tyre": "sport-raod"}, "Did you mean sport-road?"),
        ({"--rear": "sportroad"}, "Did you mean sport-road?"),
        ({"--machine": "middleweight"}, "Did you mean middleweight-sport?"),
        ({"--rider": "expert"}, "Did you mean experienced?"),
        ({"--surface": "rough"}, "ordinary, polished, abrasive"),
        ({"--surface": "0.8:30"}, "looks like %"),
        ({"--air": "281"}, "looks like K"),
        ({"--air": "nan"}, "--air"),
        ({"--air": "cool"}, "--air"),
        ({"--track": "282"}, "looks like K"),
        ({"--humidity": "0.6"}, "a share of 1"),
        ({"--wind": "-2"}, "--wind"),
        ({"--cloud": "50"}, "per cent"),
        ({"--altitude": "5000"}, "looks like ft"),
        ({"--laps": "0"}, "1 to 40"),
        ({"--laps": "41"}, "1 to 40"),
        ({"--laps": "2.5"}, "--laps"),
        ({"--start": "warm"}, "stopped:MIN:shade"),
        ({"--start": "warmers:176:60:5"}, "looks like degF"),
        ({"--cold-pressure": "30,28@15"}, "looks like psi"),
        ({"--cold-pressure": "2.1"}, "FRONT_BAR,REAR_BAR@DEGC"),
        ({"--place": "200,10"}, "--place"),
        ({"--place": "here"}, "LATITUDE,LONGITUDE"),
        ({"--at": "tomorrow"}, "ISO 8601"),
        ({"--tyre": ""}, "Give --tyre for both ends"),
        ({"--circuit": "no-such-file.csv"}, "no-such-file.csv"),
        ({"--notes": "no-such-notes.toml"}, "no-such-notes.toml"),
    ],
)
@pytest.mark.parametrize("as_json", [False, True])
def test_bad_input_ends_with_2_and_an_empty_stdout(
    capsys: Capture,
    demo: dict[str, str],
    changed: dict[str, str],
    said: str,
    *,
    as_json: bool,
) -> None:
    asked = {name: value for name, value in (demo | ASKED | changed).items() if value}
    code, out, err = run(capsys, asked, *(["--json"] if as_json else []))
    assert (code, out) == (2, ""), err
    assert "Traceback" not in err
    if as_json:
        error = json.loads(err)
        assert error["exit_code"] == 2
        assert said in " ".join(str(part) for part in error.values())
    else:
        assert said in err


def test_one_tyre_at_each_end_needs_no_family_for_both(capsys: Capture, demo: dict[str, str]) -> None:
    asked = {name: value for name, value in (demo | ASKED).items() if name != "--tyre"}
    code, out, _ = run(capsys, asked | {"--front": "sport-road", "--rear": "sport-road"}, "--json")
    assert code == 0
    assert json.loads(out)["inputs"]["tyres"] == {"front": "sport-road", "rear": "sport-road"}


def test_a_measured_track_imports_nothing_heavy(demo: dict[str, str], tmp_path: Path) -> None:
    script = (
        "import sys\nfrom leanladder.cli.main import main\n"
        f"code = main({arguments(demo | ASKED)!r})\n"
        "heavy = [name for name in ('pvlib', 'pandas', 'django', 'matplotlib') if name in sys.modules]\n"
        "sys.exit(code or (9 if heavy else 0))\n"
    )
    done = subprocess.run(  # our own interpreter and script
        [sys.executable, "-c", script], capture_output=True, text=True, cwd=tmp_path, check=False
    )
    assert done.returncode == 0, done.stderr


def test_a_cold_pressure_needs_the_makers_minimum(
    capsys: Capture, demo: dict[str, str], tmp_path: Path
) -> None:
    """Without it there is none; with it none below, and the answer stays valid."""
    own = tmp_path / "own.toml"
    own.write_text(
        'schema = "tyre/1"\nname = "own"\nbase = "sport-road"\n[front]\nminimum_cold_bar = 2.0\n'
        "[rear]\nminimum_cold_bar = 1.9\n",
        encoding="utf-8",
    )
    found = {}
    for tyre in ("sport-road", str(own)):
        options = demo | ASKED | {"--tyre": tyre, "--hot-pressure": "2.5,1.9"}
        code, out, _ = run(capsys, options, "--json")
        assert code == 0
        answer = json.loads(out)
        Draft202012Validator(json.loads(schema_text("ladder"))).validate(answer)
        found[tyre] = answer["cold_for_hot"]
    assert found["sport-road"]["front"]["cold_bar"] is None
    assert 2.0 < found[str(own)]["front"]["cold_bar"] < 2.5
    assert found[str(own)]["rear"]["cold_bar"] == 1.9


@pytest.mark.parametrize("wanted", ["2.5", "2.5,2.4,2.3", "hot,2.4", "36,34"])
def test_a_hot_pressure_that_cannot_be_meant(capsys: Capture, demo: dict[str, str], wanted: str) -> None:
    code, out, err = run(capsys, demo | ASKED | {"--hot-pressure": wanted})
    assert (code, out) == (2, "")
    assert "--hot-pressure" in err


def test_three_laps_still_tell_what_a_tyre_never_reaches(capsys: Capture, demo: dict[str, str]) -> None:
    """A warning is for the session, not only for the laps asked for."""
    warned = {}
    for tyre in ("race", "sport-road"):
        _, out, _ = run(capsys, demo | ASKED | {"--tyre": tyre, "--laps": "1"}, "--json")
        warned[tyre] = {warning["code"] for warning in json.loads(out)["warnings"]}
    assert "tyre_unfit_cold" in warned["race"]
    assert "tyre_unfit_cold" not in warned["sport-road"]
    assert "seldom_used_side" in warned["sport-road"]


def test_what_was_done_to_the_line_is_a_warning(
    capsys: Capture, demo: dict[str, str], tmp_path: Path
) -> None:
    rows = Path(demo["--circuit"]).read_text(encoding="utf-8").splitlines()
    part = tmp_path / "part.csv"
    part.write_text("\n".join(rows[:-30]), encoding="utf-8")
    code, out, _ = run(capsys, ASKED | {"--circuit": str(part), "--laps": "1"}, "--closed-course", "--json")
    assert code == 0
    told = [warning["text"] for warning in json.loads(out)["warnings"] if warning["code"] == "circuit_remark"]
    assert any("the gap is closed by a straight" in text for text in told)


def test_shade_that_nobody_spoke_of_is_warned_of(capsys: Capture, demo: dict[str, str]) -> None:
    """Without notes a shaded stretch may be there: where it would be too cold, that is said."""
    told = {}
    for name, options in (
        ("no notes", {"--circuit": demo["--circuit"], "--air": "5", "--track": "7"}),
        ("no notes, warm", {"--circuit": demo["--circuit"], "--air": "16", "--track": "20"}),
    ):
        code, out, _ = run(capsys, ASKED | options, "--closed-course", "--json")
        assert code == 0
        told[name] = {warning["code"] for warning in json.loads(out)["warnings"]}
    assert "shade_unknown" in told["no notes"]
    assert "shade_unknown" not in told["no notes, warm"]
