"""T1, T2: the caution card and the texture index. Common practice, no published source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from leanladder import catalogue
from leanladder.planning.card import card_bike_deg
from leanladder.planning.gripping import texture_fill
from leanladder.planning.guide import guide
from leanladder.planning.tables import shipped_tables

TABLES = shipped_tables()


def test_t1_the_new_card_starts_as_the_trade_has_it() -> None:
    at_0, at_10 = card_bike_deg(0.0, 1.0, TABLES), card_bike_deg(10.0, 1.0, TABLES)
    assert at_0 is not None
    assert 9.0 <= at_0 <= 10.0
    assert at_10 is not None
    assert 16.0 <= at_10 <= 17.0


def test_t1_no_number_below_freezing() -> None:
    assert card_bike_deg(-0.01, 1.0, TABLES) is None


def test_t1_rises_without_a_step_to_the_top() -> None:
    top = catalogue.level("new").top_lean_deg.value
    read = [card_bike_deg(float(rubber_c), 1.0, TABLES) for rubber_c in np.linspace(0.0, 80.0, 801)]
    leans = np.minimum([lean for lean in read if lean is not None], top)
    steps = np.diff(leans)
    assert leans.size == 801
    assert leans[-1] == top
    assert np.all(steps >= 0.0)
    assert steps.max() < 0.1


@pytest.mark.parametrize("end", ["front", "rear"])
def test_t1_the_physical_cap_is_not_below_the_card(end: str) -> None:
    """The card of `new` up to its top, on an everyday tyre and ordinary dry asphalt, 0 to 80 degC."""
    tyre = getattr(catalogue.tyre_family("sport-road"), end)
    rows = guide(tyre, catalogue.level("new"), catalogue.surface("ordinary"))
    cool = [row for row in rows if row.rubber_c <= 80.0]
    assert len(cool) == 17
    for row in cool:
        assert row.card_bike_deg is not None
        assert row.physics_bike_deg >= row.card_bike_deg


def test_t2_cold_rubber_fills_a_tenth_and_hot_rubber_all_of_the_texture() -> None:
    cold, warm, hot = texture_fill(np.array([0.0, 60.0, 110.0]), TABLES)
    assert 0.08 <= cold <= 0.15
    assert warm > 0.8
    assert 0.98 <= hot <= 1.1


def test_t2_is_shown_and_not_multiplied_into_grip() -> None:
    family = catalogue.tyre_family("sport-road")
    softer = dict(TABLES.grip) | {"fill_soft_c": 30.0, "fill_cold": 0.2}
    level, surface = catalogue.level("new"), catalogue.surface("ordinary")
    plain = guide(family.front, level, surface, TABLES)
    changed = guide(
        family.front,
        level,
        surface,
        replace(TABLES, grip=softer),
    )
    assert [row.grip for row in plain] == [row.grip for row in changed]
    assert [row.texture_fill for row in plain] != [row.texture_fill for row in changed]
