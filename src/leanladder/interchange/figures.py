"""Figures of files people write: an inline table or a plain number, checked against its range."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from pydantic import BaseModel, Field, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

from leanladder.domain.errors import Fault, InputError
from leanladder.domain.parameter import Parameter
from leanladder.interchange.ranges import Allowed
from leanladder.interchange.reading import ParameterIn, Written

Figure = ParameterIn | None


def figure(unit: str, low: float, high: float) -> Any:  # noqa: ANN401  # as pydantic.Field has it
    """Return the field of a figure kept in [unit] that must lie from low to high; None where left out."""
    return Field(default=None, json_schema_extra={"unit": unit, "low": low, "high": high})


class Figures(Written):
    """A table of figures, each held to the range its field states.

    A figure with another unit, or outside its range, is refused with the likely unit named.
    """

    @field_validator("*", mode="after")
    @classmethod
    def _within(cls, given: object, info: ValidationInfo) -> object:
        if isinstance(given, ParameterIn) and info.field_name is not None:
            return _checked(given, allowed_of(cls, info.field_name))
        return given


def allowed_of(table: type[BaseModel], name: str) -> Allowed:
    """Return the range of a field of a table of figures."""
    extra = table.model_fields[name].json_schema_extra
    if not isinstance(extra, dict):
        raise TypeError(f"{table.__name__}.{name} is not a figure")
    return Allowed(str(extra["unit"]), float(str(extra["low"])), float(str(extra["high"])))


def _checked(given: ParameterIn, allowed: Allowed) -> ParameterIn:
    if given.unit and given.unit != allowed.unit:
        raise PydanticCustomError(
            "figure_unit",
            "the unit is {unit}, not the one this figure is kept in.",
            {
                "unit": given.unit,
                "value": given.unit,
                "allowed": allowed.unit,
                "remedy": f"Give it in {allowed.unit}.",
            },
        )
    if not allowed.holds(given.value):
        raise PydanticCustomError(
            "figure_range",
            "{value} is outside the range.",
            {
                "value": f"{given.value:g}",
                "allowed": allowed.text(),
                "remedy": allowed.remedy(given.value) or f"Check the figure and its unit, {allowed.unit}.",
            },
        )
    return given


def parameter(given: ParameterIn, unit: str, base: Parameter | None) -> Parameter:
    """Return the domain's Parameter of a figure.

    A plain number has no spread or range of its own: it takes those of base where there is one.
    """
    plain = not given.unit
    if plain and base is not None:
        return Parameter(given.value, base.unit, base.spread, given.source, base.low, base.high)
    return Parameter(given.value, given.unit or unit, given.spread, given.source, given.low, given.high)


def merged(table: Figures, kind: type[Any], base: object | None, place: str) -> dict[str, Parameter]:
    """Return every Parameter field of kind, from table where given there and else from base.

    Raises InputError naming the first figure that neither has; place is the table's name in the file.
    """
    found: dict[str, Parameter] = {}
    for name in parameter_names(kind):
        given: ParameterIn | None = getattr(table, name)
        inherited: Parameter | None = getattr(base, name, None)
        if given is not None:
            found[name] = parameter(given, allowed_of(type(table), name).unit, inherited)
        elif inherited is not None:
            found[name] = inherited
        else:
            field = f"{place}.{name}" if place else name
            remedy = "Give it, or name a base to take it from."
            raise InputError("the figure is missing.", Fault(field=field, remedy=remedy))
    return found


def parameter_names(kind: type[Any]) -> tuple[str, ...]:
    """Return the names of the fields of a domain class that are Parameters."""
    return tuple(item.name for item in fields(kind) if item.type in ("Parameter", Parameter))
