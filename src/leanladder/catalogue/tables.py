"""General tables of parameters, such as data/heat.toml."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from leanladder.catalogue.shipped import content, is_figure, names_in, parameter, unknown
from leanladder.domain.parameter import Parameter

_NOT_GENERAL = ("levels", "odds", "surfaces")


def table_names() -> tuple[str, ...]:
    """Return the names that `parameters` knows, a table within a file as `file.table`."""
    found: list[str] = []
    for name in names_in(""):
        if name not in _NOT_GENERAL:
            found.append(name)
            found += [f"{name}.{inner}" for inner, table in content(name).items() if _is_table(table)]
    return tuple(found)


@cache
def parameters(table: str) -> Mapping[str, Parameter]:
    """Return the figures of a table, such as `heat` or `planning.card`, by name.

    Tables within a table are left out: they have names of their own. Raises InputError for an
    unknown table, naming the nearest.
    """
    if table not in table_names():
        raise unknown("table", table, table_names())
    name, _, inner = table.partition(".")
    values: Mapping[str, Any] = content(name)[inner] if inner else content(name)
    return MappingProxyType({key: parameter(value) for key, value in values.items() if is_figure(value)})


def _is_table(value: object) -> bool:
    return isinstance(value, dict) and not is_figure(value)
