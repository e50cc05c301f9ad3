"""The coach's sheet as PDF: one combination of a session on A4, or why it has no number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from leanladder import drawing
from leanladder.domain.circuit import Circuit
from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import CoachRow, CoachSheet, Figure, NoSheet, Straight
from leanladder.domain.sentence import Sentence
from leanladder.sheets.coach_head import foot_parts, head_parts
from leanladder.sheets.figures import decimal
from leanladder.sheets.pressures import pressure_parts
from leanladder.sheets.rows import span_words
from leanladder.sheets.said import all_said, label, said, spoken
from leanladder.sheets.typesetter import typeset

# Cells come in two heights [px at 150 to the inch]; the page takes the one that fits.
HEIGHTS: Mapping[str, float] = {"tall": 46.0, "low": 30.0}
MAP_WIDTH = 396.0
_MAP_HEIGHTS = (300.0, 430.0)
# Turns beyond which a map grows, and by how much for each [px].
_CROWDED, _CROWDED_PX = 12, 10.0
# What voids a sheet stands out among the other lines.
_STRONG = frozenset({"stop.rain"})


def coach_pdf(pages: Sequence[CoachSheet | NoSheet]) -> bytes:
    """Return coaches' sheets as one PDF, each from a page of its own, in their order.

    A sheet that does not fit on one page goes on to a second; nothing is left out.
    Raises LeanladderError where there is no sheet.
    """
    return typeset("coach.typ", coach_data(pages), coach_pictures(pages))


def coach_data(pages: Sequence[CoachSheet | NoSheet]) -> Mapping[str, object]:
    """Return what the template of sheets takes, every text worded."""
    if not pages:
        raise LeanladderError("there is no sheet to print")
    tongue = spoken(pages[0].language)
    return {
        "title": label("coach.title", tongue),
        "language": tongue,
        "pages": [
            _sheet(page, f"{index}-") if isinstance(page, CoachSheet) else _no_sheet(page)
            for index, page in enumerate(pages)
        ],
    }


def coach_pictures(pages: Sequence[CoachSheet | NoSheet]) -> Mapping[str, str]:
    """Return the drawings of sheets by file name."""
    return dict(_drawn(pages))


def _sheet(page: CoachSheet, prefix: str) -> dict[str, object]:
    tongue = spoken(page.language)
    return {
        "kind": "sheet",
        "language": tongue,
        "head": head_parts(page, tongue),
        "foot": foot_parts(page.heading, page.ladder, tongue),
        "figures": [_figure(figure, tongue) for figure in page.figures],
        "table": _table(page, prefix, tongue),
        "map": f"{prefix}map.svg",
        "map_title": span_words(page.spans[0], tongue) if page.spans else "",
        "closes_up": label("coach.closes_up", tongue),
        "least": _least(page, tongue),
        "straights": _straights(page.straights, tongue),
        "pressures": pressure_parts(page.pressures, tongue),
        "lists": _lists(page, tongue),
        "happened": label("coach.happened", tongue),
    }


def _no_sheet(page: NoSheet) -> dict[str, object]:
    tongue = spoken(page.language)
    return {
        "kind": "none",
        "language": tongue,
        "head": head_parts(page, tongue),
        "foot": foot_parts(page.heading, None, tongue),
        "none": label("coach.no_number", tongue),
        "instead": label("coach.no_sheet", tongue),
        "why": _part("why", page.why, tongue),
        "steps": _part("steps", page.steps, tongue),
        "back": _part("back", page.back, tongue) | {"aside": label("coach.back_are", tongue)},
        "happened": label("coach.happened", tongue),
    }


def _figure(figure: Figure, tongue: str) -> dict[str, object]:
    return {
        "label": label(figure.label, tongue),
        "value": figure.value,
        "origin": figure.origin,
        "note": "" if figure.note is None else said(figure.note, tongue),
    }


def _table(page: CoachSheet, prefix: str, tongue: str) -> dict[str, object]:
    every = [cell for row in page.rows for cell in row.cells]
    cells = [cell for cell in every if cell is not None]
    limits = sorted({cell.limited_by for cell in cells})
    return {
        "title": label("coach.limits", tongue),
        "aside": label("coach.limits_are", tongue),
        "turn": label("coach.turn", tongue),
        "speed": label("coach.speed", tongue),
        "spans": [span_words(span, tongue) for span in page.spans],
        "rows": [_row(row, prefix) for row in page.rows],
        "rubber": label("coach.rubber", tongue),
        "shapes": label("coach.shapes", tongue),
        "behind": label("coach.behind", tongue) if None in every else None,
        "hot": label("coach.too_hot", tongue) if any(cell.hot for cell in cells) else None,
        "limits": [[f"limit-{limit}.svg", label(f"label.{limit}", tongue)] for limit in limits],
    }


def _row(row: CoachRow, prefix: str) -> dict[str, object]:
    return {
        "plank": f"plank-{row.number}-{row.side}.svg",
        "name": row.name or "",
        "cells": [
            None if cell is None else {"picture": _cell_name(prefix, row, index), "speed": cell.speed_kmh}
            for index, cell in enumerate(row.cells)
        ],
    }


def _least(page: CoachSheet, tongue: str) -> dict[str, object] | None:
    if page.least is None:
        return None
    number, side = page.least
    names = [row.name for row in page.rows if row.number == number and row.name]
    return {
        "title": label("coach.least", tongue, number=number, side=side),
        "name": names[0] if names else "",
        "why": all_said(page.least_why, tongue),
        "others": list(_least_others(page, number, tongue)),
    }


def _least_others(page: CoachSheet, number: int, tongue: str) -> Iterator[str]:
    """Say which other turn has the least margin of a column, where one has."""
    for index, span in enumerate(page.spans):
        for row in page.rows:
            told = row.cells[index]
            if told is not None and told.least_margin and row.number != number:
                words = span_words(span, tongue)
                yield label("coach.least_other", tongue, span=words, number=row.number, side=row.side)


def _straights(straights: Sequence[Straight], tongue: str) -> dict[str, object] | None:
    if not straights:
        return None
    longest = max(straight.length_m for straight in straights)
    return {
        "title": label("coach.straights", tongue),
        "aside": label("coach.straights_are", tongue),
        "bars": [
            {
                "between": label(
                    "coach.between", tongue, from_number=straight.from_number, to_number=straight.to_number
                ),
                "share": round(straight.length_m / longest, 4),
                "length": label("coach.metres", tongue, length_m=decimal(straight.length_m, 0, tongue)),
            }
            for straight in straights
        ],
    }


def _lists(page: CoachSheet, tongue: str) -> dict[str, object]:
    return {
        "checks": _part("checks", page.checks, tongue),
        "stops": _part("stops", page.stops, tongue),
        "warnings": _part("warnings", page.warnings, tongue),
        "field": _part("field", page.field_notes, tongue),
    }


def _part(code: str, lines: Sequence[Sentence], tongue: str) -> dict[str, object]:
    told = [{"words": said(line, tongue), "strong": line.code in _STRONG} for line in lines]
    return {"title": label(f"coach.{code}", tongue), "lines": told}


def _drawn(pages: Sequence[CoachSheet | NoSheet]) -> Iterator[tuple[str, str]]:
    sheets = [(index, page) for index, page in enumerate(pages) if isinstance(page, CoachSheet)]
    if sheets:
        yield "scale.svg", drawing.warmth_scale()
        yield "hot.svg", drawing.hot_scale()
    for index, page in sheets:
        yield f"{index}-map.svg", _map(page)
        for row in page.rows:
            yield f"plank-{row.number}-{row.side}.svg", drawing.plank(row.number, row.side)
            yield from _cells(row, f"{index}-")


def _cells(row: CoachRow, prefix: str) -> Iterator[tuple[str, str]]:
    for index, told in enumerate(row.cells):
        if told is None:
            continue
        yield f"limit-{told.limited_by}.svg", drawing.glyph_picture(told.limited_by)
        for size, height in HEIGHTS.items():
            yield f"{size}-{_cell_name(prefix, row, index)}", drawing.cell(row.side, told, height=height)


def _cell_name(prefix: str, row: CoachRow, index: int) -> str:
    return f"{prefix}cell-{row.number}-{index}.svg"


def _map(page: CoachSheet) -> str:
    tongue = spoken(page.language)
    first = [(row.number, row.cells[0]) for row in page.rows if row.cells]
    warmth = {number: drawing.Warmth(told.rubber_c, told.hot) for number, told in first if told is not None}
    return drawing.circuit_map(
        page.circuit,
        warmth,
        least=None if page.least is None else page.least[0],
        size=(MAP_WIDTH, _map_height(page.circuit)),
        words=drawing.MapWords(label("coach.start", tongue), label("coach.metres", tongue, length_m="{}")),
    )


def _map_height(circuit: Circuit) -> float:
    """Return a height that suits how long and wide the circuit is, and its planks [px]."""
    wide, long = float(np.ptp(circuit.x_m)), float(np.ptp(circuit.y_m))
    low, high = _MAP_HEIGHTS
    many = _CROWDED_PX * max(0, len(circuit.corners) - _CROWDED)
    return min(high, max(low, 90.0 + (MAP_WIDTH - 110.0) * long / max(wide, 1.0)) + many)
