"""A model's refusal as an InputError: place, value, what is allowed, what to do."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import SimpleNamespace
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.lines import line_of
from leanladder.interchange.nearest import nearest
from leanladder.units import likely_unit, unit_of_field

_KINDS = {
    "float_type": "a number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "string_type": "text in quotes",
    "bool_type": "true or false",
    "tuple_type": "a list in square brackets",
    "list_type": "a list in square brackets",
    "model_type": "a table",
    "model_attributes_type": "a table",
    "dict_type": "a table",
    "finite_number": "a finite number",
}


def explain(error: ValidationError, model: type[BaseModel], path: Path, text: str) -> InputError:
    """Return the InputError for the first thing that the model refused in the file's text."""
    first = error.errors(include_url=False)[0]
    place = first["loc"]
    where = f"{'.'.join(str(key) for key in place)}" if place else None
    message, parts = _account(first, model)
    value = parts.get("value", _shown(first))
    line = line_of(text, place)
    return InputError(
        message, Fault(str(path), line, where, value, parts.get("allowed"), parts.get("remedy"))
    )


def _account(first: ErrorDetails, model: type[BaseModel]) -> tuple[str, dict[str, str]]:
    """Return the message, and allowed, remedy and value where they are known."""
    kind, context = first["type"], first.get("ctx", {})
    key = str(first["loc"][-1]) if first["loc"] else ""
    if kind == "extra_forbidden":
        return _unknown_key(key, _model_at(model, first["loc"][:-1]))
    if (told := _absent_or_long(kind, key, first)) is not None:
        return told
    if kind in _KINDS:
        return f"this must be {_KINDS[kind]}.", {"allowed": _KINDS[kind]}
    if kind in {"literal_error", "enum"}:
        return _unknown_name(str(first["input"]), str(context.get("expected", "")))
    if bounds := _bounds(context, model, first["loc"]):
        return "the value is out of range.", _range(key, first["input"], *bounds)
    # A check of the model's own: a ValueError, or a custom error whose context names the parts.
    text = str(context["error"]) if "error" in context else first["msg"]
    return _sentence(text), {name: str(part) for name, part in context.items() if part and name != "error"}


def _absent_or_long(kind: str, key: str, first: ErrorDetails) -> tuple[str, dict[str, str]] | None:
    """Return what to tell of something missing, empty or too long; None for anything else."""
    if kind in {"missing", "too_long"} and key.isdecimal():
        return "this list has another length than is needed.", {"remedy": "See the example's comments."}
    if kind == "missing":
        return f"{key} is missing.", {"remedy": f"Add a line `{key} = ...`."}
    if kind == "string_too_short":
        return "this must not be empty.", {"remedy": "Write it, or remove the line."}
    if kind == "string_too_long":
        return "this is too long.", {"allowed": f"{first['ctx']['max_length']} characters at most"}
    return None


def _unknown_key(key: str, model: type[BaseModel] | None) -> tuple[str, dict[str, str]]:
    names = [field.alias or name for name, field in model.model_fields.items()] if model else []
    close = nearest(key, names)
    parts = {"allowed": ", ".join(names)} if names else {}
    parts["remedy"] = f"Did you mean {close}?" if close else "Remove the line."
    return f"the key {key!r} is unknown.", parts


def _unknown_name(found: str, expected: str) -> tuple[str, dict[str, str]]:
    names = [name.strip("'\" ") for part in expected.split(",") for name in part.split(" or ")]
    close = nearest(found, names)
    parts = {"allowed": ", ".join(names)}
    if close:
        parts["remedy"] = f"Did you mean {close}?"
    return f"{found!r} is not one of the names known here.", parts


def _bounds(
    context: Mapping[str, Any], model: type[BaseModel], place: tuple[str | int, ...]
) -> tuple[float | None, float | None] | None:
    """Return the least and the most allowed, None for one that is open; None for another kind of refusal."""
    if not context.keys() & {"ge", "gt", "le", "lt"}:
        return None
    table = _model_at(model, place[:-1])
    field = table.model_fields.get(str(place[-1])) if table else None
    rules = [*(field.metadata if field else ()), SimpleNamespace(**context)]
    return _first(rules, "ge", "gt"), _first(rules, "le", "lt")


def _first(rules: list[Any], *names: str) -> float | None:
    found = (getattr(rule, name, None) for rule in rules for name in names)
    return next((bound for bound in found if bound is not None), None)


def _range(key: str, value: object, low: float | None, high: float | None) -> dict[str, str]:
    unit = unit_of_field(key)
    shown = f" {unit}" if unit else ""
    least = None if low is None else f"from {low:g}{shown}"
    most = None if high is None else f"to {high:g}{shown}"
    parts = {"allowed": " ".join(text for text in (least, most) if text)}
    if unit and isinstance(value, int | float):
        likely = likely_unit(
            value, unit, -math.inf if low is None else low, math.inf if high is None else high
        )
        if likely:
            parts["remedy"] = f"Is it in {likely}? Give it in {unit}."
    return parts


def _model_at(model: type[BaseModel], place: Sequence[str | int]) -> type[BaseModel] | None:
    """Return the model of the table at place, following fields and members of lists."""
    here: type[BaseModel] | None = model
    for key in place:
        if here is None or isinstance(key, int):
            continue
        field = here.model_fields.get(key)
        here = _model_in(field.annotation) if field else here
    return here


def _model_in(annotation: object) -> type[BaseModel] | None:
    """Return the model that an annotation holds, itself or within a list, tuple or choice."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in get_args(annotation) if (found := _model_in(part))), None)


def _shown(first: ErrorDetails) -> str | None:
    value = first["input"]
    if first["type"] == "missing" or isinstance(value, dict | list):
        return None
    return str(value)


def _sentence(text: str) -> str:
    text = text.removeprefix("Value error, ").strip()
    return text if text.endswith((".", "?", "!")) else text + "."
