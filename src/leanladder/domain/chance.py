"""How sure a cap is to be, and what the members of an ensemble tell about one corner on one lap."""

from __future__ import annotations

from dataclasses import dataclass

# In 100. Below, more worlds would fall short than a cap may leave out; the spreads are not known to more.
LEAST_CHANCE, MOST_CHANCE = 95.0, 99.5
SEEDS = 2**32


@dataclass(frozen=True, slots=True)
class Chance:
    """The chance that is asked for, and the seed of the draws.

    of_100 [in 100], 95 to 99.5: of all the days, tyres and riders that the figures' spreads allow for, how
    many carry a physical cap. seed: the same one gives the same ladder.
    """

    of_100: float = 95.0
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Cause:
    """One uncertain input by its code (data/odds.toml), with its share [0..1] of what moves a lean."""

    code: str
    share: float


@dataclass(frozen=True, slots=True)
class Doubt:
    """What the members tell of one corner on one lap; for coaches, never for riders.

    lean_p50_deg, lean_band_deg [deg]: the lean that members carry, middle one, and 5th and 95th in 100 of
    them; bike_p50_deg, bike_band_deg: the same as bike lean. fall_odds [0..1]: the model's odds that the
    planned lean, ridden with a rider's scatter, asks for more than all the grip there is. main_causes: at
    most three inputs that move the physical cap most, the greatest first.
    """

    lean_p50_deg: float
    lean_band_deg: tuple[float, float]
    bike_p50_deg: float
    bike_band_deg: tuple[float, float]
    fall_odds: float
    main_causes: tuple[Cause, ...]


@dataclass(frozen=True, slots=True)
class FallOdds:
    """The model's odds [0..1] of a fall by grip over a ladder's laps; for the head instructor.

    rider: that one rider falls; field: that at least one of `riders` does, all of them on the same day's
    road and weather, each on their own tyres.
    """

    rider: float
    field: float
    riders: int
