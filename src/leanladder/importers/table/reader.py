"""A table of points, read row by row."""

from __future__ import annotations

import codecs
import csv
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from leanladder.domain.circuit import Outline
from leanladder.importers.figures import FARTHEST_M, HIGHEST_M, WIDEST_M, Place, number, position, within
from leanladder.importers.lines import one_line
from leanladder.importers.outlines import check_points
from leanladder.importers.source import check_count, pieces
from leanladder.importers.table.columns import Columns, named, unnamed

DELIMITERS = (";", "\t", ",")


def read(path: Path) -> Outline:
    """Return the outline of a table.

    Columns are separated by comma, semicolon or tab (with the latter two a comma may be the decimal
    mark) and named by the first line or by the last one with `#` before the figures; without a
    header they are x_m, y_m and perhaps the widths to the right and left. Raises InputError.
    """
    table = _Table(path)
    for line, text in _lines(path):
        table.take(line, text)
    check_points(path, table.points)
    return table.outline()


def _lines(path: Path) -> Iterator[tuple[int, str]]:
    """Yield number and text of each line that is not blank."""
    decoder = codecs.getincrementaldecoder("utf-8-sig")()
    rest, number_of = "", 0
    try:
        for piece in pieces(path):
            *lines, rest = (rest + decoder.decode(piece)).split("\n")
            for text in lines:
                number_of += 1
                if text.strip():
                    yield number_of, text.strip()
        rest += decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        place = Place(path, number_of + 1)
        raise place.error("the text is not UTF-8.", remedy="Save the file in UTF-8.") from None
    if rest.strip():
        yield number_of + 1, rest.strip()


class _Table:
    """Rows as they come: notes and header first, then figures."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.delimiter = ","
        self.columns: Columns | None = None
        self.noted: tuple[int, str] | None = None
        self.points: list[tuple[float, float]] = []
        self.heights: list[float] = []
        self.widths: list[tuple[float, float]] = []

    def take(self, line: int, text: str) -> None:
        """Use one line."""
        if text.startswith("#"):
            if self.columns is None and _delimiter(text):
                self.noted = (line, text.lstrip("# "))
            return
        if self.columns is None and self._settle(line, text):
            return
        self._row(Place(self.path, line), self._cells(text))

    def _settle(self, line: int, text: str) -> bool:
        """Settle delimiter and columns at the first line of the table; True if it was its header."""
        found = _delimiter(text)
        place = Place(self.path, line)
        if found is None:
            remedy = "Put x_m,y_m or lat,lon in a line, separated by a comma."
            raise place.error("this is no table of points.", text, "two columns or more", remedy)
        self.delimiter = found
        cells = self._cells(text)
        if not any(_is_figure(cell) for cell in cells):
            self.columns = named(place, cells)
            return True
        if self.noted and len(_split(self.noted[1])) == len(cells):
            self.columns = named(Place(self.path, self.noted[0]), _split(self.noted[1]))
        else:
            self.columns = unnamed(place, len(cells))
        return False

    def _cells(self, text: str) -> list[str]:
        cells = [cell.strip().strip('"') for cell in _split(text, self.delimiter)]
        return cells if self.delimiter == "," else [cell.replace(",", ".") for cell in cells]

    def _row(self, place: Place, cells: list[str]) -> None:
        columns = self.columns
        if columns is None:  # settled by the first row
            return
        if any(cells[len(columns.names) :]):  # a decimal comma, most likely: figures would be torn in two
            remedy = "With a decimal comma, separate the columns by semicolons."
            found, allowed = f"{len(cells)} columns", f"{len(columns.names)} columns"
            raise place.error("the line has more columns than the header.", found, allowed, remedy)
        if len(cells) <= max(columns.used):
            names = ",".join(columns.names)
            raise place.error("the line has too few columns.", f"{len(cells)} columns", names)
        first, second = cells[columns.first], cells[columns.second]
        if columns.metres:
            x = self._metres(place, first, columns.first)
            self.points.append((x, self._metres(place, second, columns.second)))
        else:
            self.points.append(position(place, first, second))
        if columns.height is not None:
            there = place.at(columns.names[columns.height])
            height = number(there, cells[columns.height])
            self.heights.append(within(there, height, -HIGHEST_M, HIGHEST_M, "m"))
        if columns.widths is not None:
            right, left = (self._width(place, cells[column], column) for column in columns.widths)
            self.widths.append((right, left))
        check_count(self.path, len(self.points), place.line)

    def _metres(self, place: Place, cell: str, column: int) -> float:
        there = place.at(self._name(column))
        return within(there, number(there, cell), -FARTHEST_M, FARTHEST_M, "m")

    def _width(self, place: Place, cell: str, column: int) -> float:
        there = place.at(self._name(column))
        return within(there, number(there, cell), 0.0, WIDEST_M, "m")

    def _name(self, column: int) -> str:
        return self.columns.names[column] if self.columns is not None else ""

    def outline(self) -> Outline:
        """Return what the rows make."""
        return Outline(
            name=one_line(self.path.stem),
            frame="metres" if self.columns is None or self.columns.metres else "degrees",
            points=np.array(self.points, dtype=np.float64),
            elevation_m=np.array(self.heights, dtype=np.float64) if self.heights else None,
            width_m=np.array(self.widths, dtype=np.float64) if self.widths else None,
            source=str(self.path),
        )


def _delimiter(text: str) -> str | None:
    return next((mark for mark in DELIMITERS if mark in text), None)


def _split(text: str, delimiter: str | None = None) -> list[str]:
    """Return a line's cells; a delimiter within quotes parts nothing."""
    mark = delimiter or _delimiter(text) or ","
    if '"' not in text:
        return text.split(mark)
    try:
        return next(csv.reader([text], delimiter=mark, skipinitialspace=True), [])
    except csv.Error:  # a cell of over 100,000 characters
        return text.split(mark)


def _is_figure(cell: str) -> bool:
    """Return whether a cell reads as a number, NaN and the like included."""
    try:
        float(cell)
    except ValueError:
        return False
    return True
