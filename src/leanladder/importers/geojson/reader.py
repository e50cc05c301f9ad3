"""GeoJSON by its own rules: longitude first, rings closed, any depth of collection."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NoReturn

from leanladder.domain.circuit import Outline
from leanladder.importers.figures import HIGHEST_M, Place, number, position, within
from leanladder.importers.lines import FoundLine, joined, one_line
from leanladder.importers.outlines import outline_of
from leanladder.importers.source import check_count, pieces

BRACKETS_A_POINT = 4  # a point as a feature of its own opens four; one of a line opens one
KINDS = "LineString, MultiLineString, Polygon or MultiPolygon"


def read(path: Path) -> Outline:
    """Return the longest line of a GeoJSON file; of a polygon its outer ring.

    The parts of a MultiLineString are joined where one begins within 50 m of the last one's end.
    Raises InputError for anything else.
    """
    found = _Collector(path)
    found.take(_parsed(path), "", "")
    if not found.lines:
        seen = ", ".join(sorted(found.others)) or "no geometry"
        remedy = "Draw the lap as one line and export that."
        raise Place(path, field="geometry").error("the file holds no line.", seen, KINDS, remedy)
    return outline_of(path, found.lines, found.name)


def _parsed(path: Path) -> Any:  # noqa: ANN401 (whatever the file holds)
    try:
        text = b"".join(_counted(path)).decode("utf-8-sig")
        return json.loads(text, parse_constant=_refuse_constant)
    except json.JSONDecodeError as error:
        place = Place(path, error.lineno)
        raise place.error(f"this is not JSON: {error.msg}.", remedy="Export the circuit again.") from None
    except UnicodeDecodeError:
        raise Place(path).error("the text is not UTF-8.", remedy="Save the file in UTF-8.") from None
    except _ConstantError as error:
        message = f"'{error}' is not a finite number."
        raise Place(path).error(message, error, "a number", "Leave the point out.") from None
    except RecursionError:
        raise Place(path).error("the brackets are nested too deeply.") from None
    except ValueError:  # what is left: more digits than Python reads
        message = "this is not JSON: a number has too many digits."
        raise Place(path).error(message, remedy="Export the circuit again.") from None


def _counted(path: Path) -> Iterator[bytes]:
    """Yield the file in pieces; refuse it once it opens more brackets than its points can need."""
    opened = 0
    for piece in pieces(path):
        opened += piece.count(b"[") + piece.count(b"{")
        check_count(path, opened // BRACKETS_A_POINT)
        yield piece


class _ConstantError(Exception):
    """A number that JSON does not have."""


def _refuse_constant(constant: str) -> NoReturn:
    raise _ConstantError(constant)


class _Collector:
    """Walks through objects and keeps every line."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.lines: list[FoundLine] = []
        self.others: set[str] = set()
        self.name = ""
        self.count = 0

    def take(self, item: Any, where: str, name: str) -> None:  # noqa: ANN401 (whatever the file holds)
        """Keep the lines of an object and of all that it holds; where is its path in the file."""
        if not isinstance(item, dict):
            raise self._place(where).error("an object is needed here.", item, 'an object with "type"')
        kind = item.get("type")
        if not isinstance(kind, str):
            raise self._place(f"{where}.type").error("this is no GeoJSON object.", kind, KINDS)
        if kind == "FeatureCollection":
            self.name = self.name or _text(item.get("name"))
            self._each(item, "features", where, name)
        elif kind == "GeometryCollection":
            self._each(item, "geometries", where, name)
        elif kind == "Feature":
            if item.get("geometry") is not None:
                self.take(item["geometry"], f"{where}.geometry", _named(item) or name)
        else:
            self._geometry(item, kind, where, name)

    def _each(self, item: dict[str, Any], key: str, where: str, name: str) -> None:
        held = item.get(key)
        if not isinstance(held, list):
            raise self._place(f"{where}.{key}").error("a list is needed here.", held, "a list of objects")
        for row, part in enumerate(held):
            self.take(part, f"{where}.{key}[{row}]", name)

    def _geometry(self, item: dict[str, Any], kind: Any, where: str, name: str) -> None:  # noqa: ANN401
        at = f"{where}.coordinates"
        if kind == "LineString":
            self.lines.append(self._line(item.get("coordinates"), at, "line", name))
        elif kind in {"MultiLineString", "Polygon"}:
            parts = self._parts(item, at)
            if kind == "Polygon":
                self.lines += [self._line(ring, f"{at}[0]", "outer ring", name) for ring in parts[:1]]
            else:
                self.lines += joined(
                    [self._line(part, f"{at}[{row}]", "line", name) for row, part in enumerate(parts)]
                )
        elif kind == "MultiPolygon":
            for row, rings in enumerate(self._parts(item, at)):
                self._geometry({"coordinates": rings}, "Polygon", f"{at}[{row}]", name)
        elif kind in {"Point", "MultiPoint"}:
            self.others.add(str(kind))
        else:
            raise self._place(f"{where}.type").error("this is no GeoJSON object.", kind, KINDS)

    def _parts(self, item: dict[str, Any], at: str) -> list[Any]:
        parts = item.get("coordinates")
        if not isinstance(parts, list):
            raise self._place(at).error("a list is needed here.", parts, "a list of positions")
        return parts

    def _line(self, positions: Any, at: str, kind: str, name: str) -> FoundLine:  # noqa: ANN401
        if not isinstance(positions, list):
            raise self._place(at).error("a list is needed here.", positions, "a list of positions")
        line = FoundLine(kind, name)
        for row, written in enumerate(positions):
            self._position(line, written, f"{at}[{row}]")
        return line

    def _position(self, line: FoundLine, written: Any, at: str) -> None:  # noqa: ANN401
        place = self._place(at)
        if not isinstance(written, list) or len(written) < 2:
            raise place.error("a position is needed here.", written, "[longitude, latitude]")
        line.points.append(position(place, written[1], written[0]))
        height = None
        if len(written) > 2:
            height = within(place, number(place, written[2]), -HIGHEST_M, HIGHEST_M, "m")
        line.heights.append(height)
        self.count += 1
        check_count(self.path, self.count)

    def _place(self, where: str) -> Place:
        return Place(self.path, field=where.lstrip(".") or None)


def _named(feature: dict[str, Any]) -> str:
    """Return a feature's name from its properties."""
    properties = feature.get("properties")
    if not isinstance(properties, dict):
        return ""
    by_key = {str(key).lower(): value for key, value in properties.items()}
    return _text(by_key.get("name"))


def _text(value: object) -> str:
    """Return a name if it is text."""
    return one_line(value) if isinstance(value, str) else ""
