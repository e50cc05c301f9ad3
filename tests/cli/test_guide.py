"""`leanladder guide`: the lesser of front and rear, in words and as JSON."""

from __future__ import annotations

import json
from dataclasses import dataclass

import pytest
from jsonschema import Draft202012Validator

from leanladder.cli.main import main
from leanladder.interchange.schemas import schema_text


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(["guide", *arguments])
    out, err = capsys.readouterr()
    return code, out, err


def test_the_guide_covers_0_to_110_degrees(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "--tyre", "sport-road", "--rider", "new", "--json")
    answer = json.loads(out)
    Draft202012Validator(json.loads(schema_text("guide"))).validate(answer)
    assert code == 0
    rubber = [row["rubber_c"] for row in answer["rows"]]
    assert (rubber[0], rubber[-1]) == (0, 110)
    assert rubber == sorted(rubber)


def test_the_card_is_the_cautious_guide_of_the_trade(capsys: pytest.CaptureFixture[str]) -> None:
    """Common practice (trade fact T1): about 10 deg at 0 degC, about 17 deg at 10 degC, then slowly more."""
    _, out, _ = run(capsys, "--tyre", "sport-road", "--rider", "new", "--json")
    card = {row["rubber_c"]: row["card_bike_deg"] for row in json.loads(out)["rows"]}
    assert 9.0 <= card[0] <= 10.0
    assert 16.0 <= card[10] <= 17.0
    shown = list(card.values())
    assert shown == sorted(shown)


def test_the_words_it_must_say(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "--tyre", "sport-road", "--rider", "regular")
    assert code == 0
    assert "Read the rubber of the shoulder about to be used." in out
    assert "The warm centre says nothing of it." in out
    assert "The road is dry and above 3 °C." in out
    assert "Not for public roads." in out
    assert "An index, never multiplied into grip." in out
    assert max(map(len, out.splitlines())) <= 100


def test_no_limit_shown_is_above_the_levels_top_or_its_parts(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "--tyre", "sport-road", "--rider", "regular")
    rows = [line.split() for line in out.splitlines() if line[:11].strip().isdigit()]
    assert len(rows) > 10
    for _, limit, card, physics, _, _ in rows:
        assert int(limit) <= min(int(card), int(physics), 40)


@dataclass(frozen=True)
class Bad:
    arguments: tuple[str, ...]
    said: str


@pytest.mark.parametrize(
    "bad",
    [
        Bad(("--tyre", "sport-raod", "--rider", "new"), "Did you mean sport-road?"),
        Bad(("--tyre", "sport-road", "--rider", "newish"), "Did you mean new?"),
        Bad(("--tyre", "sport-road", "--rider", "new", "--surface", "polishd"), "Did you mean polished?"),
        Bad(("--tyre", "sport-road", "--rider", "new", "--surface", "0.8"), "there is no surface"),
        Bad(("--tyre", "no/such.toml", "--rider", "new"), "no such file"),
        Bad(("--tyre", "sport-road"), "--rider"),
        Bad(("--rider", "new"), "--tyre"),
    ],
)
@pytest.mark.parametrize("as_json", [False, True])
def test_bad_input_ends_with_2_and_an_empty_stdout(
    capsys: pytest.CaptureFixture[str], bad: Bad, *, as_json: bool
) -> None:
    code, out, err = run(capsys, *bad.arguments, *(["--json"] if as_json else []))
    assert (code, out) == (2, "")
    if as_json:
        error = json.loads(err)
        assert error["schema"] == "leanladder.error/1"
        assert bad.said in " ".join(str(part) for part in error.values())
    else:
        assert bad.said in err
        assert "Traceback" not in err
