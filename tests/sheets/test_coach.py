"""The coach's sheet: everything on it, nothing cut off, one ink, and not a letter too small to read."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from datetime import UTC, date, datetime, time
from io import BytesIO
from typing import Any, cast

import numpy as np
import pytest
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream, NameObject

from leanladder import catalogue, wording
from leanladder.domain.circuit import Circuit, Corner
from leanladder.domain.errors import LeanladderError
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import (
    CoachCell,
    CoachRow,
    CoachSheet,
    Figure,
    Heading,
    NoSheet,
    PressureRow,
    Span,
    Straight,
)
from leanladder.domain.sentence import Sentence
from leanladder.sheets import coach_pdf
from leanladder.sheets.coach import coach_data, coach_pictures

LEAST_PT = 8.0
HEADING = Heading(
    school="Fernhollow Riding School",
    circuit="Fernhollow",
    date=date(2026, 4, 12),
    session="terns 2",
    group="terns",
    at=time(10, 30),
    valid_from=time(10, 30),
    valid_until=time(10, 50),
    day_word="willow",
    set_name="b",
    head="Ada Marsh",
    given_out=datetime(2026, 4, 12, 9, 31, tzinfo=UTC),
)


def said(code: str, **figures: object) -> Sentence:
    """A sentence with every figure that its text needs."""
    return Sentence(code, {name: figures.get(name, 7) for name in wording.codes()[code]})


def words(code: str, **figures: object) -> str:
    return in_words(said(code, **figures))


def in_words(sentence: Sentence) -> str:
    return wording.unmarked(sentence.code, "en", **sentence.figures)


def circuit(count: int, name: str = "Bend") -> Circuit:
    turn = -np.linspace(0, 2 * np.pi, 900, endpoint=False)
    x, y = 500 * np.cos(turn), 300 * np.sin(turn)
    length, zero = 2600.0, np.zeros(900)
    share = length / count
    corners = tuple(
        Corner(i + 1, f"{name} {i + 1}", "left" if i % 3 == 1 else "right", (i + 0.2) * share,
               (i + 0.4) * share, (i + 0.6) * share, 60.0, 90.0, 200.0)
        for i in range(count)
    )  # fmt: skip
    return Circuit(
        name="Fernhollow", length_m=length, net_turns=-1, s_m=np.arange(900) * length / 900, x_m=x, y_m=y,
        curvature_per_m=zero, elevation_m=zero, bank_deg=zero, shaded=zero.astype(bool), corners=corners,
    )  # fmt: skip


def rows(lap: Circuit, *, hot: bool = False) -> tuple[CoachRow, ...]:
    return tuple(
        CoachRow(
            corner.number,
            corner.name,
            corner.side,
            tuple(
                None
                if index == span == 0
                else CoachCell(
                    12 + index + 5 * span, 41 + 3 * index + span, 8.0 + 8 * span, "caution_card", index == 4,
                    hot and span == 2,
                )
                for span in range(3)
            ),
        )
        for index, corner in enumerate(lap.corners)
    )  # fmt: skip


def sheet(count: int = 12, name: str = "Bend", **changed: Any) -> CoachSheet:
    lap = circuit(count, name)
    ladder = Ladder(cast("Any", None), (), (), (), engine="3", parameters="0123456789abcdef")
    base = CoachSheet(
        heading=HEADING,
        coaches=("Ina", "Rolf"),
        language="en",
        level="regular",
        riders=("Elder", "Rowan"),
        machines=("14", "22"),
        circuit=lap,
        ladder=ladder,
        figures=(
            Figure("coach.turn", "9 °C", "measured", said("coach.least", number=5, side="left")),
            Figure("coach.start", "11 °C", "computed"),
            Figure("coach.rubber", "8 °C", "assumed"),
        ),
        spans=tuple(Span("laps", lap_number, lap_number) for lap_number in (1, 2, 3)),
        rows=rows(lap),
        least=(5, "left"),
        least_why=(said("caution.dry_only"),),
        straights=(Straight(count, 1, 453.4), Straight(4, 5, 211.0)),
        pressures=(
            PressureRow(("14", "22"), 2.1, 1.95, 2.0, 1.8, 9.0, -0.05),
            PressureRow(("9",), None, None, None, None, 9.0),
        ),
        checks=(said("caution.no_weaving"), said("caution.no_harder")),
        stops=(said("caution.limit"),),
        warnings=(said("warning.shade_unknown"),),
        field_notes=(said("caution.rules_first"),),
    )
    return dataclasses.replace(base, **changed)


def no_sheet() -> NoSheet:
    return NoSheet(
        HEADING, ("Ina",), "en", ("Elder",), ("14",),
        why=(said("refusal.wet_or_damp"),), steps=(said("caution.dry_only"),), back=(said("caution.limit"),),
    )  # fmt: skip


def pages(made: bytes) -> list[PageObject]:
    return list(PdfReader(BytesIO(made)).pages)


def text_of(made: bytes) -> str:
    """All text, a space where a line ends, so that a sentence over two lines is found again."""
    return " ".join(" ".join(page.extract_text() for page in pages(made)).split())


def pieces(page: PageObject) -> Iterator[tuple[str, float, float, float]]:
    """Each piece of text with its place [pt] and its size in print [pt]."""
    found: list[tuple[str, float, float, float]] = []

    def note(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            scale = abs((tm[2] * cm[1] + tm[3] * cm[3]) * size)
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            found.append((text.strip(), x, y, scale))

    page.extract_text(visitor_text=note)
    return iter(found)


def test_a_usual_sheet_is_one_page_with_everything_on_it() -> None:
    page = sheet()
    made = coach_pdf([page])
    assert len(pages(made)) == 1
    text = text_of(made)
    for row in page.rows:
        assert row.name is not None
        assert row.name in text
        for cell in row.cells:
            assert cell is None or (str(cell.cap_deg) in text and str(cell.speed_kmh) in text)
    for told in (
        "WILLOW", "VALID 10:30 TO 10:50", "DRY ONLY", "VOID IF WET OR DAMP", "terns 2", "regular",
        "Ina, Rolf", "Elder, Rowan", "14, 22", "Fernhollow", "clockwise", "2.60 km", "Sunday 12 April",
        "9 °C", "11 °C",
        "Least margin: turn 5, left", "453 m", "211 m", "2.1", "1.95", "2.0 / 1.8", "not stated", "none",
        "Given out 09:31 by Ada Marsh.", "set B", "engine 3", "measured", "computed", "assumed", "start",
    ):  # fmt: skip
        assert told in text, told
    for sentence in (*page.checks, *page.stops, *page.warnings, *page.field_notes, *page.least_why):
        assert words(sentence.code) in text


def test_the_same_sheet_is_the_same_bytes() -> None:
    assert coach_pdf([sheet(), no_sheet()]) == coach_pdf([sheet(), no_sheet()])


@pytest.mark.parametrize("count", [1, 12, 16, 20])
def test_up_to_twenty_turns_stand_on_one_page(count: int) -> None:
    made = coach_pdf([sheet(count)])
    assert len(pages(made)) == 1
    assert all(f"Bend {number + 1}" in text_of(made) for number in range(count))


def test_what_does_not_fit_goes_on_to_a_second_page_and_none_is_lost() -> None:
    long_name = "Bend of the very old railway bridge over the mill stream"
    lap = circuit(20, long_name)
    page = sheet(
        20,
        long_name,
        rows=rows(lap, hot=True),
        checks=tuple(said("warning.tyre_unfit_cold", family=f"family {index}") for index in range(8)),
        warnings=tuple(said("warning.limits_fall", lap=index) for index in range(40, 52)),
        pressures=tuple(PressureRow((f"machine {i}",), 2.1, 2.0, 2.0, 1.8, 8.0 + i) for i in range(6)),
        riders=tuple(f"Somebody Longname {index}" for index in range(12)),
    )
    made = coach_pdf([page])
    assert len(pages(made)) == 2
    text = text_of(made).replace("- ", "").replace(" ", "")
    for sentence in (*page.checks, *page.warnings):
        assert in_words(sentence).replace(" ", "") in text
    for told in (*page.riders, *(name for row in page.pressures for name in row.machines)):
        assert told.replace(" ", "") in text
    assert all(f"stream{number + 1}" in text for number in range(20))
    assert text.count("DRYONLY") == 2
    assert "Page1of2" in text
    assert "Page2of2" in text


@pytest.mark.parametrize("page", [sheet(), sheet(20), no_sheet()])
def test_nothing_runs_off_the_page_and_no_letter_is_too_small(page: CoachSheet | NoSheet) -> None:
    for leaf in pages(coach_pdf([page])):
        width, height = float(leaf.mediabox.width), float(leaf.mediabox.height)
        assert (width, height) == pytest.approx((595.3, 841.9), abs=0.5)
        for text, x, y, size in pieces(leaf):
            assert 25 < x < width - 25, text
            assert 15 < y < height - 15, text
            assert size >= LEAST_PT, text


@pytest.mark.parametrize("page", [sheet(), no_sheet()])
def test_it_prints_in_one_ink(page: CoachSheet | NoSheet) -> None:
    reader = PdfReader(BytesIO(coach_pdf([page])))
    colours = set()
    for leaf in reader.pages:
        for operands, operator in contents(leaf, reader):
            if operator in {b"rg", b"RG", b"sc", b"SC", b"scn", b"SCN", b"g", b"G"}:
                colours.add(tuple(float(value) for value in operands if not isinstance(value, NameObject)))
            assert operator not in {b"k", b"K"}
    assert colours
    assert all(len(set(colour)) <= 1 for colour in colours)


def contents(leaf: PageObject, reader: PdfReader) -> Iterator[tuple[Any, bytes]]:
    """Every operation of a page and of the forms it places."""
    stream = leaf.get_contents()
    assert stream is not None
    yield from stream.operations
    waiting: list[Any] = [leaf["/Resources"]]
    while waiting:
        resources = waiting.pop().get_object()
        for form in (resources.get("/XObject") or {}).values():
            found: Any = form.get_object()
            if found.get("/Subtype") == "/Form":
                yield from ContentStream(found, reader).operations
                waiting.append(found.get("/Resources") or {})


def test_a_page_without_a_number_bears_none_and_no_day_word() -> None:
    text = text_of(coach_pdf([no_sheet()]))
    assert "No number" in text
    assert "WILLOW" not in text.upper()
    assert "VALID" not in text
    assert "Set B" in text
    for code in ("refusal.wet_or_damp", "caution.dry_only", "caution.limit"):
        assert words(code) in text


@pytest.mark.parametrize("language", wording.languages())
def test_a_wet_page_is_one_page_and_a_longer_one_keeps_its_set_and_no_bar(language: str) -> None:
    wet = tuple(
        Sentence(code) for code in wording.codes() if code.startswith("wet.") and not wording.codes()[code]
    )
    page = dataclasses.replace(no_sheet(), language=language, steps=wet[:8], back=wet[:8])
    made = coach_pdf([page])
    assert len(pages(made)) == 1
    assert wording.unmarked("page.set_b", language) in text_of(made)
    longer = pages(coach_pdf([dataclasses.replace(page, steps=wet * 4)]))
    assert len(longer) > 1
    for leaf in longer:
        text = " ".join(leaf.extract_text().split())
        assert wording.unmarked("page.set_b", language) in text
        assert "10:50" not in text
        assert wording.unmarked("coach.dry_only", language) not in text


def test_no_page_follows_a_page_without_a_number_that_is_full() -> None:
    wet = said("caution.dry_only")
    for count in range(6, 20):
        leaves = pages(coach_pdf([dataclasses.replace(no_sheet(), steps=(wet,) * count)]))
        assert len(leaves) == 1


@pytest.mark.parametrize(
    ("language", "colon", "level"),
    [
        ("en", "Coaches: Ina", "experienced"),
        ("de", "Instruktoren: Ina", "erfahren"),
        ("fr", "Moniteurs : Ina", "expérimenté"),
    ],
)
def test_names_and_level_stand_in_the_language_of_the_sheet(language: str, colon: str, level: str) -> None:
    text = text_of(coach_pdf([sheet(language=language, level="experienced", figures=())]))
    assert colon in text
    assert level in text


def test_every_level_of_the_catalogue_has_a_name() -> None:
    for level in catalogue.level_names():
        for language in wording.languages():
            assert f"level.{level}" in wording.codes(language)


def test_minutes_head_their_columns() -> None:
    page = sheet(spans=(Span("minutes", 0, 2), Span("minutes", 2, 4), Span("minutes", 4, 6)))
    assert wording.unmarked("card.minutes", first=2, last=4) in text_of(coach_pdf([page]))


def test_another_turn_that_is_least_in_a_column_is_named() -> None:
    page = sheet(least=(2, "left"))
    assert "Lap 2: least at turn 5, left." in text_of(coach_pdf([page]))
    assert "Lap 1: least" not in text_of(coach_pdf([sheet()]))


def test_an_unreviewed_language_is_marked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    mark = wording.unmarked("page.unreviewed")
    assert mark not in text_of(coach_pdf([sheet()]))
    monkeypatch.setattr(wording, "reviewed", lambda _language: False)
    assert text_of(coach_pdf([sheet()])).count(mark) == 1


def test_each_sheet_begins_on_a_page_of_its_own_and_counts_its_own() -> None:
    made = coach_pdf([sheet(), no_sheet(), sheet(8)])
    assert len(pages(made)) == 3
    assert "Page 1 of" not in text_of(made)


def test_every_picture_that_a_page_names_is_drawn() -> None:
    both = [sheet(), sheet(20)]
    drawn = coach_pictures(both)
    assert "0-map.svg" in drawn
    assert "1-map.svg" in drawn
    assert [page["kind"] for page in cast("Any", coach_data(both))["pages"]] == ["sheet", "sheet"]


def test_no_sheets_make_no_pdf() -> None:
    with pytest.raises(LeanladderError, match="no sheet"):
        coach_pdf([])
