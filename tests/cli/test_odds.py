"""What is not known, in words: every figure, nothing that tempts and nothing that reads as a promise."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import leanladder
from leanladder import wording
from leanladder.cli.odds import RAREST, doubt_lines, odds_said, odds_text
from leanladder.cli.table import WIDTH, ladder_text
from leanladder.domain.chance import Cause, Doubt, FallOdds
from leanladder.domain.ladder import Ladder
from leanladder.wording import text, unmarked

MakeLadder = Callable[..., Ladder]
Change = Callable[[Ladder], Ladder]

WHOLE = """\
How little we know of the grip
Do not ride to these figures. Ride within the ladder. They tell what lean grip carries in 1024 cases
computed. Bike lean, degrees, rounded down, scatter counted in. First figure: in half the cases it
carries less. Then: in 5 of 100 it carries less. Last: in 5 of 100 it carries more.
None of it is a limit, nor a reserve. A plus: over the level's top nothing is shown. It allows
nothing.

Turn      1            2            3
Lap 1                 27 22-32 a   28 23-32 b
Lap 2    29 24-33 a   29 24-34 b   30 25-34 c

What moves it most: a = the grip this front tyre has, b = the grip that cold rubber keeps, c = the
track's temperature.
Lap 1, turn 2, moved most by: the grip this front tyre has; the grip that cold rubber keeps; the
air's temperature.

Falls for want of grip by this model, for the head instructor:
- One rider on these laps: about 1 in 3400.
- At least one of 30 such riders, all on this day: about 1 in 120.
Only grip is counted, and only while riders keep within the plan. A fall: the planned lean, with
scatter, asks for all the grip. A limit holds part of it back. This model knows nothing of oil,
other riders or mistakes. Real falls come more often.
The greatest part is turn 3 on lap 1."""
# How a grid's cell tells the middle and the band; a plus stands for what lies over the level's top.
CELL = re.compile(r"(\d+)(\+?) (?:(\d+)-)?(\d+)(\+?) ([a-z])")


def test_the_whole_text(made_up: MakeLadder, worlds: Change) -> None:
    assert odds_text(worlds(made_up("lrr", 2, missing=frozenset({1})))) == WHOLE


def test_a_ladder_without_worlds_says_so(made_up: MakeLadder) -> None:
    assert odds_text(made_up("lrr", 2)) == "No cases were computed for this ladder."


@pytest.mark.parametrize("language", wording.languages())
@pytest.mark.parametrize("corners", [1, 7, 8, 30])
@pytest.mark.parametrize("laps", [1, 40])
def test_no_line_is_wider_than_a_page(
    made_up: MakeLadder, worlds: Change, corners: int, laps: int, language: str
) -> None:
    lines = odds_text(worlds(made_up(("lr" * corners)[:corners], laps)), language).splitlines()
    assert max(map(len, lines)) <= WIDTH
    label = text("table.turn", language)
    heads = [line.split() for line in lines if re.match(rf"{label} +\d", line)]
    assert [int(number) for head in heads for number in head[1:]] == list(range(1, corners + 1))


def test_cells_tell_the_figures_rounded_down_and_none_over_the_top_of_the_level(
    made_up: MakeLadder, worlds: Change
) -> None:
    ladder = worlds(made_up("lrrlrrl", 9))
    top_deg = ladder.session.level.top_lean_deg.value
    rows = [line for line in odds_text(ladder).splitlines() if re.match(r"Lap \d ", line)]
    for lap, row in zip(ladder.laps, rows, strict=True):
        cells = CELL.findall(row[8:])
        assert len(cells) == len(lap.rungs)
        for rung, (middle, middle_over, low, high, high_over, _) in zip(lap.rungs, cells, strict=True):
            assert rung.doubt is not None
            low_deg, high_deg = rung.doubt.bike_band_deg
            told = ((rung.doubt.bike_p50_deg, middle, middle_over), (high_deg, high, high_over))
            for lean_deg, figure, over in told:
                assert bool(over) == (lean_deg > top_deg)
                assert int(figure) == int(min(lean_deg, top_deg))
            assert low == ("" if low_deg > top_deg else str(int(low_deg)))


def test_odds_of_a_fall_are_told_only_where_they_were_counted(made_up: MakeLadder, worlds: Change) -> None:
    shown = odds_text(replace(worlds(made_up("lrr", 2)), fall_odds=None))
    assert "fall" not in shown
    assert shown.endswith("temperature.")


def test_rare_falls_are_no_figure_and_name_no_turn(made_up: MakeLadder, worlds: Change) -> None:
    ladder = replace(worlds(made_up("lr", 1)), fall_odds=FallOdds(0.0, 0.00009, 30))
    rare = replace(ladder.laps[0].rungs[0], doubt=doubt_of(0.00001))
    shown = odds_text(replace(ladder, laps=(replace(ladder.laps[0], rungs=(rare,)),)))
    assert shown.count("fewer than 1 in 10,000.") == 2
    assert "The greatest part" not in shown
    assert "knows nothing of" in shown


def doubt_of(fall_odds: float, *, middle: float = 24.0) -> Doubt:
    band = (middle - 5.0, middle + 5.0)
    return Doubt(middle, band, middle, band, fall_odds, (Cause("track", 0.5), Cause("glass", 0.2)))


def test_a_turn_without_causes_bears_no_letter(made_up: MakeLadder, worlds: Change) -> None:
    ladder = worlds(made_up("lr", 1))
    rungs = tuple(
        replace(rung, doubt=replace(doubt_of(0.0), main_causes=())) for rung in ladder.laps[0].rungs
    )
    shown = odds_text(replace(ladder, laps=(replace(ladder.laps[0], rungs=rungs),)))
    assert "Lap 1    24 19-29     24 19-29\n" in shown
    assert "moves it most" not in shown


@pytest.mark.parametrize(
    ("odds", "said"),
    [
        (0.0, "fewer than 1 in 10,000"),
        (0.0000999, "fewer than 1 in 10,000"),
        (0.0001, "about 1 in 10000"),
        (0.00029, "about 1 in 3400"),
        (0.0083, "about 1 in 120"),
        (0.02, "about 1 in 50"),
        (0.1, "about 1 in 10"),
        (0.101, "11 in 100"),
        (0.29, "29 in 100"),
        (1.0, "100 in 100"),
    ],
)
def test_odds_in_words(odds: float, said: str) -> None:
    assert odds_said(odds, "en") == said


@given(st.floats(min_value=0.0, max_value=1.0))
@example(1.0 / 3.0)
@example(0.07)
def test_odds_are_never_told_smaller_than_they_are(odds: float) -> None:
    few, many = (int(part) for part in re.findall(r"\d+", odds_said(odds, "en").replace(",", "")))
    assert few / many >= odds - 1e-9
    assert few / many <= max(1.11 * odds, 1.0 / RAREST) + 0.01 * (odds > 0.1)


@pytest.mark.parametrize("language", wording.languages())
def test_the_rarest_odds_told_are_the_same_in_every_text(language: str) -> None:
    assert re.sub(r"\D", "", unmarked("odds.rare", language)) == f"1{RAREST}"


def test_one_rung_in_sentences_names_no_figure_over_the_top() -> None:
    within, partly, over = (" ".join(doubt_lines(doubt_of(0.002), top, "en")) for top in (50.0, 22.0, 18.0))
    assert within.startswith("In 95 of 100 cases computed, grip carries 19°, bike lean. In half it")
    assert "carries 24°, in 5 of 100 29°" in within
    assert "carries over 22°" in partly
    assert "carries 19°" in partly
    assert "in 5 of 100 over 22°" in partly
    assert over.startswith("In 95 of 100 cases computed, grip carries over 18°, bike lean. Moved")
    for said in (within, partly, over):
        assert "Moved most by: the track's temperature; the temperature that makes the rubber stiff." in said
        assert "by model: about 1 in 500. This model knows nothing of oil, other riders or mistakes." in said


@pytest.mark.parametrize("of_100", [95.0, 99.5])
def test_the_ladder_says_in_how_many_worlds_grip_carries_it(
    made_up: MakeLadder, worlds: Change, of_100: float
) -> None:
    ladder = worlds(made_up("lrr", 2))
    asked = replace(ladder.session, chance=replace(ladder.session.chance, of_100=of_100))
    shown = ladder_text(replace(ladder, session=asked), cautions=(), warnings=())
    flat = " ".join(shown.split())
    assert f"In {of_100:g} of 100 cases computed, grip carries the limits it sets." in flat
    assert "no promise" in flat
    assert "worlds" not in ladder_text(made_up("lrr", 2), cautions=(), warnings=())


def test_no_paper_knows_of_doubt_or_of_odds() -> None:
    """All this is for instructors on a screen: pages are neither made of it nor worded by it."""
    root = Path(leanladder.__file__).parent
    papers = [root / "domain" / "paper.py"]
    for folder in ("sheets", "drawing", "planning/paper", "planning/lists"):
        papers += (path for path in (root / folder).rglob("*") if path.suffix in {".py", ".typ"})
    assert len(papers) > 20
    for path in papers:
        found = re.search(
            r"fall_odds|\.doubt\b|main_causes|[\"']odds\.|[\"']cause\.", path.read_text("utf-8")
        )
        assert found is None, f"{path.name} tells of {found}"
