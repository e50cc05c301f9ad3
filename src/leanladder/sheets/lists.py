"""The head instructor's pages as PDF: the evening's and morning's list, and which set of cards counts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date as calendar_date

from leanladder.domain.day import SetName
from leanladder.domain.errors import LeanladderError
from leanladder.domain.paper import DayList, ListPart, PressureRow, SetChoice, SetRow
from leanladder.sheets.figures import decimal, degrees
from leanladder.sheets.said import all_said, clock, dated, label, spoken, translation_mark
from leanladder.sheets.typesetter import typeset

_SETS: tuple[SetName, ...] = ("a", "b", "c")
_COLUMNS = ("machines", "set_to", "minimum", "set_at", "gauge", "home")


def list_pdf(page: DayList) -> bytes:
    """Return a list with boxes to tick and, where it has any, its cold pressures; more pages where needed."""
    return typeset("lists.typ", list_data(page))


def choice_pdf(page: SetChoice) -> bytes:
    """Return the page that tells which set counts, session by session.

    Raises LeanladderError where it has no set or no session.
    """
    return typeset("choice.typ", choice_data(page))


def list_data(page: DayList) -> Mapping[str, object]:
    """Return what the template of lists takes, every text worded."""
    tongue = spoken(page.language)
    parts = [part for part in page.parts if part.lines]
    return {
        "title": label(f"list_page.title_{page.kind}", tongue),
        "language": tongue,
        "place": _place(page.school, page.circuit, page.date, tongue),
        "parts": [
            {"head": label(part.head, tongue), "lines": all_said(part.lines, tongue)} for part in parts
        ],
        "pressures-after": _pressures_after(parts),
        "pressures": _pressures(page.pressures, tongue, alone=_pressures_after(parts) is None),
        "page": label("list_page.page", tongue, number="{}", count="{}"),
        "foot": _foot(tongue),
    }


def choice_data(page: SetChoice) -> Mapping[str, object]:
    """Return what the template of the set choice takes, every text worded."""
    if not page.words or not page.rows:
        raise LeanladderError("there is no set of cards to choose from")
    tongue = spoken(page.language)
    names = [name for name in _SETS if name in dict(page.words)]
    return {
        "title": label("choice_page.title", tongue),
        "language": tongue,
        "place": _place(page.school, page.circuit, page.date, tongue),
        "steps": [label(f"choice_page.step_{number}", tongue) for number in (1, 2, 3)],
        "session-head": label("choice_page.session", tongue),
        "word-head": label("choice_page.day_word", tongue),
        "sets": [_set_head(name, dict(page.words)[name], tongue) for name in names],
        "rows": [
            {"session": row.session, "at": clock(row.at), "needs": [_need(row, n, tongue) for n in names]}
            for row in page.rows
        ],
        "no-set": label("choice_page.no_set", tongue),
        "colder": label("choice_page.colder", tongue),
        "colder-more": label("choice_page.colder_more", tongue),
        # It speaks of set C.
        "warmer": label("lists.choose_warmer", tongue) if "c" in names else None,
        "foot": _foot(tongue),
    }


def _pressures_after(parts: Sequence[ListPart]) -> int | None:
    """Return the part that the pressures belong to by its head's code; None: they come first."""
    return next((index for index, part in enumerate(parts) if "pressure" in part.head), None)


def _place(school: str, circuit: str, day: calendar_date, language: str) -> str:
    where = label("list_page.place", language, circuit=circuit, date=dated(day, language))
    return f"{label('list_page.school', language, school=school)}\n{where}"


def _foot(language: str) -> list[str]:
    mark = translation_mark(language)
    lines = [label("page.guide_head", language), label("page.closed_course", language)]
    return lines if mark is None else [*lines, mark]


def _set_head(name: SetName, word: str, language: str) -> dict[str, str]:
    return {
        "name": label(f"page.set_{name}", language),
        "is-for": label(f"choice_page.for_{name}", language),
        "word": word,
    }


def _need(row: SetRow, name: SetName, language: str) -> list[tuple[str, str]] | None:
    """Return what a set needs in a session, label and figure; None where it has no cards for it."""
    for found, track_c, air_c in row.needs:
        figures = (("track", track_c), ("air", air_c))
        if found == name and any(value is not None for _, value in figures):
            return [
                (label(f"choice_page.{code}", language), _celsius("choice_page", value, language))
                for code, value in figures
                if value is not None
            ]
    return None


def _celsius(group: str, value_c: float, language: str) -> str:
    return label(f"{group}.celsius", language, value_c=degrees(value_c, language))


def _pressures(rows: Sequence[PressureRow], language: str, *, alone: bool) -> dict[str, object] | None:
    """Return the table of pressures; alone: no part of the list says how they are set."""
    if not rows:
        return None
    says = ["allowed_for"] if any(row.offset_bar for row in rows) else []
    says.append("minimum_first")
    if alone:
        says = ["measured_cold", *says, *(["raise_home"] if any(_home(row) is None for row in rows) else [])]
    head = [label(f"list_page.{code}", language) for code in _COLUMNS]
    return {
        "title": label("list_page.pressures", language),
        "unit": label("list_page.unit", language),
        "head": [head[0], "", *head[1:]],
        "rows": [_pressure_row(row, language) for row in rows],
        "says": [" ".join(label(f"list_page.{code}", language) for code in says)],
    }


def _pressure_row(row: PressureRow, language: str) -> dict[str, object]:
    none, unstated = label("list_page.none", language), label("list_page.not_stated", language)
    return {
        "machines": ", ".join(row.machines),
        "ends": [label("list_page.front", language), label("list_page.rear", language)],
        "now": [_bar(value, none, language) for value in (row.front_bar, row.rear_bar)],
        "minimum": [
            _bar(value, unstated, language) for value in (row.minimum_front_bar, row.minimum_rear_bar)
        ],
        "set": _celsius("list_page", row.set_c, language),
        "gauge": _gauge(row.offset_bar, unstated, language),
        "home": [_bar(value, unstated, language) for value in (row.home_front_bar, row.home_rear_bar)],
        "notes": all_said(row.notes, language),
    }


def _home(row: PressureRow) -> tuple[float, float] | None:
    if row.home_front_bar is None or row.home_rear_bar is None:
        return None
    return row.home_front_bar, row.home_rear_bar


def _gauge(offset_bar: float | None, unstated: str, language: str) -> str:
    if offset_bar is None:
        return unstated
    if abs(offset_bar) < 0.005:
        return label("list_page.gauge_true", language)
    code = "gauge_high" if offset_bar > 0 else "gauge_low"
    return label(f"list_page.{code}", language, by_bar=decimal(abs(offset_bar), 2, language))


def _bar(value: float | None, missing: str, language: str) -> str:
    return missing if value is None else decimal(value, 2, language)
