"""T6: slow on the straights with normal pace in the corners is the wrong way round. Common practice."""

from __future__ import annotations

import pytest
from tests.trade.rides import Morning, session

from leanladder.domain.way import Way
from leanladder.planning.ways import compare

MORNING = Morning(8.0, 10.0)


def compared(level: str) -> dict[str, Way]:
    return {way.name: way for way in compare(session(MORNING, level, 3)).ways}


@pytest.mark.parametrize("level", ["new", "regular", "experienced"])
def test_t6_it_asks_for_more_of_the_usable_grip_than_any_other_way(level: str) -> None:
    ways = compared(level)
    wrong = ways.pop("slow_straights")
    assert wrong.peak_share > max(way.peak_share for way in ways.values())
    assert wrong.over_card_deg >= 13.0
    assert not wrong.allowed


@pytest.mark.parametrize("level", ["new", "regular"])
def test_t6_it_asks_for_more_than_there_is_to_use(level: str) -> None:
    assert compared(level)["slow_straights"].peak_share > 1.0


@pytest.mark.parametrize("level", ["new", "regular", "experienced"])
def test_t6_what_may_be_told_asks_for_less_than_there_is_to_use(level: str) -> None:
    assert all(way.peak_share < 1.0 for way in compared(level).values() if way.allowed)
