"""How sure caps are to be: what may be asked for; and what worlds drawn at random tell, as JSON."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from leanladder.domain.chance import Cause, Chance, Doubt, FallOdds
from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.ranges import Allowed

# Below, more worlds would fall short than a cap may leave out; above, the draws are too few to tell.
OF_100 = Allowed("in 100", 95.0, 99.5)
SEEDS = 2**32
USUAL = Chance()

CauseSaid = Callable[[str], str]  # a cause's name in words, by its code


def checked(of_100: float, seed: int, *, chance_field: str = "chance", seed_field: str = "seed") -> Chance:
    """Return a chance [in 100] with the seed of its draws.

    Raises InputError, by the names of the fields, for a chance outside OF_100 and for a seed that is none.
    """
    if not OF_100.holds(of_100):
        fault = Fault(None, None, chance_field, f"{of_100:.12g}", OF_100.text(), _remedy(of_100))
        raise InputError("this chance cannot be asked for.", fault)
    if not 0 <= seed < SEEDS:
        remedy = "Any of these does. The same seed gives the same ladder."
        fault = Fault(None, None, seed_field, str(seed), f"0 to {SEEDS - 1}", remedy)
        raise InputError("this is no seed.", fault)
    return Chance(of_100, seed)


def _remedy(of_100: float) -> str:
    if not math.isfinite(of_100):
        return "Give a number."
    if OF_100.holds(100.0 * of_100):
        return f"{of_100:g} looks like a share of 1; give {100.0 * of_100:g}."
    if of_100 < OF_100.low:
        return "A lower chance would let more worlds fall short."
    return "The worlds drawn are too few to tell more."


def chance_object(chance: Chance) -> dict[str, Any]:
    """Return the chance asked for [in 100] and the seed of its draws."""
    return {"chance": chance.of_100, "seed": chance.seed}


def fall_odds_object(odds: FallOdds | None) -> dict[str, Any] | None:
    """Return the model's odds [0..1] of a fall by grip over a ladder's laps, None where there are none."""
    return None if odds is None else {"rider": odds.rider, "field": odds.field, "riders": odds.riders}


def doubt_object(doubt: Doubt | None, said: CauseSaid) -> dict[str, Any]:
    """Return what the worlds drawn tell of one corner on one lap; its keys are null where none were."""
    if doubt is None:
        keys = ("lean_p50_deg", "lean_band_deg", "bike_p50_deg", "bike_band_deg", "fall_odds", "main_causes")
        return dict.fromkeys(keys)
    return {
        "lean_p50_deg": doubt.lean_p50_deg,
        "lean_band_deg": list(doubt.lean_band_deg),
        "bike_p50_deg": doubt.bike_p50_deg,
        "bike_band_deg": list(doubt.bike_band_deg),
        "fall_odds": doubt.fall_odds,
        "main_causes": [_cause(cause, said) for cause in doubt.main_causes],
    }


def _cause(cause: Cause, said: CauseSaid) -> dict[str, Any]:
    return {"code": cause.code, "text": said(cause.code), "share": cause.share}
