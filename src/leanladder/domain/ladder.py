"""The answer: for every lap and corner a cap on lean, and why."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from leanladder.domain.chance import Doubt, FallOdds
from leanladder.domain.circuit import Side
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session

Limit = Literal["front_grip", "rear_grip", "caution_card", "scrubbing", "level_top", "clearance"]
PlanLimit = Literal[
    "front_grip",
    "rear_grip",
    "caution_card",
    "scrubbing",
    "level_top",
    "clearance",
    "power",
    "braking",
    "line",
]


@dataclass(frozen=True, slots=True)
class Rubber:
    """One tyre's temperatures on arrival, 50 m before turn-in [degC].

    left_c, centre_c, right_c: outer 2 mm of tread, mean over that third of the crown;
    skin_*_c: outer 0.3 mm; carcass_c: load-weighted carcass.
    """

    left_c: float
    centre_c: float
    right_c: float
    skin_left_c: float
    skin_centre_c: float
    skin_right_c: float
    carcass_c: float


@dataclass(frozen=True, slots=True)
class TyreEnd:
    """One tyre at the end of a lap.

    rubber; loaded_c and base_c [degC]: outer 2 mm and the tread under it, each weighted by the
    load as the carcass is; gas_c, rim_c [degC]; pressure_bar [bar gauge].
    """

    rubber: Rubber
    loaded_c: float
    base_c: float
    gas_c: float
    rim_c: float
    pressure_bar: float


@dataclass(frozen=True, slots=True)
class Rung:
    """One corner on one lap. Leans in degrees, exact (rounded only where shown).

    cap_lean_deg and cap_bike_deg: the cap as lean (what grip carries) and as bike lean;
    physics_bike_deg and card_bike_deg: what the grip and the caution card alone would allow;
    plan_lean_deg, plan_bike_deg, speed_kmh: what the planned lap reaches at the apex;
    cap_reached: the plan is within 0.5 deg of the cap; grip [-]: the friction at hand at the cap on
    the tyre that has less; margin_deg [deg]: cap less the level's usual lean (negative: less).
    scrubbed_bike_deg: how far both tyres are scrubbed to that side, None where to their edges. doubt: what
    the members of the ensemble tell, None where there is none.
    """

    number: int
    side: Side
    cap_lean_deg: float
    cap_bike_deg: float
    physics_bike_deg: float
    card_bike_deg: float
    plan_lean_deg: float
    plan_bike_deg: float
    cap_reached: bool
    speed_kmh: float
    limited_by: Limit
    plan_limited_by: PlanLimit
    reason: str
    grip: float
    margin_deg: float
    shoulder_in: bool
    front: Rubber
    rear: Rubber
    scrubbed_bike_deg: float | None = None
    doubt: Doubt | None = None


@dataclass(frozen=True, slots=True)
class Lap:
    """One lap: minute [min] since rolling at its start, time_s [s] it takes.

    straights says how hard to drive and brake upright, in words. least_margin is the number of
    the corner with least margin at the level's usual lean; where caps are alike, that of least grip.
    """

    lap: int
    time_s: float
    minute: float
    straights: str
    least_margin: int
    rungs: tuple[Rung, ...]
    front_end: TyreEnd
    rear_end: TyreEnd


@dataclass(frozen=True, slots=True)
class ColdAdvice:
    """The cold pressure [bar gauge] for a wanted hot one, at set_c [degC], by the gas at a lap's end.

    minimum_bar is the tyre maker's; cold_bar is None where that is not known, and never below it.
    """

    end: Literal["front", "rear"]
    hot_bar: float
    cold_bar: float | None
    minimum_bar: float | None
    set_c: float
    lap: int


@dataclass(frozen=True, slots=True)
class Notice:
    """A warning: a stable code and its text; told, where it is known, words it in another language."""

    code: str
    text: str
    told: Sentence | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Ladder:
    """The laps asked for, with warnings and cautions, the session they answer, and sources used.

    members: how many drawn worlds the physical caps were counted over; fall_odds over all of the laps.
    """

    session: Session
    laps: tuple[Lap, ...]
    warnings: tuple[Notice, ...]
    cautions: tuple[str, ...]
    engine: str
    parameters: str
    members: int = 0
    fall_odds: FallOdds | None = None
