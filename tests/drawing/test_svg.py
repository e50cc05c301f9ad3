"""What every drawing on a page has: a title, ids of its own, and nothing that a strict policy forbids."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from leanladder import drawing
from leanladder.domain.ladder import Rubber
from leanladder.drawing import Name

WARM = Rubber(18.0, 23.0, 27.0, 18.0, 23.0, 27.0, 22.0)
PLOT = drawing.Plot(drawing.Axis("minutes", 0, 10), drawing.Axis("°C", 0, 50))
NAME = Name("Tom & Ida's <tyre>", "a-1")
PICTURES = {
    "board": drawing.ladder_cell("left", drawing.LadderCell(18, 12.0, "front_grip"), NAME),
    "cooling": drawing.cooling([40.0, 30.0], 1.0, drawing.StopWords("warm", "cold", "minutes"), NAME),
    "crown": drawing.crown(
        drawing.Standing(drawing.thirds(WARM, 55), "left", 20, 9), drawing.CrownWords("Front", "here"), NAME
    ),
    "curve": drawing.curve(PLOT, [(0, 1), (10, 20)], [], NAME),
    "fan": drawing.rider_fan("left", 2, NAME),
    "heat": drawing.heat([drawing.Flows("In", "in", (drawing.Flow("road", 3.0),))], NAME),
    "hot": drawing.hot_legend(NAME),
    "limit": drawing.limit_mark("power", NAME),
    "minutes": drawing.minutes(PLOT, [drawing.Course("front", (1, 2), (9, 12), "front")], NAME),
    "named": drawing.named(drawing.fan("left", 2, inks=drawing.SCREEN), NAME),
    "plank": drawing.turn_plank(5, "left", NAME, chosen=True),
    "restart": drawing.restart_fan(drawing.Restart(4, "left", 17, 26), NAME),
    "side laps": drawing.side_laps(PLOT, [drawing.SideLaps("left", "left", (9.0, 11.0))], NAME),
    "warmth": drawing.warmth_legend(NAME),
}


@pytest.mark.parametrize("picture", PICTURES.values(), ids=PICTURES.keys())
def test_a_picture_is_an_image_with_its_title(picture: str) -> None:
    root = ET.fromstring(picture)  # noqa: S314  # our own
    title = root[0]
    assert root.attrib["role"] == "img"
    assert title.tag.endswith("title")
    assert title.text == NAME.title
    assert root.attrib["aria-labelledby"] == title.attrib["id"] == "a-1-title"


@pytest.mark.parametrize("picture", PICTURES.values(), ids=PICTURES.keys())
def test_ids_begin_with_the_prefix(picture: str) -> None:
    assert all(found.startswith("a-1") for found in re.findall(r'\bid="([^"]*)"', picture))


@pytest.mark.parametrize("picture", PICTURES.values(), ids=PICTURES.keys())
def test_nothing_that_a_strict_policy_forbids(picture: str) -> None:
    assert not re.search(r"\sstyle=|<style|<script|\son\w+=|href=|url\(", picture)


@pytest.mark.parametrize("picture", PICTURES.values(), ids=PICTURES.keys())
def test_a_picture_keeps_to_ink_and_mulberry(picture: str) -> None:
    inks = drawing.SCREEN
    allowed = {inks.ink, inks.ground, inks.soft, inks.hatch, inks.pale, inks.wash, inks.rule, "none"}
    assert set(re.findall(r'(?:fill|stroke)="([^"]+)"', picture)) <= allowed


def luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2."""
    full = colour if len(colour) == 7 else "#" + "".join(letter * 2 for letter in colour[1:])
    parts = [int(full[index : index + 2], 16) / 255 for index in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("text", [drawing.SCREEN.ink, drawing.SCREEN.soft])
@pytest.mark.parametrize("ground", [drawing.SCREEN.ground, drawing.SCREEN.wash])
def test_text_keeps_seven_to_one(text: str, ground: str) -> None:
    # WCAG 2.2, 1.4.6, from memory.
    assert (luminance(ground) + 0.05) / (luminance(text) + 0.05) > 7
