"""`leanladder why DAY`: the rung of the day's own ladder, tyres as the session before left them."""

from __future__ import annotations

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from leanladder.cli.main import main
from leanladder.interchange.schemas import schema_text

Capture = pytest.CaptureFixture[str]
RUNG = ("--lap", "2", "--corner", "5")


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The example's day, of two groups with two sessions each."""
    folder = tmp_path_factory.mktemp("day") / "mine"
    assert main(["example", "--out", str(folder)]) == 0
    return str(folder / "day.toml")


def answer_of(capsys: Capture, *words: str) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*words, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


@pytest.mark.parametrize(("session", "machine"), [("larks 1", "2"), ("larks 2", "2"), ("plovers 2", "3")])
def test_it_is_the_days_own_rung(capsys: Capture, day: str, session: str, machine: str) -> None:
    answer = answer_of(capsys, "why", day, "--session", session, "--machine", machine, *RUNG)
    Draft202012Validator(json.loads(schema_text("why"))).validate(answer)
    plan = answer_of(capsys, "plan", day, "--session", session)
    (ladder,) = [each for each in plan["ladders"] if machine in each["machines"]]
    assert answer["rung"] == ladder["laps"][1]["corners"][4]
    for key in ("parameters", "warnings", "cautions"):
        assert answer[key] == ladder[key]
    for tyre in answer["tyres"].values():
        heat = tyre["heat"]["since_rolling"]
        assert abs(heat["in_sum_kj"] - heat["out_sum_kj"] - heat["stored_sum_kj"]) <= 1e-6 * heat["in_sum_kj"]


def test_what_was_measured_counts_for_the_session(capsys: Capture, day: str) -> None:
    answer = answer_of(
        capsys, "why", day, "--session", "larks 1", "--machine", "1", "--track", "16", "--seen-dry", *RUNG
    )
    assert answer["inputs"]["road"]["open_c"] == 16.0
    assert answer["warnings"][0]["code"] == "changed_by_flags"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "--session: a day has many ladders."),
        (("--session", "larks"), "Did you mean larks"),
        (("--session", "larks 2"), "--machine: several combinations go out. Allowed: 1, 2, 3."),
        (("--session", "larks 2", "--machine", "4"), "--machine: no such machine goes out in this session."),
        (
            ("--session", "larks 2", "--machine", "1", "--circuit", "x.csv"),
            "--circuit: this does not go with",
        ),
        (("--session", "larks 2", "--machine", "1", "--laps", "1"), "--lap: the ladder has no such lap."),
    ],
)
def test_what_leaves_open_which_ladder_is_an_input_error(
    capsys: Capture, day: str, words: tuple[str, ...], said: str
) -> None:
    capsys.readouterr()
    code = main(["why", day, *RUNG, *words])
    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert said in err


def test_a_session_goes_with_a_day_alone(capsys: Capture) -> None:
    assert main(["why", *RUNG, "--session", "larks 1"]) == 2
    assert "--session: this goes with a DAY." in capsys.readouterr().err


def test_a_session_without_a_number_has_no_why(capsys: Capture, day: str) -> None:
    capsys.readouterr()
    code = main(["why", day, *RUNG, "--session", "larks 1", "--machine", "1", "--track", "2", "--json"])
    out, err = capsys.readouterr()
    assert (code, out) == (3, "")
    assert json.loads(err)["code"] == "road_too_cold"
