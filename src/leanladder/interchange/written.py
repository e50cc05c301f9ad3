"""Bases for models of the files that people write."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError


class Written(BaseModel):
    """Base of every model of a written file: no unknown keys, no coercion, finite numbers, frozen."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, frozen=True)


class ParameterIn(Written):
    """A figure as written: `{ value, unit, spread, source, low, high }`, or a plain number.

    A plain number is the user's own: spread 0, source "user", in the unit the field expects.
    """

    value: float
    unit: str | None = None
    spread: float = Field(default=0.0, ge=0.0)
    source: str = "user"
    low: float | None = None
    high: float | None = None

    @model_validator(mode="before")
    @classmethod
    def _plain_number(cls, data: Any) -> Any:  # noqa: ANN401  # whatever was written
        if isinstance(data, int | float) and not isinstance(data, bool):
            return {"value": data}
        return data

    @model_validator(mode="after")
    def _within_own_range(self) -> ParameterIn:
        low = self.value if self.low is None else self.low
        high = self.value if self.high is None else self.high
        if not low <= self.value <= high:
            raise PydanticCustomError(
                "own_range",
                "the value lies outside its own low and high.",
                {"allowed": f"{low:g} to {high:g}"},
            )
        return self
