"""Ways of warming a tyre, compared."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

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

    allowed, whether it may be told to riders of the level; rank, its place among those, None if not.
    skin_rise_c, tread_rise_c (outer 2 mm), carcass_rise_c [K]: above the start, on arrival, mean over the
    corners of the last lap. heat_j [J] into both tyres' rubber. peak_share [-]: the highest share of the
    usable grip (grip times the level's share) asked for at any step; most_lean_deg [deg, bike lean] and
    over_card_deg [deg], how far the lean goes beyond the card at most. ready_minute [min] from which on the
    caps of the busier side stay near to where they are going to be, None if not within the laps compared.
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
    carcass's rise, in the way that warms it most, that steady riding gives alone. settled_lap: the lap
    whose caps count as where they are going to be, settled_deg [deg] how near is ready. own_speed_mps and
    own_ready_minute: of growing lean at its own pace. warnings: what to doubt of the
    figures. cautions: codes; parameters: a digest.
    """

    session: Session
    ways: tuple[Way, ...]
    paced_by: WayName
    time_s: float
    speed_mps: float
    steady_share: float
    settled_lap: int
    settled_deg: float
    own_speed_mps: float
    own_ready_minute: float | None
    warnings: tuple[Sentence, ...]
    cautions: tuple[str, ...]
    engine: str
    parameters: str
