"""Domain objects as JSON text that is kept for years, and back: every number exactly as it was.

A value is written by its kind, never by a path to import: an object whose kind is not on the list is
neither written nor made. What several objects share, such as a circuit, is written once and shared again
by what is read.
"""

from __future__ import annotations

import base64
import json
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time
from pathlib import Path, PurePath
from typing import Any, cast

import numpy as np

from leanladder.domain import (
    chance,
    circuit,
    condition,
    day,
    errors,
    field,
    ladder,
    motorcycle,
    paper,
    parameter,
    rider,
    sentence,
    session,
    spread,
    tyre,
    way,
    weather,
    why,
)
from leanladder.domain.errors import Fault, InputError, OutsideModelError

SCHEMA = "leanladder.stored/1"
_MODULES = (
    chance, circuit, condition, day, errors, field, ladder, motorcycle, paper, parameter, rider, sentence,
    session, spread, tyre, way, weather, why,
)  # fmt: skip
# Read and written in this byte order, whatever the machine's own is.
_ARRAYS = {"float64": "<f8", "int64": "<i8", "bool": "|b1"}
_KIND, _SHARED = "@", "#"
_NUMBERS = {"nan": math.nan, "inf": math.inf, "-inf": -math.inf}


def kinds(also: Iterable[type] = ()) -> dict[str, type]:
    """Return the kinds of object that are kept, by name: the domain's dataclasses, and those given also."""
    domain = (
        each
        for module in _MODULES
        for each in vars(module).values()
        if isinstance(each, type) and is_dataclass(each) and each.__module__ == module.__name__
    )
    found: dict[str, type] = {}
    for each in (*domain, *also):
        if found.setdefault(each.__name__, each) is not each:
            raise ValueError(f"two kinds are called {each.__name__}")
    return found


def to_json(value: object, also: Iterable[type] = ()) -> str:
    """Return a value as JSON text: objects of the domain, and what dataclasses hold.

    Those are numbers, texts, dates, times, paths, arrays, tuples, lists, mappings and refusals. also:
    dataclasses and named tuples of other packages to be kept too. Raises TypeError for anything else.
    """
    writer = _Writer(kinds(also))
    root = writer.written(value)
    whole = {"schema": SCHEMA, "shared": writer.shared, "value": root}
    return json.dumps(whole, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def from_json(text: str, also: Iterable[type] = ()) -> object:
    """Return the value that `to_json` wrote; raises InputError for a text that it did not write.

    Fields that were not known when it was written take what the dataclass gives them.
    """
    try:
        whole = json.loads(text)
        if whole["schema"] != SCHEMA:
            raise _unreadable(f"its schema is {whole['schema']!r}")
        reader = _Reader(kinds(also))
        for each in whole["shared"]:
            reader.shared.append(reader.read(each))
        return reader.read(whole["value"])
    except (KeyError, TypeError, ValueError, IndexError, AttributeError, RecursionError) as error:
        raise _unreadable(f"{type(error).__name__}: {error}"[:200]) from None


def _unreadable(why_not: str) -> InputError:
    fault = Fault(value=why_not, allowed=SCHEMA, remedy="Restore a backup, or install the newest version.")
    return InputError("what is on record cannot be read.", fault)


class _Writer:
    """Writes values, objects once each: shared holds them, those first that others need."""

    def __init__(self, known: Mapping[str, type]) -> None:
        self._known = known
        self.shared: list[Any] = []
        # The objects themselves are kept too, so that no other gets the same identity meanwhile.
        self._places: dict[int, tuple[int, object]] = {}

    def written(self, value: object) -> object:
        if value is None or isinstance(value, bool | str | int | float | np.integer | np.bool_):
            return _figure(value)
        if isinstance(value, tuple) and not hasattr(value, "_fields"):
            return [self.written(each) for each in value]
        if isinstance(value, list):
            return {_KIND: "list", "of": [self.written(each) for each in value]}
        if isinstance(value, Mapping):
            pairs = [[self.written(key), self.written(each)] for key, each in value.items()]
            return {_KIND: "map", "of": pairs}
        return self._plain(value) or self._once(value)

    def _plain(self, value: object) -> dict[str, str] | None:
        # A datetime is a date too: it comes first.
        for kind, sort in (("datetime", datetime), ("date", date), ("time", time)):
            if isinstance(value, sort):
                return {_KIND: kind, "of": value.isoformat()}
        if isinstance(value, PurePath):
            return {_KIND: "path", "of": value.as_posix()}
        return None

    def _once(self, value: object) -> dict[str, int]:
        if id(value) not in self._places:
            content = self._object(value)
            self._places[id(value)] = (len(self.shared), value)
            self.shared.append(content)
        return {_SHARED: self._places[id(value)][0]}

    def _object(self, value: object) -> dict[str, object]:
        if isinstance(value, np.ndarray):
            return _array(value)
        if isinstance(value, OutsideModelError):
            parts = [self.written(each) for each in (value.code, value.message, value.fault)]
            return {_KIND: "refusal", "of": parts}
        name = type(value).__name__
        if self._known.get(name) is not type(value):
            raise TypeError(f"{type(value).__module__}.{name} is of no kind that is kept")
        return {_KIND: name, **{key: self.written(getattr(value, key)) for key in _names(type(value))}}


class _Reader:
    """Makes values of what a writer wrote; shared holds what was made so far."""

    def __init__(self, known: Mapping[str, type]) -> None:
        self._known = known
        self.shared: list[Any] = []

    def read(self, written: object) -> Any:  # noqa: ANN401  # whatever was written
        if isinstance(written, list):
            return tuple(self.read(each) for each in written)
        if not isinstance(written, dict):
            return written
        if _SHARED in written:
            return self.shared[written[_SHARED]]
        return self._of_kind(written[_KIND], written)

    def _of_kind(self, kind: str, written: Mapping[str, Any]) -> object:
        if kind in _PLAIN:
            return _PLAIN[kind](written["of"])
        if kind in _HOLDING:
            return _HOLDING[kind](self, written)
        parts = {key: self.read(each) for key, each in written.items() if key != _KIND}
        made: object = self._known[kind](**parts)
        return made


def _figure(value: object) -> object:
    """Return a number or text as JSON has it: numpy's as Python's, those that are not finite by name."""
    if isinstance(value, np.integer | np.bool_ | np.floating):
        value = value.item()
    if isinstance(value, float) and not math.isfinite(value):
        return {_KIND: "number", "of": str(value)}
    return value


def _array(value: np.ndarray[Any, Any]) -> dict[str, object]:
    if value.dtype.name not in _ARRAYS:
        raise TypeError(f"arrays of {value.dtype} are not kept")
    content = base64.b64encode(np.ascontiguousarray(value, _ARRAYS[value.dtype.name]).tobytes())
    kept = {"type": value.dtype.name, "shape": list(value.shape), "of": content.decode("ascii")}
    return {_KIND: "array", **kept}


def _array_of(written: Mapping[str, Any]) -> np.ndarray[Any, Any]:
    content = base64.b64decode(written["of"], validate=True)
    found = np.frombuffer(content, _ARRAYS[written["type"]]).reshape(written["shape"])
    return found.astype(written["type"])  # a copy of its own, in the machine's byte order


def _names(kind: type) -> tuple[str, ...]:
    """Return the fields of a dataclass or named tuple."""
    if is_dataclass(kind):
        return tuple(each.name for each in fields(kind) if each.init)
    return cast("tuple[str, ...]", getattr(kind, "_fields", ()))


_PLAIN: dict[str, Callable[[str], object]] = {
    "datetime": datetime.fromisoformat,
    "date": date.fromisoformat,
    "time": time.fromisoformat,
    "path": Path,
    "number": _NUMBERS.__getitem__,
}
_HOLDING: dict[str, Callable[[_Reader, Mapping[str, Any]], object]] = {
    "list": lambda reader, written: [reader.read(each) for each in written["of"]],
    "map": lambda reader, written: {reader.read(key): reader.read(each) for key, each in written["of"]},
    "refusal": lambda reader, written: OutsideModelError(*(reader.read(each) for each in written["of"])),
    "array": lambda _, written: _array_of(written),
}
