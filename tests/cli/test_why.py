"""`leanladder why` end to end: in words and tables, as JSON, and what it refuses."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from leanladder import wording
from leanladder.cli import why_table
from leanladder.cli.main import main
from leanladder.cli.table import WIDTH
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Session
from leanladder.domain.why import Why, whole_pct
from leanladder.interchange.schemas import schema_text
from leanladder.planning import why as planning_why

Capture = pytest.CaptureFixture[str]
ASKED = {
    "--tyre": "sport-road",
    "--air": "8",
    "--track": "9",
    "--humidity": "60",
    "--start": "cold",
    "--rider": "new",
}
RUNG = {"--lap": "2", "--corner": "5"}
# Of a whole answer, with what is assumed of the tyres and what worlds tell: under two screens of 50 lines.
MOST_LINES = 92
HEADS = (
    "rolling", "slip", "sun", "brake", "in", "road", "tread_air", "tread_radiation", "wall_air", "rim_air",
    "out", "stored", "rubber_c", "peak", "curve", "surface", "state", "there", "keying", "adhesion", "faded",
    "usable", "demand", "left",
)  # fmt: skip
LABELS = ("outer", "skin", "carcass", "load", "so_far")


def run(
    capsys: Capture, options: dict[str, str], *flags: str, before: tuple[str, ...] = ()
) -> tuple[int, str, str]:
    code = main([*before, "why", *(part for pair in options.items() for part in pair), *flags])
    out, err = capsys.readouterr()
    return code, out, err


def answer_of(capsys: Capture, options: dict[str, str]) -> dict[str, Any]:
    code, out, err = run(capsys, options, "--json")
    assert (code, err) == (0, "")
    found: dict[str, Any] = json.loads(out)
    return found


def test_the_json_answer_is_valid_and_its_rung_is_that_of_plan(capsys: Capture, demo: dict[str, str]) -> None:
    answer = answer_of(capsys, demo | ASKED | RUNG | {"--laps": "6"})
    Draft202012Validator(json.loads(schema_text("why"))).validate(answer)
    planned = demo | ASKED | {"--laps": "6"}
    assert main(["plan", *(part for pair in planned.items() for part in pair), "--json"]) == 0
    ladder = json.loads(capsys.readouterr().out)
    assert answer["rung"] == ladder["laps"][1]["corners"][4]
    assert answer["parameters"] == ladder["parameters"]
    assert answer["inputs"] == ladder["inputs"] | {"lap": 2, "corner": 5}
    assert (answer["cautions"], answer["warnings"]) == (ladder["cautions"], ladder["warnings"])
    assert (answer["lap"]["lap"], answer["corner"]["number"]) == (2, 5)


def test_one_schema_tells_what_a_rung_is() -> None:
    ladder, why = (json.loads(schema_text(name)) for name in ("ladder", "why"))
    assert why["$defs"]["rung"] == ladder["properties"]["laps"]["items"]["properties"]["corners"]["items"]
    assert why["$defs"]["rubber"] == ladder["$defs"]["rubber"]


def test_figures_of_the_answer_add_up(capsys: Capture, demo: dict[str, str]) -> None:
    answer = answer_of(capsys, demo | ASKED | RUNG)
    leans = [each["bike_lean_deg"] for each in answer["limits"] if each["bike_lean_deg"] is not None]
    assert min(leans) == answer["rung"]["cap_bike_deg"]
    for tyre in answer["tyres"].values():
        for heat in tyre["heat"].values():
            moved = heat["in_sum_kj"] - heat["out_sum_kj"] - heat["stored_sum_kj"]
            flows = sum(abs(each) for each in (*heat["in_kj"].values(), *heat["out_kj"].values()))
            assert abs(moved) <= 1e-6 * flows
        at_cap = tyre["grip"]["at_cap"]
        shares = answer["level_share"] * answer["held_share"]
        assert at_cap["usable"] == pytest.approx(shares * at_cap["grip"], rel=1e-12)
    for change in answer["changes"]:
        assert change["applies"] == (change["why_not"] is None) == (change["cap_bike_deg"] is not None)


def changed_whys(monkeypatch: pytest.MonkeyPatch, change: Callable[[Ladder], Ladder]) -> None:
    """Put what change makes of its ladder, and the rung of that, in place of every answer."""
    asked = planning_why.why

    def changed(session: Session, lap: int, corner: int) -> Why:
        found = asked(session, lap, corner)
        ladder = change(found.ladder)
        rung = next(rung for rung in ladder.laps[lap - 1].rungs if rung.number == corner)
        return replace(found, ladder=ladder, rung=rung)

    monkeypatch.setattr(planning_why, "why", changed)


def test_it_tells_what_the_worlds_drawn_do(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, demo: dict[str, str], worlds: Callable[[Ladder], Ladder]
) -> None:
    changed_whys(monkeypatch, worlds)
    options = demo | ASKED | RUNG | {"--rider": "experienced", "--chance": "98", "--seed": "5"}
    answer = answer_of(capsys, options)
    Draft202012Validator(json.loads(schema_text("why"))).validate(answer)
    assert {"chance": 98.0, "seed": 5}.items() <= answer["inputs"].items()
    rung = answer["rung"]
    flat = " ".join(run(capsys, options)[1].split())
    assert "In 98 of 100 cases computed, grip carries the limits it sets." in flat
    low_deg, high_deg = (int(lean_deg) for lean_deg in rung["bike_band_deg"])
    assert f"carries {low_deg}°, bike lean. In half it carries {int(rung['bike_p50_deg'])}°" in flat
    assert (
        f"100 {high_deg}°. Moved most by: {'; '.join(each['text'] for each in rung['main_causes'])}." in flat
    )
    assert "A fall here for want of grip, by model: about 1 in 4000. This model knows nothing of oil" in flat


def test_without_worlds_it_tells_of_none(
    capsys: Capture,
    monkeypatch: pytest.MonkeyPatch,
    demo: dict[str, str],
    no_worlds: Callable[[Ladder], Ladder],
) -> None:
    changed_whys(monkeypatch, no_worlds)
    assert answer_of(capsys, demo | ASKED | RUNG)["rung"]["main_causes"] is None
    out = run(capsys, demo | ASKED | RUNG)[1]
    assert "cases computed" not in out
    assert "\n\n\n" not in out


@pytest.mark.parametrize("language", wording.languages())
def test_the_words_and_tables_keep_to_their_room(
    capsys: Capture,
    monkeypatch: pytest.MonkeyPatch,
    demo: dict[str, str],
    worlds: Callable[[Ladder], Ladder],
    language: str,
) -> None:
    changed_whys(monkeypatch, worlds)
    warm = (
        demo | ASKED | {"--lap": "3", "--corner": "5", "--rider": "experienced", "--start": "warmers:80:60:5"}
    )
    code, out, err = run(capsys, warm, before=("--language", language))
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert len(lines) <= MOST_LINES
    assert wording.unmarked("no_weaving", language) in out.replace("\n  ", " ")


@pytest.mark.parametrize("language", wording.languages())
def test_heads_and_labels_fit_their_columns(language: str) -> None:
    """A column of seven, a gap of one; a label of eight beside figures of three in columns of four."""
    assert all(len(wording.text(f"why.{head}", language)) <= 6 for head in HEADS)
    assert all(len(wording.text(f"why.{label}", language)) <= 8 for label in LABELS)


def test_the_text_says_what_the_json_says(capsys: Capture, demo: dict[str, str]) -> None:
    answer = answer_of(capsys, demo | ASKED | RUNG)
    out = run(capsys, demo | ASKED | RUNG)[1]
    flat = " ".join(out.split())
    for sentence in answer["sentences"]:
        assert sentence["text"] in flat
    cap = int(answer["rung"]["cap_bike_deg"])
    assert flat.startswith(f"Lap 2, turn 5, left: {cap}° at most.")
    (held,) = re.findall(r"^(.+) sets it$", out, re.MULTILINE)
    assert held.split()[-2] == str(cap)
    for change in answer["changes"]:
        assert (f"\n{change['what']} " in out) == change["applies"]


def test_caps_of_changes_are_rounded_down(capsys: Capture, demo: dict[str, str]) -> None:
    answer = answer_of(capsys, demo | ASKED | RUNG)
    out = run(capsys, demo | ASKED | RUNG)[1]
    for change in answer["changes"]:
        if change["applies"]:
            (row,) = [line for line in out.splitlines() if line.startswith(change["what"] + " ")]
            cap, difference = re.findall(r"([-+]?\d+(?:\.\d)?)°", row.removeprefix(change["what"]))
            assert int(cap) <= change["cap_bike_deg"] < int(cap) + 1
            assert 0.0 <= change["difference_deg"] - float(difference) < 0.1 + 1e-9


def test_warnings_look_a_lap_further_than_the_lap_asked_about(capsys: Capture, demo: dict[str, str]) -> None:
    """Off warmers limits fall from the first lap to the next: a ladder of one lap would not show it."""
    warm = demo | ASKED | {"--lap": "1", "--corner": "1", "--start": "warmers:80:60:5"}
    assert "limits_fall" in {each["code"] for each in answer_of(capsys, warm)["warnings"]}
    last = answer_of(capsys, demo | ASKED | {"--lap": "40", "--corner": "1"})
    assert last["inputs"]["laps"] == 40


def test_no_figure_over_the_top_of_the_level_is_printed(capsys: Capture, demo: dict[str, str]) -> None:
    """On a hot day card and grip lie far above what the level may lean: their figures would tempt."""
    hot = demo | ASKED | {"--air": "32", "--track": "48", "--lap": "6", "--corner": "3", "--rider": "regular"}
    answer = answer_of(capsys, hot)
    lines = run(capsys, hot)[1].splitlines()
    top_deg = next(each["bike_lean_deg"] for each in answer["limits"] if each["limit"] == "level_top")
    over = [each for each in answer["limits"] if (each["bike_lean_deg"] or 0.0) > top_deg]
    assert over
    for each in over:
        (row,) = [line for line in lines if line[2:].startswith(wording.text(f"label.{each['limit']}") + " ")]
        assert f"over {top_deg:g} " in row
        assert int(re.findall(r"\d+", row)[0]) == top_deg


def test_table_and_sentence_round_alike(capsys: Capture, demo: dict[str, str]) -> None:
    """A tyre that keeps 0.976 of its grip keeps 98 % in both."""
    assert [whole_pct(share) for share in (0.976, 0.974, 0.9, 1.0)] == [98, 97, 90, 100]
    answer = answer_of(capsys, demo | ASKED | RUNG)
    out = run(capsys, demo | ASKED | RUNG)[1]
    for tyre in answer["tyres"].values():
        for name in ("keying", "adhesion", "usable", "demand"):
            assert f"{whole_pct(tyre['grip']['at_cap'][name]) / 100.0:.2f}" in out


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"--lap": "0"}, "1 to 40 laps. Laps count from 1."),
        ({"--lap": "-2"}, "1 to 40 laps. Laps count from 1."),
        ({"--lap": "41"}, "1 to 40 laps. No ladder has more."),
        (
            {"--lap": "7", "--laps": "6"},
            "--lap: the ladder has no such lap. Allowed: 1 to 6. Ask for more laps.",
        ),
        ({"--lap": "1.5"}, "--lap: '1.5' is not a whole number."),
        ({"--lap": "two"}, "--lap: 'two' is not a whole number."),
        ({"--laps": "41"}, "--laps"),
        ({"--corner": "0"}, "--corner: the circuit has no such corner. Allowed: 1 to 11."),
        ({"--corner": "12"}, "--corner: the circuit has no such corner. Allowed: 1 to 11."),
        ({"--corner": "-1"}, "--corner: the circuit has no such corner. Allowed: 1 to 11."),
        ({"--corner": "Kiln"}, "--corner: 'Kiln' is not a whole number."),
        ({"--rider": "expert"}, "Did you mean experienced?"),
        ({"--start": "warm"}, "--start"),
        ({"--rider": ""}, "--rider: an empty text was given."),
    ],
)
@pytest.mark.parametrize("as_json", [False, True])
def test_bad_input_ends_with_2_and_an_empty_stdout(
    capsys: Capture, demo: dict[str, str], changed: dict[str, str], said: str, *, as_json: bool
) -> None:
    code, out, err = run(capsys, demo | ASKED | RUNG | changed, *(["--json"] if as_json else []))
    assert (code, out) == (2, "")
    if as_json:
        error = json.loads(err)
        assert error["schema"] == "leanladder.error/1"
        assert error["remedy"] or error["allowed"]
    else:
        assert said in err


def test_where_the_model_does_not_apply_there_is_no_why(capsys: Capture, demo: dict[str, str]) -> None:
    code, out, err = run(capsys, demo | ASKED | RUNG | {"--track": "3"}, "--json")
    assert (code, out) == (3, "")
    assert json.loads(err)["code"] == "road_too_cold"


@pytest.mark.parametrize(
    "missing", ["--lap", "--corner", "--circuit", "--air", "--start", "--rider", "--tyre"]
)
def test_what_must_be_given_is_named(capsys: Capture, demo: dict[str, str], missing: str) -> None:
    given = {name: value for name, value in (demo | ASKED | RUNG).items() if name != missing}
    code, out, err = run(capsys, given)
    assert (code, out) == (2, "")
    assert missing in err


def test_a_crown_of_more_strips_stays_within_the_width(
    capsys: Capture, demo: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """However finely the tyre is cut, the table shows as many strips as there is room for."""
    monkeypatch.setattr(why_table, "_RIB", 9)
    out = run(capsys, demo | ASKED | RUNG)[1]
    assert max(map(len, out.splitlines())) <= WIDTH
