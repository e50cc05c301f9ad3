"""What is known of one tyre before the day: how far it is scrubbed, its crown, age and mends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Crown = Literal["round", "squared", "worn"]


@dataclass(frozen=True, slots=True)
class Condition:
    """One tyre as someone looked at it.

    scrubbed_left_deg, scrubbed_right_deg [deg, bike lean]: how far it has been leaned to each side, None
    where that side is scrubbed to its edge. crown: round, squared off, or worn. date_code, week and year
    as on the tyre's wall ("1025"); heat_cycles, how often it went from cold to hot and back; None where
    not stated. plugged: a repair plug is in it.
    """

    scrubbed_left_deg: float | None = None
    scrubbed_right_deg: float | None = None
    crown: Crown = "round"
    date_code: str | None = None
    heat_cycles: int | None = None
    plugged: bool = False
