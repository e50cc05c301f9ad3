"""The history of a thing as rows: when, who, and each figure as it was and as it is."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from leanladder import wording
from leanladder.records.models import Change
from leanladder.units import unit_of_field
from leanladder.web.stable.form import shown_figure

# Texts of files: their keys are compared, not their letters.
_FILES = ("notes", "text")
_LONGEST = 80
Content = Mapping[str, Any]


class Difference(NamedTuple):
    """One thing that changed: what it is called, as it was, as it is; empty where it was not, or is not."""

    what: str
    was: str
    now: str


class Changed(NamedTuple):
    """One save: when by this laptop's clock, who, why, and what changed; first for the first save."""

    at: str
    who: str
    reason: str
    first: bool
    differences: list[Difference]


def changed(changes: Sequence[Change], group: str, language: str, units: str) -> list[Changed]:
    """Return the history in rows, the latest first; group is that of the texts that name the fields."""
    return [
        Changed(
            each.at.astimezone().strftime("%Y-%m-%d %H:%M"),
            each.who_name,
            each.reason,
            each.was is None,
            []
            if each.was is None or each.now is None
            else differences(each.was, each.now, group, language, units),
        )
        for each in changes
    ]


def differences(was: Content, now: Content, group: str, language: str, units: str) -> list[Difference]:
    """Return what differs between two contents, in the reader's words where there are any, and units."""
    before, after = dict(_flat(was)), dict(_flat(now))
    keys = [key for key in {**before, **after} if before.get(key) != after.get(key)]
    return [
        Difference(
            _called(key, group, language),
            _short(_told(key, before.get(key), units)),
            _short(_told(key, after.get(key), units)),
        )
        for key in keys
    ]


def _flat(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:  # noqa: ANN401  # JSON
    if path and path[-1] in _FILES and isinstance(value, str):
        value = _parsed(value)
    if isinstance(value, dict):
        for key, part in value.items():
            yield from _flat(part, (*path, key))
    elif isinstance(value, list) and any(isinstance(part, dict | list) for part in value):
        for row, part in enumerate(value, start=1):
            yield from _flat(part, (*path, str(row)))
    else:
        yield path, value


def _parsed(text: str) -> Any:  # noqa: ANN401  # TOML
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return text


def _told(path: tuple[str, ...], value: object, units: str) -> str:
    """Return a value as text; a figure in the reader's unit, by what its field's name ends in."""
    unit = unit_of_field(path[-1]) if path else None
    if unit is None or isinstance(value, bool) or not isinstance(value, int | float):
        return _plain(value)
    return shown_figure(float(value), unit, units)


def _plain(value: object) -> str:
    if isinstance(value, bool):
        return "✓" if value else "\u2013"
    if isinstance(value, list):
        return ", ".join(map(_plain, value))
    return f"{value:g}" if isinstance(value, float) else "" if value is None else str(value)


def _called(path: tuple[str, ...], group: str, language: str) -> str:
    """Return a field's name in words: that of the whole path, else of each part, else the key itself."""
    parts = [part for part in path if part not in {"written", "notes", "text"}] or list(path)
    whole = _word(f"{group}.{'_'.join(parts)}", language)
    return whole or ", ".join(_word(f"{group}.{part}", language) or part for part in parts)


def _word(code: str, language: str) -> str:
    try:
        return wording.unmarked(code, language)
    except wording.WordingError:
        return ""


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…"
