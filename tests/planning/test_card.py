"""The caution card. Its figures are common practice: no published source."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder import catalogue
from leanladder.planning.card import card_bike_deg
from leanladder.planning.tables import shipped_tables

TABLES = shipped_tables()
NEW = catalogue.level("new")
FACTORS = st.floats(1.0, 1.3)


def test_the_new_levels_card_is_what_the_trade_says() -> None:
    # About 10 deg with the rubber at 0 degC, about 17 deg at 10 degC (common practice).
    assert NEW.card_factor.value == 1.0
    at_0, at_10 = (card_bike_deg(at_c, 1.0, TABLES) for at_c in (0.0, 10.0))
    assert at_0 is not None
    assert at_10 is not None
    assert 9.0 <= at_0 <= 10.0
    assert 16.0 <= at_10 <= 17.0


@given(st.floats(-40.0, -1e-9), FACTORS)
def test_no_number_below_freezing(rubber_c: float, factor: float) -> None:
    assert card_bike_deg(rubber_c, factor, TABLES) is None


@given(st.floats(0.0, 110.0), st.floats(1e-6, 1.0), FACTORS)
def test_it_rises_without_a_step(rubber_c: float, more_k: float, factor: float) -> None:
    here, warmer = (card_bike_deg(at_c, factor, TABLES) for at_c in (rubber_c, rubber_c + more_k))
    assert here is not None
    assert warmer is not None
    assert 0.0 < warmer - here < 1.5 * more_k


def test_it_reaches_the_levels_top_while_rubber_is_rubber() -> None:
    for name in catalogue.level_names():
        level = catalogue.level(name)
        hot = card_bike_deg(60.0, level.card_factor.value, TABLES)
        assert hot is not None
        assert hot > level.top_lean_deg.value


@pytest.mark.parametrize(("name", "most"), [("new", 1.0), ("regular", 1.15), ("experienced", 1.3)])
def test_levels_lift_it_by_no_more_than_agreed(name: str, most: float) -> None:
    assert 1.0 <= catalogue.level(name).card_factor.value <= most


@given(st.floats(0.0, 100.0), FACTORS)
def test_a_level_multiplies_all_of_it(rubber_c: float, factor: float) -> None:
    one, own = card_bike_deg(rubber_c, 1.0, TABLES), card_bike_deg(rubber_c, factor, TABLES)
    assert one is not None
    assert own == pytest.approx(factor * one, rel=1e-12)
