"""On which line of a TOML text a key stands: the standard reader does not say."""

from __future__ import annotations

import re
from collections.abc import Sequence

Key = str | int
_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$")
_ASSIGNMENT = re.compile(r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*[A-Za-z0-9_-]+)*)\s*=(.*)$""")
_QUOTED = re.compile(r'"(?:\\.|[^"\\])*"|\'[^\']*\'')


def line_of(text: str, path: Sequence[Key]) -> int | None:
    """Return the line, from 1, of the key at path, or of the nearest table above it.

    path names keys by text and members of arrays by number, as validation reports it. A key
    within an inline table stands on the table's line. None where not even the first is found.
    """
    lines = _lines(text)
    for end in range(len(path), 0, -1):
        found = lines.get(tuple(path[:end]))
        if found is not None:
            return found
    return None


def _lines(text: str) -> dict[tuple[Key, ...], int]:
    found: dict[tuple[Key, ...], int] = {}
    table: tuple[Key, ...] = ()
    counts: dict[tuple[Key, ...], int] = {}
    depth = 0
    for number, line in enumerate(text.splitlines(), 1):
        header = _HEADER.match(line) if depth == 0 else None
        assignment = _ASSIGNMENT.match(line) if depth == 0 else None
        if header:
            table = _table(header, counts)
            found.setdefault(table, number)
        elif assignment:
            found.setdefault(table + _keys(assignment[1]), number)
        if not header:
            depth += _opened(assignment[2] if assignment else line)
    return found


def _table(header: re.Match[str], counts: dict[tuple[Key, ...], int]) -> tuple[Key, ...]:
    """Return the path of a table's header, the members of arrays of tables numbered."""
    keys = _keys(header[2])
    path: tuple[Key, ...] = ()
    for place, key in enumerate(keys):
        path += (key,)
        last = place == len(keys) - 1
        if last and header[1] == "[[":
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path += (counts[path],)
    return path


def _keys(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip().strip("\"'") for part in dotted.split("."))


def _opened(value: str) -> int:
    """Return how many brackets a line leaves open, text in quotes and comments apart."""
    bare = _QUOTED.sub("", value).split("#", 1)[0]
    return bare.count("[") + bare.count("{") - bare.count("]") - bare.count("}")
