"""The briefing of a group as PDF, A4, to be read from two metres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from leanladder import drawing
from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import Briefing
from leanladder.sheets.rows import row_parts, row_pictures, run_words, span_words
from leanladder.sheets.said import all_said, clock, dated, label, spoken, translation_mark
from leanladder.sheets.typesetter import typeset

# A small drawing, set large: its figures are then read from afar.
_MAP_PX = (330.0, 340.0)
_MAP_MANY_PX = (330.0, 320.0)


def briefing_pdf(pages: Sequence[Briefing]) -> bytes:
    """Return briefings, one a page in their order.

    Raises LeanladderError where there is none, or its words do not fit its page.
    """
    return typeset("briefing.typ", briefing_data(pages), briefing_pictures(pages))


def briefing_data(pages: Sequence[Briefing]) -> Mapping[str, object]:
    """Return what the template of briefings takes, every text worded."""
    if not pages:
        raise LeanladderError("there is no briefing to print")
    first = pages[0].language
    return {
        "title": label("briefing.title", first),
        "language": spoken(first),
        "pages": [_page(page, f"map-{index}.svg") for index, page in enumerate(pages)],
    }


def briefing_pictures(pages: Sequence[Briefing]) -> Mapping[str, str]:
    """Return the drawings of briefings by file name."""
    maps = {f"map-{index}.svg": _map(page) for index, page in enumerate(pages)}
    return {**maps, **row_pictures(row for page in pages for row in page.rows)}


def _page(page: Briefing, map_name: str) -> dict[str, object]:
    heading, tongue = page.heading, spoken(page.language)
    width, height = _map_size(page)
    return {
        "run": run_words(heading, tongue),
        "set": None if heading.set_name is None else label(f"page.set_{heading.set_name}", tongue),
        "word": heading.day_word,
        "board": label("briefing.board", tongue),
        "place": label("briefing.place", tongue, circuit=heading.circuit, date=dated(heading.date, tongue)),
        "coaches": _coaches(page),
        "valid": label(
            "briefing.valid", tongue, at=clock(heading.valid_from), until=clock(heading.valid_until)
        ),
        "dry": label("card.dry_only", tongue),
        "span": span_words(page.span, tongue),
        "most": label("briefing.most", tongue),
        "rows": row_parts(page.rows, tongue),
        "map": map_name,
        "map-width": width,
        "map-height": height,
        "respect": None
        if page.respect is None
        else label("card.respect", tongue, number=page.respect[0], side=page.respect[1]),
        "why": all_said(page.respect_why, tongue),
        "order-head": label("briefing.order", tongue),
        "order": all_said(page.order, tongue),
        "rules": all_said(page.rules, tongue),
        "foot": _foot(tongue),
    }


def _coaches(page: Briefing) -> str:
    code = "coach" if len(page.coaches) == 1 else "coaches"
    return label(f"briefing.{code}", page.language, names=", ".join(page.coaches)) if page.coaches else ""


def _foot(language: str) -> list[str]:
    mark = translation_mark(language)
    lines = [label("page.guide_only", language), label("page.closed_course", language)]
    return lines if mark is None else [*lines, mark]


def _map_size(page: Briefing) -> tuple[float, float]:
    return _MAP_PX if len(page.rows) <= 7 else _MAP_MANY_PX


def _map(page: Briefing) -> str:
    least = None if page.respect is None else page.respect[0]
    words = drawing.MapWords(
        start=label("coach.start", page.language), metres=label("coach.metres", page.language, length_m="{}")
    )
    return drawing.circuit_map(page.circuit, least=least, size=_map_size(page), words=words)
