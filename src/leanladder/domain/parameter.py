"""A number with its unit, spread and source."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Parameter:
    """One figure of a data file.

    value in [unit]; spread is one standard deviation in the same unit (0 where exact);
    source names the publication, "common practice", "judgement" or "from memory".
    low and high are the published or judged range, None where there is none.
    """

    value: float
    unit: str
    spread: float
    source: str
    low: float | None = None
    high: float | None = None
