"""The road as planning takes it, and the mornings it refuses."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder.catalogue import parameters
from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.domain.weather import Road, Weather
from leanladder.planning.morning import road_dew_c, settle_road

FIGURES = parameters("road")
NINE = datetime.fromisoformat("2026-04-15T09:00+02:00")
PLACE: dict[str, Any] = {"latitude_deg": 50.0, "longitude_deg": 10.0, "at": NINE}
MILD = Weather(air_c=14.0, humidity_pct=50.0, cloud=0.3)


def refusal(weather: Weather, *, has_shade: bool = True) -> OutsideModelError:
    with pytest.raises(OutsideModelError) as caught:
        settle_road(weather, has_shade=has_shade)
    assert caught.value.exit_code == 3
    assert caught.value.fault.remedy
    return caught.value


def settled(weather: Weather, *, has_shade: bool = True) -> Road:
    return settle_road(weather, has_shade=has_shade)[0]


@pytest.mark.parametrize("name", sorted(FIGURES))
def test_every_figure_lies_in_its_range_and_has_a_source(name: str) -> None:
    figure = FIGURES[name]
    assert figure.source
    assert figure.unit
    assert figure.spread >= 0.0
    if figure.low is not None and figure.high is not None:
        assert figure.low <= figure.value <= figure.high


def test_a_measured_track_is_taken_as_it_is() -> None:
    road, warnings = settle_road(replace(MILD, track_c=19.0))
    assert (road.open_c, road.origin, warnings) == (19.0, "measured", ())
    assert road.spread_k == pytest.approx(1.5)
    assert road.sun_w_m2 == 0.0  # unknown place: no sun to count on
    assert road.shaded_c < 14.0  # unknown place: shade under the air


def test_a_measured_track_at_a_known_place_has_its_shade_computed() -> None:
    road = settled(replace(MILD, track_c=19.0, **PLACE))
    assert road.open_c == 19.0
    assert 100.0 < road.sun_w_m2 < 700.0
    computed = settled(replace(MILD, **PLACE))
    assert computed.shaded_c - 4.0 <= road.shaded_c <= computed.shaded_c + 0.5


def test_place_and_time_give_a_computed_road() -> None:
    road, warnings = settle_road(replace(MILD, **PLACE))
    assert (road.origin, warnings) == ("computed", ())
    assert 14.0 < road.open_c < 26.0
    assert 8.0 < road.shaded_c < 15.0
    assert road.spread_k == pytest.approx(4.0)


@pytest.mark.parametrize("missing", [{"at": None}, {"latitude_deg": None, "longitude_deg": None}])
def test_without_place_or_time_the_road_is_assumed(missing: dict[str, None]) -> None:
    road, warnings = settle_road(replace(MILD, **{**PLACE, **missing}))
    assert warnings == ("track_assumed",)
    assert (road.open_c, road.shaded_c, road.origin) == (10.0, 10.0, "assumed")
    assert road.spread_k == pytest.approx(5.0)


def test_above_25_degc_nothing_is_assumed() -> None:
    hot = replace(MILD, air_c=25.0, humidity_pct=40.0)
    assert settled(hot).open_c == 21.0
    assert refusal(replace(hot, air_c=25.1)).code == "track_unknown"
    assert settled(replace(hot, air_c=32.0, **PLACE)).origin == "computed"
    assert settled(replace(hot, air_c=32.0, track_c=45.0)).origin == "measured"


@pytest.mark.parametrize(("track_c", "held"), [(3.0, True), (2.0, True), (3.1, False)])
def test_frost_in_the_open(track_c: float, held: bool) -> None:
    weather = Weather(air_c=6.0, track_c=track_c, humidity_pct=40.0, seen_dry=True)
    if held:
        error = refusal(weather, has_shade=False)
        assert error.code == "road_too_cold"
        assert f"{track_c:.1f} degC" in str(error)
    else:
        assert settled(weather, has_shade=False).open_c == track_c


def test_frost_in_the_coldest_shade_counts_where_there_is_shade() -> None:
    weather = Weather(air_c=5.0, track_c=9.0, humidity_pct=40.0, seen_dry=True)
    error = refusal(weather)
    assert error.code == "road_too_cold"
    assert "shade" in str(error)
    assert settled(weather, has_shade=False).open_c == 9.0


@pytest.mark.parametrize("seen_dry", [False, True])
def test_a_road_near_its_dew_point_is_refused_even_if_it_looks_dry(seen_dry: bool) -> None:
    # 15 degC air at 95 %: dew point 14.2 degC (psychrometric chart, from memory).
    damp = Weather(air_c=15.0, track_c=16.0, humidity_pct=95.0, seen_dry=seen_dry)
    assert road_dew_c(damp) == pytest.approx(14.2, abs=0.1)
    assert refusal(damp, has_shade=False).code == "near_dew_point"
    assert settled(replace(damp, track_c=16.5), has_shade=False).open_c == 16.5


def test_a_look_lifts_only_an_estimated_shade_above_its_dew_point() -> None:
    # 14 degC at 75 %: dew point 9.6 degC; the shade is estimated at 10.9 degC.
    morning = Weather(air_c=14.0, track_c=20.0, humidity_pct=75.0, cloud=0.3)
    error = refusal(morning)
    assert error.code == "near_dew_point"
    assert "--seen-dry" in str(error)
    assert settled(replace(morning, seen_dry=True)).shaded_c == pytest.approx(10.9)
    assert refusal(replace(morning, humidity_pct=90.0, seen_dry=True)).code == "near_dew_point"


@pytest.mark.parametrize("known", [{"track_c": 15.0}, PLACE, {}])
def test_unknown_humidity_on_a_cold_morning_needs_a_look(known: dict[str, Any]) -> None:
    cold = Weather(air_c=11.9, cloud=0.3, **known)
    assert refusal(cold).code == "humidity_unknown"
    assert settled(replace(cold, seen_dry=True)).open_c > 3.0
    assert settled(replace(cold, air_c=12.0)).open_c > 3.0


def test_bad_values_come_before_refusals() -> None:
    with pytest.raises(InputError, match="degF"):
        settle_road(Weather(air_c=68.0))


@given(air_c=st.floats(12, 30), above=st.floats(0, 25), cloud=st.floats(0, 1), hour=st.integers(0, 23))
@settings(max_examples=12)
def test_shade_is_always_colder_than_what_was_measured(
    air_c: float, above: float, cloud: float, hour: int
) -> None:
    here = {**PLACE, "at": NINE.replace(hour=hour)}
    for where in ({}, here):
        road = settled(Weather(air_c=air_c, track_c=air_c + above, cloud=cloud, **where))
        assert road.shaded_c <= road.open_c - FIGURES["shade_least_drop_k"].value


def test_a_measured_track_loads_neither_almanac_nor_tables() -> None:
    code = (
        "import sys; from datetime import datetime, UTC;"
        "from leanladder.domain.weather import Weather; from leanladder.planning.morning import settle_road;"
        "settle_road(Weather(14.0, 20.0, 40.0, latitude_deg=50.0, longitude_deg=10.0,"
        " at=datetime(2026, 4, 15, 9, tzinfo=UTC)));"
        "print(sorted({'pvlib', 'pandas'} & sys.modules.keys()))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
