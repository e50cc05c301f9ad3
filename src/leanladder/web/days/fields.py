"""What is typed into a page's fields, and how figures stand there: in the units of who reads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.http import QueryDict

from leanladder.domain.errors import Fault, InputError
from leanladder.units.convert import convert

Row = dict[str, str]
# The unit that a figure is kept in, and the one that readers of imperial units type it in.
IMPERIAL = {"degC": "degF", "m/s": "mph", "m": "ft", "K": "degF"}
# Figures are kept to this many decimals after they were converted.
DECIMALS = 2


def shown_unit(unit: str, units: str) -> str:
    """Return the unit that a reader of metric or imperial units has in place of one of ours."""
    return IMPERIAL.get(unit, unit) if units == "imperial" else unit


def typed(value: object, unit: str, units: str) -> str:
    """Return a figure kept in a unit as it stands in a field; empty where not stated."""
    if value is None or value == "":
        return ""
    return f"{round(convert(float(str(value)), unit, shown_unit(unit, units)), DECIMALS):g}"


def number(text: str, field: str, unit: str, units: str) -> float | None:
    """Return a typed figure in the unit that it is kept in, None for an empty field; raises InputError."""
    found = plain(text, field)
    if found is None or shown_unit(unit, units) == unit:
        return found
    return round(convert(found, shown_unit(unit, units), unit), DECIMALS)


def plain(text: str, field: str) -> float | None:
    """Return a typed number as it is, None for an empty field; raises InputError."""
    text = text.strip().replace(",", ".").replace("\N{MINUS SIGN}", "-")
    if not text:
        return None
    try:
        return float(text)
    except ValueError:
        fault = Fault(field=field, value=text, remedy="Type a number, or leave it empty.")
        raise InputError("this is no number.", fault) from None


def whole(text: str, field: str) -> int | None:
    """Return a typed whole number, None for an empty field; raises InputError."""
    found = plain(text, field)
    if found is None:
        return None
    if not found.is_integer():
        raise InputError("this is no whole number.", Fault(field=field, value=text))
    return int(found)


def rows_of(post: QueryDict, keys: Sequence[str]) -> list[Row]:
    """Return rows of fields that share their names, one value a row each."""
    lists = {key: post.getlist(key) for key in keys}
    count = max((len(values) for values in lists.values()), default=0)
    return [
        {key: values[at].strip() if at < len(values) else "" for key, values in lists.items()}
        for at in range(count)
    ]


def without(rows: list[Row], index: str) -> list[Row]:
    """Return rows but for the one that a button names by its place."""
    return [row for at, row in enumerate(rows) if str(at) != index]


def stated(entry: Mapping[str, Any]) -> dict[str, Any]:
    """Return an entry's keys that say something."""
    return {key: value for key, value in entry.items() if value not in (None, "")}


def clock(text: str) -> str:
    """Return a time of day as a field for it wants it, HH:MM."""
    hour, _, minute = text.partition(":")
    return f"{hour.rjust(2, '0')}:{minute[:2]}" if minute else text
