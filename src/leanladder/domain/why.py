"""Why a cap is what it is: the limits, the rubber, the heat and the grip behind one rung."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from leanladder.domain.circuit import Corner, Side
from leanladder.domain.ladder import Ladder, Lap, Limit, Rung
from leanladder.domain.sentence import Sentence

End = Literal["front", "rear"]
ChangeKind = Literal["warmer_track", "warmers", "cold_start", "one_more_lap", "stop"]


def whole_pct(share: float) -> int:
    """Return a share [-] in whole percent, nearest: sentences and tables round alike."""
    return round(100.0 * share)


@dataclass(frozen=True, slots=True)
class CapLimit:
    """One limit on a rung's bike lean [deg], None where there is none; lean_deg, what grip carries there.

    sets: whether it is the one that sets the cap.
    """

    limit: Limit
    bike_lean_deg: float | None
    lean_deg: float | None
    sets: bool


@dataclass(frozen=True, slots=True)
class RibReading:
    """One strip of a tyre's tread on arrival, from its left edge to its right [degC].

    at_deg: the bike lean [deg, negative left] that stands on its middle, on a flat road; load_share [0..1]
    of the load that it bears at the cap.
    """

    at_deg: float
    skin_c: float
    outer_c: float
    carcass_c: float
    load_share: float


@dataclass(frozen=True, slots=True)
class HeatBudget:
    """What heat a tyre took in, gave off and kept over minutes [min], each by its name [J].

    Of what goes out, less than nothing came in. stored is taken from temperatures, by part of the tyre.
    """

    minutes: float
    heat_in_j: Mapping[str, float]
    heat_out_j: Mapping[str, float]
    stored_j: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class GripParts:
    """The friction [-] under one tyre at a bike lean [deg], and what is asked of it there.

    rubber_c [degC]: outer 2 mm under the load. keying and adhesion add up to grip; faded, what heat beyond
    the tyre's best takes away. peak_grip, curve, surface_kept and condition_kept multiply to grip: the
    compound's best on ordinary asphalt, the part of it there is at this temperature, this surface's friction
    against that of ordinary asphalt (above 1 on a rougher one), what the tyre's condition leaves.
    keying_developed and adhesion_developed [0..1]. usable: the part of grip that the level may use; demand:
    what the turn asks for; spare_grip: usable less demand, below nothing where it is not enough.
    """

    bike_lean_deg: float
    lean_deg: float
    rubber_c: float
    keying: float
    adhesion: float
    faded: float
    grip: float
    peak_grip: float
    curve: float
    surface_kept: float
    condition_kept: float
    keying_developed: float
    adhesion_developed: float
    usable: float
    demand: float
    spare_grip: float


@dataclass(frozen=True, slots=True)
class TyreWhy:
    """One tyre's part: rubber by rib, heat since rolling and on the last lap, grip at the cap and as usual.

    last_lap is None on the first; usual_grip stands at the level's usual lean.
    """

    end: End
    ribs: tuple[RibReading, ...]
    since_rolling: HeatBudget
    last_lap: HeatBudget | None
    cap_grip: GripParts
    usual_grip: GripParts


@dataclass(frozen=True, slots=True)
class CardReading:
    """What the caution card read and gave.

    end: the tyre whose shoulder is colder; rubber_c [degC] of that shoulder, read_c, after spread_k [K] for
    doubt about the road; card_factor [-], the level's; condition_kept [0..1]; bike_lean_deg, what it gives.
    """

    end: End
    rubber_c: float
    spread_k: float
    read_c: float
    card_factor: float
    condition_kept: float
    bike_lean_deg: float


@dataclass(frozen=True, slots=True)
class Change:
    """What one change alone does to the same rung; no cap, but why_not, where it does not apply.

    what says which change; lap, the lap that the cap is of. difference_deg [deg of bike lean]: its cap less
    the rung's.
    """

    kind: ChangeKind
    what: Sentence
    lap: int
    cap_bike_deg: float | None = None
    cap_lean_deg: float | None = None
    difference_deg: float | None = None
    limited_by: Limit | None = None
    why_not: Sentence | None = None


@dataclass(frozen=True, slots=True)
class Why:
    """The whole answer for one rung of a ladder, in sentences first.

    level_share and held_share [-]: of the friction at hand, what the level may use, and what is counted on.
    """

    ladder: Ladder
    lap: Lap
    corner: Corner
    rung: Rung
    sentences: tuple[Sentence, ...]
    limits: tuple[CapLimit, ...]
    level_share: float
    held_share: float
    card: CardReading
    front: TyreWhy
    rear: TyreWhy
    changes: tuple[Change, ...]

    @property
    def side(self) -> Side:
        """The side leaned to."""
        return self.corner.side
