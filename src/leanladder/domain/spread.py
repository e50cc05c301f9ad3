"""How far an uncertain input may lie from the figure that a plan takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["added", "factor", "ratio", "even"]
Scope = Literal["day", "machine", "corner", "rung"]


@dataclass(frozen=True, slots=True)
class Spread:
    """One uncertain input, from data/odds.toml.

    kind: "added" (normal, in unit), "factor" (normal about 1), "ratio" (log-normal about 1), "even" (within
    spread to either side alike). scope: for whom one draw holds: all riders of a "day", a "machine", a
    "corner" all day, or one "rung" (a corner on a lap). spread, one standard deviation, or of, the figure
    whose own spread counts, times part.
    """

    code: str
    kind: Kind
    scope: Scope
    source: str
    spread: float | None = None
    unit: str = "-"
    of: str | None = None
    part: float = 1.0
