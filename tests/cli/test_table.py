"""The plain table: every figure, its shape and its words, readable without colour."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.cli.notices import notices
from leanladder.cli.states import states_text
from leanladder.cli.table import WIDTH, advice_text, clock, ladder_text, plank, whole_deg
from leanladder.domain.ladder import ColdAdvice, Ladder
from leanladder.domain.weather import Origin

MakeLadder = Callable[..., Ladder]

WHOLE = """\
How far may they lean? Bike lean, degrees, rounded down. A limit, never a target.
Quillmoor, 1.25 km, 1 left, 3 right. Closed course.
Air 7 °C. Track 9 °C, measured.
Level regular, usual lean 38°. Start: tyres cold.
Tyres: front sport-road, rear sport-road. Machine: middleweight-sport.
The tyres' condition is not stated. They count as scrubbed and sound.

Turn            1     2     3     4
Lap 1    0:00      [|18T)]|19/) |19#)
Lap 2    1:44 (17T|[|21/)]|22#) |22o)
Lap 3    3:28 (20/|[|24#)]|25o) |25@)
Lap 4    5:12 (23#|[|27o)]|28@) |28T)

What sets the limit: o front grip, @ rear grip, # caution card, T top of level, / clearance.
Shape: (   | left, |   ) right, [   ] least margin this lap.
Caution card: common practice by rubber temperature. Read 1 °C colder, for doubt about the road.
Blank: the lap starts behind this turn.

Least margin at usual lean: turn 2, right, laps 1 to 4.
Lap 1, turn 2, limit 18°. The caution card sets it.

Warnings:
- Turn 1, left, has the least margin, from lap 1. Respect this turn.

Straights: laps 1 to 2 coach's pace only; laps 3 to 4 as usual.

Turns: 1 Kiln, 2 Teasel, 3 Tollgate, 4 Barley.

Shoulder below its working range: left, laps 2 to 3; right, lap 1.

Hot pressure, bar gauge, at the end of the lap:
Lap       1    2    3    4
front  2.13 2.16 2.19 2.22
rear   1.94 1.98 2.02 2.06
Set cold: front 2.10, rear 1.90 at 15 °C.

Cautions:
- Dry only. Rain or damp voids it.
- Each figure is a limit, never a target.

leanladder, engine 1, figures 0123456789ab."""

STATES = """\
Tyres as each lap ends, °C
Loaded: outer 2 mm. Base: tread under it. Both and carcass weighted by load.
               outer 2 mm            skin
Lap           l    c    r     l    c    r   loaded     base  carcass      gas      rim
1   front    12   21   15    12   22   16       13       15       24       12       10
    rear     13   22   16    14   22   16       14       16       25       13       11
2   front    12   21   15    12   22   16       13       15       24       13       10
    rear     13   22   16    14   22   16       14       16       25       14       11"""


def printed(ladder: Ladder, width: int = WIDTH) -> str:
    return ladder_text(ladder, cautions=notices(ladder.cautions, "en"), warnings=ladder.warnings, width=width)


def test_the_whole_text(made_up: MakeLadder) -> None:
    names = ("Kiln", "Teasel", "Tollgate", "Barley")
    assert printed(made_up("lrrr", 4, names=names, missing=frozenset({1}))) == WHOLE


@pytest.mark.parametrize("corners", [1, 11, 14, 15, 30])
@pytest.mark.parametrize("laps", [1, 12, 40])
def test_no_line_is_wider_than_a_page(made_up: MakeLadder, corners: int, laps: int) -> None:
    lines = printed(made_up(("lr" * corners)[:corners], laps)).splitlines()
    assert max(map(len, lines)) <= WIDTH


@pytest.mark.parametrize(("corners", "blocks"), [(14, 1), (15, 2), (28, 2), (29, 3)])
def test_many_corners_wrap_into_blocks(made_up: MakeLadder, corners: int, blocks: int) -> None:
    lines = printed(made_up(("lr" * corners)[:corners], 12)).splitlines()
    heads = [line for line in lines if line.startswith("Turn ")]
    assert len(heads) == blocks
    numbers = [int(word) for head in heads for word in head.split()[1:]]
    assert numbers == list(range(1, corners + 1))


def test_each_lap_has_one_clamp_and_it_is_the_least_margins(made_up: MakeLadder) -> None:
    ladder = made_up("rrlrr", 4)
    moved = replace(ladder, laps=tuple(replace(lap, least_margin=lap.lap + 1) for lap in ladder.laps))
    rows = [line for line in printed(moved).splitlines() if re.match(r"Lap \d+ +\d+:", line)]
    assert len(rows) == 4
    for row, lap in zip(rows, moved.laps, strict=True):
        planks = re.findall(r"\(\d\d.\||\|\d\d.\)", row)
        assert re.findall(r"\[([^\]]*)\]", row) == [planks[lap.least_margin - 1]]


def test_a_ladder_without_the_card_does_not_explain_it(made_up: MakeLadder) -> None:
    ladder = made_up("lr", 3)
    assert "Caution card: common practice" in printed(ladder)
    laps = tuple(
        replace(lap, rungs=tuple(replace(rung, limited_by="level_top") for rung in lap.rungs))
        for lap in ladder.laps
    )
    assert "Caution card: common practice" not in printed(replace(ladder, laps=laps))


def test_each_turn_with_least_margin_says_why_once(made_up: MakeLadder) -> None:
    ladder = made_up("rrlrr", 4)
    turns = (1, 3, 3, 1)
    laps = tuple(replace(lap, least_margin=turn) for lap, turn in zip(ladder.laps, turns, strict=True))
    shown = printed(replace(ladder, laps=laps)).splitlines()
    place = next(row for row, line in enumerate(shown) if line.startswith("Least margin"))
    assert shown[place : place + 4] == [
        "Least margin at usual lean: turn 1, right, lap 1; turn 3, left, laps 2 to 3; turn 1, right, lap 4.",
        "Lap 1, turn 1, limit 18°. The caution card sets it.",
        "Lap 2, turn 3, limit 18°. The caution card sets it.",
        "",
    ]


def test_a_shoulder_that_cools_is_not_said_to_warm(made_up: MakeLadder) -> None:
    ladder = made_up("lr", 4)
    laps = tuple(
        replace(lap, rungs=tuple(replace(rung, shoulder_in=lap.lap in (1, 3)) for rung in lap.rungs))
        for lap in ladder.laps
    )
    shown = printed(replace(ladder, laps=laps))
    expected = "below its working range: left, lap 2; left, lap 4; right, lap 2; right, lap 4."
    assert expected in " ".join(shown.split())


def test_sides_differ_by_shape_alone(made_up: MakeLadder) -> None:
    text = printed(made_up("lr", 2))
    grid = next(line for line in text.splitlines() if line.startswith("Lap 1 "))
    left, right = re.findall(r"\(\d\d.\||\|\d\d.\)", grid)
    assert (left[0], left[-1]) == ("(", "|")
    assert (right[0], right[-1]) == ("|", ")")
    assert plank("left", "17#") != plank("right", "17#")


def test_a_pipe_gets_no_control_characters(made_up: MakeLadder) -> None:
    text = printed(made_up("lrrl", 3))
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", text)


@pytest.mark.parametrize(
    ("origin", "words"), [("computed", "computed from"), ("assumed", "assumed, not measured")]
)
def test_a_computed_or_assumed_track_says_so(made_up: MakeLadder, origin: Origin, words: str) -> None:
    ladder = made_up("lr", 1)
    road = replace(ladder.session.road, origin=origin)
    changed = replace(ladder, session=replace(ladder.session, road=road))
    assert f"Track 9 °C, {words}" in printed(changed)


@given(st.floats(min_value=0.0, max_value=89.0))
def test_a_limit_is_never_shown_higher_than_it_is(lean_deg: float) -> None:
    shown = int(whole_deg(lean_deg))
    assert shown <= lean_deg < shown + 1


@pytest.mark.parametrize(
    ("minutes", "shown"), [(0.0, "0:00"), (104 / 60, "1:44"), (59.999, "59:59"), (75.5, "75:30")]
)
def test_minutes_as_a_clock(minutes: float, shown: str) -> None:
    assert clock(minutes) == shown


def test_states_through_depth(made_up: MakeLadder) -> None:
    assert states_text(made_up("lr", 2)) == STATES


@pytest.mark.parametrize(
    ("cold_bar", "minimum_bar", "words"),
    [
        (2.17, 2.0, "front: 2.17 bar at 9 °C reads 2.40 hot after lap 8."),
        (2.0, 2.0, "front: 2.00 bar at 9 °C, the maker's minimum."),
        (None, None, "front: no cold pressure."),
    ],
)
def test_cold_pressure_for_a_hot_one(cold_bar: float | None, minimum_bar: float | None, words: str) -> None:
    advised = advice_text([ColdAdvice("front", 2.4, cold_bar, minimum_bar, 9.0, 8)])
    assert words in advised
    assert max(map(len, advised.splitlines())) <= WIDTH
