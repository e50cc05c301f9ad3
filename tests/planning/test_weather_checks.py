"""Values that cannot be meant are refused, with the unit they were likely written in."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from math import inf, nan
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from leanladder.domain.errors import InputError
from leanladder.domain.weather import Weather
from leanladder.engine.sky import dew_point_c
from leanladder.planning.weather_checks import check_weather

GOOD = Weather(air_c=14.0, track_c=18.0, humidity_pct=60.0)


def refused(**changes: Any) -> InputError:
    with pytest.raises(InputError) as caught:
        check_weather(replace(GOOD, **changes))
    assert caught.value.exit_code == 2
    return caught.value


@pytest.mark.parametrize(
    ("field", "value", "hint"),
    [
        ("air_c", 68.0, "degF: 20 degC"),
        ("air_c", 290.0, "K: 17 degC"),
        ("track_c", 95.0, "degF: 35 degC"),
        ("humidity_pct", 0.55, "a share of 1: 55 %"),
        ("wind_mps", 25.0, "km/h: 6.9 m/s"),
        ("cloud", 4.0, "eighths of the sky: 0.5"),
        ("cloud", 40.0, "per cent: 0.4"),
        ("altitude_m", 5000.0, "ft: 1524 m"),
    ],
)
def test_the_likely_unit_is_named(field: str, value: float, hint: str) -> None:
    error = refused(**{field: value})
    assert error.fault.field == field
    assert error.fault.value == f"{value:g}"
    assert error.fault.allowed
    assert hint in str(error)


@pytest.mark.parametrize("field", ["air_c", "track_c", "humidity_pct", "wind_mps", "cloud", "altitude_m"])
@pytest.mark.parametrize("value", [nan, inf, -inf, 1e9, -1e9])
def test_nonsense_is_refused_everywhere(field: str, value: float) -> None:
    assert refused(**{field: value}).fault.field == field


@pytest.mark.parametrize(
    ("latitude", "longitude", "words"),
    [
        (50.0, None, "half of the place"),
        (None, 10.0, "half of the place"),
        (120.0, 40.0, "Latitude comes first"),
        (95.0, 200.0, "decimal degrees"),
        (50.0, 181.0, "no place"),
        (nan, 10.0, "no place"),
    ],
)
def test_places_off_the_globe(latitude: float | None, longitude: float | None, words: str) -> None:
    assert words in str(refused(latitude_deg=latitude, longitude_deg=longitude))


def test_a_time_needs_its_offset() -> None:
    error = refused(at=datetime(2026, 4, 11, 9, 0))  # noqa: DTZ001 - that is the fault
    assert error.fault.field == "at"
    assert "2026-04-11T09:00:00+02:00" in str(error)


@pytest.mark.parametrize("year", [1900, 2150])
def test_a_time_beyond_the_almanac(year: int) -> None:
    assert "1950 to 2100" in str(refused(at=datetime(year, 4, 11, 9, 0, tzinfo=UTC)))


def test_a_track_that_does_not_go_with_the_air() -> None:
    assert "degF: 18 degC" in str(refused(air_c=15.0, track_c=64.0))
    assert "Measure both again" in str(refused(air_c=20.0, track_c=0.0))


@given(
    air_c=st.floats(-30, 48),
    above=st.floats(-15, 32),
    humidity=st.floats(2, 100),
    wind=st.floats(0, 20),
    cloud=st.floats(0, 1),
)
def test_everything_within_its_range_passes(
    air_c: float, above: float, humidity: float, wind: float, cloud: float
) -> None:
    assume(dew_point_c(air_c, humidity / 100.0) <= 35.0)
    track = min(max(air_c + above, -30.0), 80.0)
    check_weather(Weather(air_c, track, humidity, wind, cloud))


@pytest.mark.parametrize(("air", "humidity"), [(45.0, 70.0), (41.0, 90.0), (38.0, 100.0)])
def test_a_cool_damp_morning_in_degf_is_told_by_its_water(air: float, humidity: float) -> None:
    with pytest.raises(InputError) as caught:
        check_weather(Weather(air_c=air, humidity_pct=humidity))
    assert caught.value.fault.field == "air_c"
    assert "degF" in (caught.value.fault.remedy or "")


def test_the_muggiest_and_the_hottest_days_there_are_pass() -> None:
    check_weather(Weather(air_c=42.0, humidity_pct=67.0))  # Dhahran 2003, from memory: a dew point of 35 degC
    check_weather(Weather(air_c=48.0, humidity_pct=20.0))
