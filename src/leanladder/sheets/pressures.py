"""Cold pressures as a table: what each gauge should read, for machines alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from leanladder.domain.paper import PressureRow
from leanladder.sheets.figures import decimal, degrees
from leanladder.sheets.said import all_said, label


def pressure_parts(rows: Sequence[PressureRow], language: str) -> dict[str, object] | None:
    """Return the table as the templates' `pressure-table` takes it, None where there is no row."""
    if not rows:
        return None
    alike = len({row.set_c for row in rows}) == 1
    notes = [list(_notes(row, language, told_at=not alike)) for row in rows]
    # What holds for every row is said once, below.
    common = [words for words in notes[0] if len(rows) > 1 and all(words in told for told in notes)]
    return {
        "title": label("pressure.title", language, set_c=degrees(rows[0].set_c, language))
        if alike
        else label("pressure.title_own", language),
        "head": [label(f"pressure.{code}", language) for code in ("machines", "front", "rear", "minimum")],
        "rows": [
            _row(row, [words for words in told if words not in common], language)
            for row, told in zip(rows, notes, strict=True)
        ],
        "unit": label("pressure.unit", language),
        "notes": common,
        "home": None if any(_goes_home(row) for row in rows) else label("pressure.home_road", language),
    }


def _row(row: PressureRow, notes: list[str], language: str) -> dict[str, object]:
    return {
        "machines": ", ".join(row.machines),
        "front": _bar(row.front_bar, language),
        "rear": _bar(row.rear_bar, language),
        "minimum": _minimum(row, language),
        "notes": notes,
    }


def _notes(row: PressureRow, language: str, *, told_at: bool) -> Iterator[str]:
    if told_at:
        yield label("pressure.set_at", language, set_c=degrees(row.set_c, language))
    if row.offset_bar:
        code = "pressure.reads_high" if row.offset_bar > 0 else "pressure.reads_low"
        yield label(code, language, by_bar=decimal(abs(row.offset_bar), 2, language))
    yield from all_said(row.notes, language)
    if _goes_home(row):
        front, rear = _bar(row.home_front_bar, language), _bar(row.home_rear_bar, language)
        yield label("pressure.home", language, front_bar=front, rear_bar=rear)


def _goes_home(row: PressureRow) -> bool:
    return row.home_front_bar is not None and row.home_rear_bar is not None


def _bar(value: float | None, language: str) -> str:
    if value is None:
        return label("pressure.none", language)
    short = abs(value * 10 - round(value * 10)) < 0.05
    return decimal(value, 1 if short else 2, language)


def _minimum(row: PressureRow, language: str) -> str:
    if row.minimum_front_bar is None or row.minimum_rear_bar is None:
        return label("pressure.not_stated", language)
    return f"{_bar(row.minimum_front_bar, language)} / {_bar(row.minimum_rear_bar, language)}"
