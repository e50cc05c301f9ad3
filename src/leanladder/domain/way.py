"""Ways of warming a tyre, compared."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from leanladder.domain.ladder import Notice
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session

WayName = Literal["growing_lean", "upright", "steady", "weaving", "slow_straights"]


@dataclass(frozen=True, slots=True)
class Rise:
    """How much warmer a tyre got [K]: the centre third of its crown, and the mean of both shoulders."""

    centre: float
    shoulders: float


@dataclass(frozen=True, slots=True)
class EndsRise:
    """The rise of the front and of the rear tyre."""

    front: Rise
    rear: Rise


@dataclass(frozen=True, slots=True)
class Way:
    """One way of riding the laps compared, and what it makes of the tyres.

    allowed, whether it may be told to riders of the level; rank, its place among those, None if not, or if
    nothing is ranked: no turn is ridden, or the tyres are past their range.
    skin_rise_c, tread_rise_c (outer 2 mm), carcass_rise_c [K]: above the start, on arrival, mean over the
    corners of the last lap. heat_j [J] into both tyres' rubber. peak_share [-]: the highest share of the
    usable grip (grip times the level's share) asked for at any step; most_lean_deg [deg, bike lean] and
    over_card_deg [deg], how far the lean goes beyond the card at most. ready_minute [min] from which on the
    caps of the busier side stay no further below where they are going to be than is near, None if not within
    the laps compared.
    speed_mps, mean. says: one sentence or two, why; conditions, on which alone it may be told.
    """

    name: WayName
    allowed: bool
    rank: int | None
    skin_rise_c: EndsRise
    tread_rise_c: EndsRise
    carcass_rise_c: EndsRise
    heat_j: float
    peak_share: float
    most_lean_deg: float
    over_card_deg: float
    ready_minute: float | None
    speed_mps: float
    says: Sentence
    conditions: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class Ways:
    """All ways, those allowed first, best first; compared over time_s [s] at speed_mps [m/s].

    paced_by: the way whose own pace the others were brought to. steady_share [-]: the part of the
    carcass's rise, in the way that warms it most, that steady riding gives alone; None where it cools.
    settled_lap: the lap whose caps count as where they are going to be, settled_deg [deg] how near is ready,
    settled_cap_deg [deg] the mean of those caps, None without a turn. own_speed_mps and own_ready_minute: of
    growing lean at its own pace. held_share [-]: the part of the usable grip that limits keep to.
    warnings: those of the session's ladder. cautions: codes; parameters: a digest.
    """

    session: Session
    ways: tuple[Way, ...]
    paced_by: WayName
    time_s: float
    speed_mps: float
    steady_share: float | None
    settled_lap: int
    settled_deg: float
    settled_cap_deg: float | None
    own_speed_mps: float
    own_ready_minute: float | None
    held_share: float
    warnings: tuple[Notice, ...]
    cautions: tuple[str, ...]
    engine: str
    parameters: str


def whole(value: float) -> int:
    """Return a rise as it is shown, in table and sentence alike: whole, never minus nought."""
    return round(value)


def percent(share: float) -> int:
    """Return a share that is asked for [-] as it is shown [%]: rounded up."""
    return math.ceil(100.0 * share - 1e-9)
