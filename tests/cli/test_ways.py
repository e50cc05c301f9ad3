"""`leanladder ways`: what may be told to riders, and what not."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from leanladder.cli.main import main
from leanladder.interchange.schemas import schema_text
from leanladder.wording import languages

Capture = pytest.CaptureFixture[str]
ASKED = {
    "--tyre": "sport-road",
    "--air": "8",
    "--track": "9",
    "--humidity": "60",
    "--start": "cold",
    "--rider": "regular",
}


def run(capsys: Capture, options: dict[str, str], *flags: str, language: str = "en") -> tuple[int, str, str]:
    given = [part for pair in options.items() for part in pair]
    code = main(["--language", language, "ways", *given, *flags])
    out, err = capsys.readouterr()
    return code, out, err


def answer(capsys: Capture, options: dict[str, str]) -> dict[str, Any]:
    code, out, err = run(capsys, options, "--json")
    assert (code, err) == (0, "")
    found: dict[str, Any] = json.loads(out)
    return found


@pytest.mark.parametrize("level", ["new", "regular", "experienced"])
def test_the_json_answer_is_valid_and_whole(capsys: Capture, demo: dict[str, str], level: str) -> None:
    told = answer(capsys, demo | ASKED | {"--rider": level})
    Draft202012Validator(json.loads(schema_text("ways"))).validate(told)
    by_name = {way["name"]: way for way in told["ways"]}
    assert set(by_name) == {"growing_lean", "upright", "steady", "weaving", "slow_straights"}
    assert not by_name["weaving"]["allowed"]
    assert not by_name["slow_straights"]["allowed"]
    assert by_name["upright"]["allowed"] == (level != "new")
    assert bool(by_name["upright"]["conditions"]) == (level != "new")
    for way in told["ways"]:
        assert (way["ready_minute"] is None) == (way["ready_reason"] is not None)
        assert way["sentence"]
    ranks = [way["rank"] for way in told["ways"] if way["allowed"]]
    assert ranks == list(range(1, len(ranks) + 1))
    assert all(way["rank"] is None for way in told["ways"][len(ranks) :])


def test_new_riders_are_told_by_nobody_to_brake_or_drive_harder(
    capsys: Capture, demo: dict[str, str]
) -> None:
    """The design's rule."""
    code, out, _ = run(capsys, demo | ASKED | {"--rider": "new"})
    assert code == 0
    allowed, forbidden = out.split("Not this:")[0], out.split("Not this:")[1]
    assert "upright drive" not in allowed
    assert "upright drive" in forbidden
    assert "tell nobody to brake or drive harder" in out
    assert "Drive and brake harder only upright" not in out


def test_a_way_that_is_not_told_has_no_figures_to_argue_for_it(capsys: Capture, demo: dict[str, str]) -> None:
    """Neither rises nor a minute: a name and the grip that it asks for."""
    _, out, _ = run(capsys, demo | ASKED | {"--rider": "new"})
    rows = [line for line in out.split("Not this:")[1].split("\n\n")[0].splitlines() if line]
    assert len(rows) == 3
    for row in rows:
        assert re.fullmatch(r"x  [a-z ,]+ \d+", row)


def test_the_weave_is_doubted_where_the_figures_contradict_practice(
    capsys: Capture, demo: dict[str, str]
) -> None:
    """Trade fact T4 (common practice): upright drive and braking add three times what weaving adds."""
    told = answer(capsys, demo | ASKED)
    by_name = {way["name"]: way for way in told["ways"]}
    weave, upright = (
        by_name[name]["heat_j"] - by_name["steady"]["heat_j"] for name in ("weaving", "upright")
    )
    said = by_name["weaving"]["sentence"]
    assert said.startswith("Never.")
    assert ("too high" in said) == (3.0 * weave > upright)


def test_a_plans_warnings_are_passed_on(capsys: Capture, demo: dict[str, str]) -> None:
    options = demo | ASKED | {"--start": "warmers:80:60:5", "--laps": "3"}
    told = answer(capsys, options)["warnings"]
    given = [part for pair in options.items() for part in pair]
    assert main(["--language", "en", "plan", *given, "--json"]) == 0
    planned = json.loads(capsys.readouterr().out)["warnings"]
    assert told == planned
    assert "limits_fall" in {warning["code"] for warning in told}


def test_a_hot_day_ranks_nothing(capsys: Capture, demo: dict[str, str]) -> None:
    options = demo | ASKED | {"--air": "38", "--track": "60", "--rider": "experienced"}
    code, out, _ = run(capsys, options)
    assert code == 0
    assert "May be told:" in out
    assert "best first" not in out
    assert "Nobody needs heat today." in out
    assert all(way["rank"] is None for way in answer(capsys, options)["ways"])


def test_the_pace_of_a_way_that_is_not_told_is_not_named(
    capsys: Capture, demo: dict[str, str], tmp_path: Path
) -> None:
    """A pit exit short of the line: a lap without a turn, upright drive and braking the slowest."""
    notes = tmp_path / "notes.toml"
    plain = Path(demo["--notes"]).read_text(encoding="utf-8")
    notes.write_text(re.sub(r"pit_exit_m *=.*", "pit_exit_m = 2990.0", plain), encoding="utf-8")
    options = demo | ASKED | {"--notes": str(notes), "--laps": "1"}
    told = answer(capsys, options)
    allowed = {way["name"]: way["allowed"] for way in told["ways"]}
    assert not allowed[told["paced_by"]]
    _, out, _ = run(capsys, options)
    assert "That is the pace of the slowest of them." in out
    assert "No turn is ridden in these laps." in out


def test_a_day_is_refused_in_plain_words(capsys: Capture, tmp_path: Path) -> None:
    assert main(["ways", str(tmp_path / "day.toml"), "--rider", "new"]) == 2
    assert "`ways` takes no DAY" in capsys.readouterr().err


def test_others_read_the_conditions(capsys: Capture, demo: dict[str, str]) -> None:
    """The design's rule: upright, straight, nobody behind, done in time, drive first, half the grip."""
    _, out, _ = run(capsys, demo | ASKED)
    told = " ".join(out.split())
    for words in (
        "only upright, on straights",
        "nobody within 3 s behind",
        "Drive before brake",
        "50 m before the braking point",
        "at most half the grip",
    ):
        assert words in told


@pytest.mark.parametrize("language", languages())
def test_the_table_keeps_to_its_width_and_to_a_screen(
    capsys: Capture, demo: dict[str, str], language: str
) -> None:
    code, out, err = run(capsys, demo | ASKED, language=language)
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert max(map(len, lines)) <= 100
    assert len(lines) <= 60


def test_laps_are_three_unless_said_otherwise(capsys: Capture, demo: dict[str, str]) -> None:
    assert answer(capsys, demo | ASKED)["laps"] == 3
    assert answer(capsys, demo | ASKED | {"--laps": "2"})["laps"] == 2


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"--rider": "newish"}, "Did you mean new?"),
        ({"--tyre": "sport-raod"}, "Did you mean sport-road?"),
        ({"--laps": "0"}, "--laps"),
        ({"--laps": "41"}, "--laps"),
        ({"--start": "warm"}, "cold"),
        ({"--air": "warm"}, "a number"),
        ({"--circuit": "no/such.csv"}, "no such file"),
    ],
)
@pytest.mark.parametrize("as_json", [False, True])
def test_bad_input_ends_with_2(
    capsys: Capture, demo: dict[str, str], change: dict[str, str], said: str, *, as_json: bool
) -> None:
    code, out, err = run(capsys, demo | ASKED | change, *(["--json"] if as_json else []))
    assert (code, out) == (2, "")
    told = " ".join(str(part) for part in json.loads(err).values()) if as_json else err
    assert said in told
    assert "Traceback" not in err


@pytest.mark.parametrize("missing", ["--circuit", "--air", "--start", "--rider"])
def test_what_is_required_is_asked_for(capsys: Capture, demo: dict[str, str], missing: str) -> None:
    options = {name: value for name, value in (demo | ASKED).items() if name != missing}
    code, out, err = run(capsys, options)
    assert (code, out) == (2, "")
    assert missing in err


@pytest.mark.parametrize(
    "change",
    [{"--track": "2"}, {"--air": "-3", "--track": "5"}, {"--air": "8", "--humidity": "99", "--track": "7.9"}],
)
def test_where_there_is_no_number_it_refuses_as_plan_does(
    capsys: Capture, demo: dict[str, str], change: dict[str, str]
) -> None:
    options = demo | ASKED | change
    code, out, err = run(capsys, options, "--json")
    assert (code, out) == (3, "")
    given = [part for pair in (options | {"--laps": "3"}).items() for part in pair]
    assert main(["plan", *given, "--json"]) == 3
    assert json.loads(capsys.readouterr().err)["message"] == json.loads(err)["message"]


def test_an_open_road_is_refused(capsys: Capture, demo: dict[str, str]) -> None:
    options = {"--circuit": demo["--circuit"]} | ASKED
    code, out, _ = run(capsys, options, "--json")
    assert (code, out) == (3, "")
