"""The data files that ship with the package."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from leanladder.domain.errors import Fault, InputError
from leanladder.domain.parameter import Parameter
from leanladder.interchange.nearest import nearest

SUFFIX = ".toml"


@cache
def names_in(folder: str) -> tuple[str, ...]:
    """Return the names of the data files of a folder of the package's data ("" for the top), in order."""
    place = files("leanladder").joinpath("data")
    if folder:
        place = place.joinpath(folder)
    found = (item.name for item in place.iterdir() if item.is_file() and item.name.endswith(SUFFIX))
    return tuple(sorted(name.removesuffix(SUFFIX) for name in found))


@cache
def content(name: str, folder: str = "") -> Mapping[str, Any]:
    """Return the tables of a data file, read once; the caller makes sure that there is one."""
    place = files("leanladder").joinpath("data")
    if folder:
        place = place.joinpath(folder)
    return tomllib.loads(place.joinpath(name + SUFFIX).read_text(encoding="utf-8"))


def is_figure(value: object) -> bool:
    """Return whether a value of a data file is a figure with its unit, spread and source."""
    return isinstance(value, dict) and {"value", "unit", "spread", "source"} <= value.keys()


def parameter(table: Mapping[str, Any]) -> Parameter:
    """Return the Parameter of a figure of a data file."""
    return Parameter(
        value=float(table["value"]),
        unit=table["unit"],
        spread=float(table["spread"]),
        source=table["source"],
        low=float(table["low"]) if "low" in table else None,
        high=float(table["high"]) if "high" in table else None,
    )


def unknown(kind: str, name: str, names: tuple[str, ...]) -> InputError:
    """Return the error for a name that is not one of names, naming the nearest of them."""
    close = nearest(name, names)
    remedy = f"Did you mean {close}?" if close else None
    return InputError(
        f"there is no {kind} called {name!r}.",
        Fault(field=kind, value=name, allowed=", ".join(names), remedy=remedy),
    )
