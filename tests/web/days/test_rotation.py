"""Groups in turn."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from leanladder.domain.errors import InputError
from leanladder.web.days.rotation import Rotation, minute_of, runs_of

NINE = Rotation(["larks", "plovers"], first_min=540, minutes=15, between_min=5, rounds=2)


def test_groups_go_out_one_after_the_other_round_by_round() -> None:
    runs = runs_of(NINE)
    assert [(run["name"], run["at"]) for run in runs] == [
        ("larks 1", "09:00"),
        ("plovers 1", "09:20"),
        ("larks 2", "09:40"),
        ("plovers 2", "10:00"),
    ]
    assert {run["minutes"] for run in runs} == {15}


def test_a_run_that_reaches_into_the_break_waits_for_its_end() -> None:
    runs = runs_of(replace(NINE, break_min=570, break_for_min=60))
    assert [run["at"] for run in runs] == ["09:00", "10:30", "10:50", "11:10"]


def test_names_that_are_there_are_passed_over() -> None:
    runs = runs_of(replace(NINE, rounds=1), there=["larks 1", "larks 2"])
    assert [run["name"] for run in runs] == ["larks 3", "plovers 1"]


@pytest.mark.parametrize(
    "wrong",
    [
        {"groups": []},
        {"rounds": 0},
        {"rounds": 31},
        {"minutes": 0, "between_min": 0},
        {"first_min": 1439, "rounds": 30},
    ],
)
def test_what_makes_no_day_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(InputError):
        runs_of(replace(NINE, **wrong))


@pytest.mark.parametrize("text", ["", "nine", "9"])
def test_a_time_is_hours_and_minutes(text: str) -> None:
    assert minute_of("09:05", "first") == 545
    with pytest.raises(InputError):
        minute_of(text, "first")
