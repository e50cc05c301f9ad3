"""How sure caps are to be, and what worlds drawn tell, as JSON."""

from __future__ import annotations

from leanladder.domain.chance import Cause, Chance, Doubt, FallOdds
from leanladder.interchange.chance import chance_object, doubt_object, fall_odds_object

DOUBT = Doubt(22.0, (17.0, 26.5), 24.0, (19.0, 28.5), 0.0004, (Cause("track", 0.4), Cause("glass", 0.1)))


def test_chance_and_odds_as_json() -> None:
    assert chance_object(Chance(99.0, 3)) == {"chance": 99.0, "seed": 3}
    assert fall_odds_object(FallOdds(0.001, 0.02, 30)) == {"rider": 0.001, "field": 0.02, "riders": 30}
    assert fall_odds_object(None) is None


def test_what_worlds_tell_of_a_rung_as_json() -> None:
    assert doubt_object(DOUBT, str.upper) == {
        "lean_p50_deg": 22.0,
        "lean_band_deg": [17.0, 26.5],
        "bike_p50_deg": 24.0,
        "bike_band_deg": [19.0, 28.5],
        "fall_odds": 0.0004,
        "main_causes": [
            {"code": "track", "text": "TRACK", "share": 0.4},
            {"code": "glass", "text": "GLASS", "share": 0.1},
        ],
    }


def test_without_worlds_the_same_keys_are_null() -> None:
    without = doubt_object(None, str)
    assert set(without) == set(doubt_object(DOUBT, str))
    assert set(without.values()) == {None}
