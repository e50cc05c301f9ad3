"""What was handed out beside what would be now: rider by rider, however little it is."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from leanladder.web import compared

BOTH = ("Wren", "Sedge")


def entry(riders: tuple[str, ...], *laps_deg: float) -> Any:  # stands in for a combination of one turn
    """A combination whose one turn, the third, has these limits lap by lap; without any it has no ladder."""
    laps = tuple(
        SimpleNamespace(lap=lap, rungs=(SimpleNamespace(number=3, cap_bike_deg=cap_deg),))
        for lap, cap_deg in enumerate(laps_deg, 1)
    )
    return SimpleNamespace(riders=riders, ladder=SimpleNamespace(laps=laps) if laps else None)


WAS = (entry(BOTH, 14.0, 18.0),)


def test_each_riders_combination_of_now_is_compared() -> None:
    assert compared.moved(WAS, (entry(BOTH, 14.0),)) == (0, 0)
    assert compared.moved(WAS, (entry(("Wren",), 14.0), entry(("Sedge",), 17.0))) == (0, 1)
    assert compared.moved(WAS, (entry(BOTH, 13.0, 18.5),)) == (1, 0)


def test_who_had_a_number_and_has_none_is_told() -> None:
    now = (entry(("Wren",), 14.0), entry(("Sedge",)))
    assert compared.moved(WAS, now) == (0, 0)
    assert compared.refused(WAS[0], now)
    assert not compared.refused(WAS[0], now[:1])


@pytest.mark.parametrize(
    ("now", "rises"),
    [
        ((entry(BOTH, 14.0, 18.0),), False),
        ((entry(BOTH, 13.0, 12.0),), False),
        ((entry(BOTH, 14.1, 12.0),), True),  # small steps add up
        ((entry(("Wren",), 14.0), entry(("Sedge",), 15.0)), True),
        ((entry(("Wren",), 14.0), entry(("Hobby",), 15.0)), False),  # who had no card has none raised
        ((entry(BOTH),), False),
        ((entry(BOTH, 14.0, 18.0, 30.0),), False),  # a lap that no card spoke of
        ((), False),
    ],
)
def test_any_limit_above_what_its_riders_were_given_counts_as_higher(now: Any, rises: bool) -> None:
    assert compared.rises(WAS, now) is rises


def test_a_number_where_there_was_none_is_higher() -> None:
    assert compared.rises((entry(BOTH),), (entry(BOTH, 5.0),))


def test_a_restart_is_held_against_the_most_that_any_lap_allowed() -> None:
    assert not compared.rises(WAS, (entry(BOTH, 16.0, 18.0),), restart=True)
    assert compared.rises(WAS, (entry(BOTH, 16.0, 18.1),), restart=True)
    assert compared.rises(WAS, (entry(BOTH, 16.0, 18.0),))
