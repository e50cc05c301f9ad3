"""Caps hold with the chance asked for: worlds drawn afresh ride ladders that were planned without them.

Against ourselves: the same spreads and laws, other draws. The long proof is docs/evidence/odds.md.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from tests.worlds.counts import fallen, faults, passed, weighted
from tests.worlds.drawing import every_day, fresh
from tests.worlds.laid import Laid, believing, bolder, lay
from tests.worlds.outing import outing, ridden
from tests.worlds.rare import rare, slippery
from tests.worlds.sessions import Asked, session

WORLDS, SEED, LAPS = 2048, 900, 2
DEMO, KART = Asked(laps=LAPS), Asked("kart", "race", "warmers", "hot", laps=LAPS)
# fewer of them have too small a share of what varies for the bounds to notice: docs/evidence/odds.md
LEVELS = ("surface", "front_level", "rear_level", "corner_grip")

pytestmark = pytest.mark.usefixtures("all_members")


@cache
def laid(asked: Asked) -> Laid:
    """Counted over all members: only for tests that use them."""
    return lay(session(asked))


def noticed(mutant: Laid, right: Laid) -> list[str]:
    """What the bounds say of a ladder that was planned wrongly."""
    draws = fresh(right.place.bends.shape[0], WORLDS, SEED)
    found = passed(mutant, ridden(mutant, draws, right.place), right.share)
    assert found is not None
    return faults(found, right.place.session.chance.of_100)


@pytest.mark.parametrize("asked", [DEMO, KART], ids=str)
def test_caps_hold_with_the_chance_asked_for(asked: Asked) -> None:
    ladder = laid(asked)
    found = passed(ladder, outing(ladder, WORLDS, SEED))
    assert found is not None
    assert found.rungs == sum(len(step.way.ridden) for step in ladder.steps)  # nothing but grip sets a cap
    assert not faults(found, asked.of_100)


def test_a_share_a_tenth_too_large_is_noticed() -> None:
    mutant = lay(bolder(session(DEMO), 1.1))
    assert any("above" in words for words in noticed(mutant, laid(DEMO)))


def test_grip_levels_believed_twice_as_well_known_are_noticed() -> None:
    with believing(LEVELS, 0.5):
        mutant = lay(session(DEMO))
    assert any("above" in words for words in noticed(mutant, laid(DEMO)))


def test_a_rider_who_is_new_falls_less_than_once_in_ten_thousand_sessions() -> None:
    ladder = lay(session(Asked(level="new", judged=True, laps=LAPS)))
    found = rare(ladder, WORLDS // 2, SEED, slippery(4.0, 8.0))
    odds = weighted(fallen(found.used), found.weights)
    assert odds.value + 3.0 * odds.error < 1e-4


def test_worlds_drawn_on_the_slippery_side_weigh_as_plain_ones_do() -> None:
    ladder = laid(DEMO)
    plain = outing(ladder, 2 * WORLDS, SEED).max(axis=(0, 1))
    found = rare(ladder, WORLDS, SEED + 1, slippery(2.0))
    level = float(np.quantile(plain, 0.98))
    tilted = weighted(found.used.max(axis=(0, 1)) > level, found.weights)
    assert found.weights.mean() == pytest.approx(1.0, abs=0.05)
    assert tilted.value == pytest.approx(0.02, abs=4.0 * np.hypot(tilted.error, 0.0022))


def test_riders_of_a_day_have_its_road_and_places_alike_and_tyres_of_their_own() -> None:
    draws = fresh(3, 60, SEED, days=every_day(2, 30, SEED))
    for alike in (draws.common["surface"], draws.common["track"], *draws.corners["corner_grip"]):
        assert np.ptp(alike[:30]) == 0.0
        assert alike[0] != alike[30]
    for own in (draws.common["front_level"], draws.rung(1, 0, "lean_scatter")):
        assert np.unique(own).size == 60
