"""What is typed, in the units of who types it."""

from __future__ import annotations

import pytest
from django.http import QueryDict

from leanladder.domain.errors import InputError
from leanladder.web.days.fields import clock, number, rows_of, typed, whole, without


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (8.0, "degC", "46.4"),
        (-3.5, "degC", "25.7"),
        (2.0, "m/s", "4.47"),
        (60, "%", "60"),
        (None, "degC", ""),
    ],
)
def test_figures_stand_in_imperial_units_and_come_back(value: float | None, unit: str, shown: str) -> None:
    assert typed(value, unit, "imperial") == shown
    assert number(shown, "air", unit, "imperial") == value
    assert number(typed(value, unit, "metric"), "air", unit, "metric") == value


def test_a_comma_and_a_real_minus_are_read() -> None:
    assert number(" \N{MINUS SIGN}2,5 ", "air", "degC", "metric") == -2.5


@pytest.mark.parametrize("wrong", ["cold", "1.2.3", "8 C"])
def test_what_is_no_number_is_refused_by_its_field(wrong: str) -> None:
    with pytest.raises(InputError) as refused:
        number(wrong, "09:00 air", "degC", "metric")
    assert refused.value.fault.field == "09:00 air"


def test_half_a_lap_is_none() -> None:
    assert whole("5", "laps") == 5
    with pytest.raises(InputError):
        whole("5.5", "laps")


def test_rows_share_names_and_one_is_taken_away_by_its_place() -> None:
    rows = rows_of(QueryDict("at=09:00&at=10:00&air=8&air=+"), ("at", "air"))
    assert rows == [{"at": "09:00", "air": "8"}, {"at": "10:00", "air": ""}]
    assert without(rows, "0") == rows[1:]
    assert without(rows, "two") == rows


@pytest.mark.parametrize(("written", "shown"), [("9:30", "09:30"), ("10:00:00", "10:00"), ("", "")])
def test_a_time_stands_as_its_field_wants_it(written: str, shown: str) -> None:
    assert clock(written) == shown
