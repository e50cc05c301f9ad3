"""`--chance`, `--seed` and `--odds` of plan and why, for one session and for a day, end to end."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from leanladder import wording
from leanladder.cli.example import example_files
from leanladder.cli.main import main
from leanladder.domain.chance import Chance
from leanladder.domain.day import DayLadder
from leanladder.domain.errors import InputError
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Session
from leanladder.interchange.schemas import schema_text
from leanladder.planning.day import plan_day
from leanladder.planning.odds.counting import HIGHER, LOWER

Capture = pytest.CaptureFixture[str]
Change = Callable[[Ladder], Ladder]
ASKED = (
    "--tyre", "sport-road", "--air", "8", "--track", "9", "--humidity", "60",
    "--start", "cold", "--laps", "2", "--rider", "new",
)  # fmt: skip
RUNG_KEYS = {
    "lean_p50_deg", "lean_band_deg", "bike_p50_deg", "bike_band_deg", "fall_odds", "main_causes",
}  # fmt: skip


@pytest.fixture
def day(tmp_path: Path) -> str:
    for name, content in example_files().items():
        (tmp_path / name).write_bytes(content)
    return str(tmp_path / "day.toml")


@pytest.fixture
def asked(demo: dict[str, str]) -> tuple[str, ...]:
    return (*(part for pair in demo.items() for part in pair), *ASKED)


@pytest.fixture
def drawn(made_up: Callable[..., Ladder], worlds: Change) -> Ladder:
    """A made-up ladder with what made-up worlds tell."""
    return worlds(made_up("lrr", 2))


def run(capsys: Capture, *arguments: str) -> tuple[int, str, str]:
    code = main(list(arguments))
    out, err = capsys.readouterr()
    return code, out, err


def plans(monkeypatch: pytest.MonkeyPatch, ladder: Ladder) -> None:
    """Let every plan answer with a ladder, but for the chance that was asked for."""

    def plan(session: Session, *, progress: object) -> Ladder:  # nobody watches
        return replace(ladder, session=replace(ladder.session, chance=session.chance))

    monkeypatch.setattr("leanladder.planning.ladder.plan", plan)


def changed_days(monkeypatch: pytest.MonkeyPatch, change: Change) -> None:
    """Put what change makes of it in place of every ladder of a day."""

    def changed(entry: DayLadder) -> DayLadder:
        return entry if entry.ladder is None else replace(entry, ladder=change(entry.ladder))

    monkeypatch.setattr(
        "leanladder.cli.plan_day.plan_day",
        lambda *given, **named: tuple(changed(entry) for entry in plan_day(*given, **named)),
    )


def asked_of(monkeypatch: pytest.MonkeyPatch) -> list[Chance]:
    """Keep the chances that plans are asked for, and plan nothing."""
    kept: list[Chance] = []

    def keep(chance: Chance) -> None:
        kept.append(chance)
        raise InputError("made up")

    # first what imports these by name: a module imported while they are replaced would keep the replacement
    for where in ("plan_day.plan_day", "why_day.begun_day"):
        monkeypatch.setattr(f"leanladder.cli.{where}", lambda *_, chance, **__: keep(chance))
    monkeypatch.setattr("leanladder.planning.ladder.plan", lambda session, progress: keep(session.chance))  # noqa: ARG005
    monkeypatch.setattr("leanladder.planning.why.why", lambda session, *_: keep(session.chance))
    return kept


def valid(answer: dict[str, Any], name: str) -> None:
    """Hold an answer to a schema that refers to the ladder's as `ladder.json`."""
    ladder = Resource.from_contents(json.loads(schema_text("ladder")))
    registry: Any = Registry().with_resource("ladder.json", ladder)
    Draft202012Validator(json.loads(schema_text(name)), registry=registry).validate(answer)


@pytest.mark.parametrize(
    ("more", "chance"),
    [
        ((), Chance()),
        (("--chance", "99.5"), Chance(99.5, 1)),
        (("--seed", "7"), Chance(95.0, 7)),
        (("--chance=97", "--seed=0"), Chance(97.0, 0)),
    ],
)
def test_they_reach_every_session(
    capsys: Capture,
    monkeypatch: pytest.MonkeyPatch,
    asked: tuple[str, ...],
    day: str,
    more: tuple[str, ...],
    chance: Chance,
) -> None:
    kept = asked_of(monkeypatch)
    rung = ("--lap", "2", "--corner", "5")
    for words in (
        ("plan", *asked),
        ("plan", day),
        ("plan", day, "--session", "larks 1"),
        ("why", *asked, *rung),
        ("why", day, "--session", "larks 1", *rung),
    ):
        code, _, err = run(capsys, *words, *more)
        assert (code, err) == (2, "leanladder: made up\n")
    assert kept == [chance] * 5


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("--chance", "94"), f"Allowed: 95 to 99.5 in 100. {LOWER}"),
        (("--chance", "99.9"), f"Allowed: 95 to 99.5 in 100. {HIGHER}"),
        (("--chance", "0.99"), "0.99 looks like a share of 1; give 99."),
        (("--chance", "nan"), "Give a number."),
        (("--chance", "-inf"), "Give a number."),
        (("--chance", "95%"), "'95%' is not a number."),
        (("--chance", "high"), "'high' is not a number."),
        (("--seed", "-1"), "Allowed: 0 to 4294967295."),
        (("--seed", "4294967296"), "this is no seed."),
        (("--seed", "1.5"), "'1.5' is not a whole number."),
        (("--seed", "nan"), "'nan' is not a whole number."),
    ],
)
@pytest.mark.parametrize("command", ["plan", "why"])
@pytest.mark.parametrize("of_day", [False, True])
def test_what_cannot_be_asked_for(
    capsys: Capture,
    asked: tuple[str, ...],
    day: str,
    typed: tuple[str, ...],
    said: str,
    command: str,
    *,
    of_day: bool,
) -> None:
    rung = ("--lap", "2", "--corner", "5") if command == "why" else ()
    words = (command, *((day, "--session", "larks 1") if of_day else asked), *rung, *typed)
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert err.startswith(f"leanladder: {typed[0]}: ")
    assert said in err
    code, out, err = run(capsys, *words, "--json")
    error = json.loads(err)
    assert (code, out, error["field"], error["value"]) == (2, "", *typed)
    assert error["allowed"]
    assert error["remedy"] or typed[0] == "--seed"


@pytest.mark.parametrize("option", ["--chance", "--seed", "--odds"])
def test_ways_of_warming_draw_no_worlds(capsys: Capture, option: str) -> None:
    code, out, err = run(capsys, "ways", option, *([] if option == "--odds" else ["95"]))
    assert (code, out) == (2, "")
    assert option in err


def test_the_json_answer_tells_what_the_worlds_do(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, asked: tuple[str, ...], drawn: Ladder
) -> None:
    plans(monkeypatch, drawn)
    code, out, err = run(
        capsys, "--language", "de", "plan", *asked, "--chance", "96", "--seed", "3", "--json"
    )
    assert (code, err) == (0, "")
    answer = json.loads(out)
    valid(answer, "ladder")
    assert (answer["chance"], answer["seed"], answer["members"]) == (96.0, 3, 1024)
    assert {"chance": 96.0, "seed": 3}.items() <= answer["inputs"].items()
    assert answer["fall_odds"] == {"rider": 0.00029, "field": 0.0083, "riders": 30}
    for lap in answer["laps"]:
        for rung in lap["corners"]:
            low_deg, high_deg = rung["bike_band_deg"]
            assert low_deg < rung["bike_p50_deg"] < high_deg
            assert [each["text"] for each in rung["main_causes"]] == [
                wording.text(f"cause.{each['code']}", "de") for each in rung["main_causes"]
            ]


def test_without_worlds_their_keys_are_null(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, asked: tuple[str, ...], made_up: Callable[..., Ladder]
) -> None:
    plans(monkeypatch, made_up("lrr", 2))
    answer = json.loads(run(capsys, "plan", *asked, "--json")[1])
    valid(answer, "ladder")
    assert (answer["chance"], answer["seed"], answer["members"], answer["fall_odds"]) == (95.0, 1, 0, None)
    rungs = [rung for lap in answer["laps"] for rung in lap["corners"]]
    assert all(rung[key] is None for rung in rungs for key in RUNG_KEYS)


def test_an_answer_stored_before_stays_valid(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, asked: tuple[str, ...], drawn: Ladder
) -> None:
    plans(monkeypatch, drawn)
    answer = json.loads(run(capsys, "plan", *asked, "--json")[1])
    for key in ("chance", "seed", "members", "fall_odds"):
        del answer[key]
    for rung in (rung for lap in answer["laps"] for rung in lap["corners"]):
        for key in RUNG_KEYS:
            del rung[key]
    valid(answer, "ladder")


def test_odds_are_told_where_they_are_asked_for(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, asked: tuple[str, ...], drawn: Ladder
) -> None:
    plans(monkeypatch, drawn)
    plain, told = (run(capsys, "plan", *asked, *more)[1] for more in ((), ("--odds",)))
    flat = " ".join(plain.split())
    assert "In 95 of 100 cases computed, grip carries the limits it sets." in flat
    assert "fall" not in flat.replace("fall short", "")
    assert told.startswith(plain.removesuffix("\n"))
    assert "\n- One rider on these laps: about 1 in 3400.\n" in told
    assert max(map(len, told.splitlines())) <= 100


def test_a_day_tells_them_under_each_of_its_ladders(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, day: str, worlds: Change
) -> None:
    changed_days(monkeypatch, worlds)
    code, out, _ = run(capsys, "plan", day, "--session", "larks 1", "--laps", "1", "--odds")
    assert code == 0
    assert out.count("How far may they lean?") == out.count("How little we know of the grip") == 2
    assert max(map(len, out.splitlines())) <= 100


def test_a_days_json_tells_chance_and_worlds(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, day: str, worlds: Change
) -> None:
    changed_days(monkeypatch, worlds)
    session = ("plan", day, "--session", "larks 1", "--laps", "1", "--json")
    answer = json.loads(run(capsys, *session, "--chance", "98", "--seed", "2")[1])
    valid(answer, "day-plan")
    assert {"chance": 98.0, "seed": 2}.items() <= answer["inputs"].items()
    assert [(each["members"], each["chance"]) for each in answer["ladders"]] == [(1024, 98.0)] * 2
