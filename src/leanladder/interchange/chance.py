"""How sure caps are to be, and what worlds drawn at random tell, as JSON."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from leanladder.domain.chance import Cause, Chance, Doubt, FallOdds

CauseSaid = Callable[[str], str]  # a cause's name in words, by its code


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
