"""The worded procedures: complete, without a figure, and with the way back to numbers."""

from __future__ import annotations

import re
from typing import get_args

import pytest

from leanladder.domain.sentence import Sentence
from leanladder.planning.procedures import Kind, back, procedure, rider_steps, steps
from leanladder.wording import languages, text

KINDS: tuple[Kind, ...] = get_args(Kind)


def words(lines: tuple[Sentence, ...], language: str = "en") -> str:
    return " ".join(text(line.code, language, **line.figures) for line in lines)


def all_words(kind: Kind, language: str = "en") -> str:
    page = procedure(kind, language)
    heads = [text(part.head, language) for part in page.parts]
    title = [text(f"procedure.title_{kind}", language), text(f"procedure.says_{kind}", language)]
    return " ".join([*title, *heads, *(words(part.lines, language) for part in page.parts)])


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("kind", KINDS)
def test_no_figure_of_lean_speed_or_anything_stands_in_them(kind: Kind, language: str) -> None:
    said = all_words(kind, language) + words(steps(kind), language) + words(rider_steps(kind), language)
    assert not re.search(r"\d|°|km/h|mph|\bbar\b|\bpsi\b", said)


@pytest.mark.parametrize("kind", KINDS)
def test_each_part_has_a_head_and_something_to_do(kind: Kind) -> None:
    page = procedure(kind, "en")
    assert (page.kind, page.language) == (kind, "en")
    assert all(text(part.head) and part.lines for part in page.parts)
    lines = [line.code for part in page.parts for line in part.lines]
    assert len(lines) == len(set(lines))


@pytest.mark.parametrize("kind", KINDS)
def test_the_page_ends_with_the_way_back_to_numbers(kind: Kind) -> None:
    last = procedure(kind, "en").parts[-1]
    assert last.head == "procedure.back"
    assert last.lines == back(kind)


@pytest.mark.parametrize("kind", ["wet", "drying"])
def test_numbers_come_back_by_two_people_a_measurement_and_new_cards(kind: Kind) -> None:
    # Common practice: nobody goes back by the look of one turn, or on cards handed out before.
    said = words(back(kind))
    for word in ("Two people", "all of the lap", "braking zones", "measured", "new plan", "new day word"):
        assert word in said
    assert "old cards stay void" in said


@pytest.mark.parametrize("kind", ["wet", "drying"])
def test_wet_and_drying_say_who_decides_and_what_is_slippery(kind: Kind) -> None:
    # Common practice.
    said = all_words(kind)
    for word in (
        "head instructor",
        "upright",
        "coach rides in front",
        "tyre maker",
        "painted lines",
        "kerbs",
    ):
        assert word in said.replace("Painted", "painted")


def test_the_drying_track_names_what_dries_last() -> None:
    said = all_words("drying")
    assert all(word in said for word in ("Dark patches", "shade", "under trees", "drains"))


def test_the_leaflet_names_what_is_met_on_roads_and_gives_no_lean() -> None:
    said = all_words("open_road")
    for word in ("Traffic rules", "shade", "Meltwater", "Grit", "first bends after a stop"):
        assert word in said
    # Lean is named once, to say that nothing is said of it.
    assert len(re.findall(r"\blean\w*", said, re.IGNORECASE)) == 1
    assert "Nothing here says how far to lean" in said


@pytest.mark.parametrize("kind", KINDS)
def test_nobody_is_told_to_ride_harder_for_heat(kind: Kind) -> None:
    said = all_words(kind) + words(steps(kind)) + words(rider_steps(kind))
    for sentence in re.split(r"(?<=[.?!]) ", said):
        if re.search(r"\b(weav\w*|harder)\b", sentence):
            assert re.search(r"\b(not|nobody)\b", sentence, re.IGNORECASE), sentence


@pytest.mark.parametrize("kind", KINDS)
def test_what_goes_on_a_page_beside_the_reason_is_short_and_of_the_procedure(kind: Kind) -> None:
    page = {line.code for part in procedure(kind, "en").parts for line in part.lines}
    assert {line.code for line in (*steps(kind), *rider_steps(kind))} <= page
    assert len(steps(kind)) <= 8
    assert len(rider_steps(kind)) <= 6
