"""What a user types: read exactly, or refused with the form or the unit that was likely meant."""

from __future__ import annotations

import math
from collections.abc import Callable
from contextlib import suppress
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.catalogue import surface
from leanladder.cli import asked
from leanladder.domain.chance import Chance
from leanladder.domain.errors import InputError
from leanladder.domain.session import ColdPressure, Start
from leanladder.planning.odds import counting


@pytest.mark.parametrize(
    ("text", "start"),
    [
        ("cold", Start("cold")),
        ("warmers:80:60:5", Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)),
        ("stopped:15:shade", Start("stopped", off_min=15.0, in_sun=False)),
        ("stopped:7.5:sun", Start("stopped", off_min=7.5, in_sun=True)),
    ],
)
def test_a_start_state(text: str, start: Start) -> None:
    assert asked.start(text) == start


def test_pressures_and_places() -> None:
    assert asked.cold_pressure("2.1,1.9@15") == ColdPressure(2.1, 1.9, 15.0)
    assert asked.cold_pressure("2.1,1.9@-3") == ColdPressure(2.1, 1.9, -3.0)
    assert asked.place("52.1,-1.0") == (52.1, -1.0)


def test_a_time_without_an_offset_is_the_circuits_own() -> None:
    summer = asked.moment("2026-07-12T09:40", "Europe/London")
    assert summer.utcoffset() == timedelta(hours=1)
    winter = asked.moment("2026-01-12T09:40", "Europe/London")
    assert winter.utcoffset() == timedelta(0)


def test_a_time_with_an_offset_is_as_it_says() -> None:
    assert asked.moment("2026-07-12T09:40+02:00", None).utcoffset() == timedelta(hours=2)
    assert asked.moment("2026-07-12T09:40Z", "Europe/London").utcoffset() == timedelta(0)


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (asked.start, "", "cold, warmers:"),
        (asked.start, "warm", "cold, warmers:"),
        (asked.start, "warmers:80:60", "cold, warmers:"),
        (asked.start, "warmers:hot:60:5", "'hot' is not a number"),
        (asked.start, "warmers:176:60:5", "looks like degF"),
        (asked.start, "warmers:353:60:5", "looks like K"),
        (asked.start, "warmers:80:3600:5", "looks like s"),
        (asked.start, "warmers:nan:60:5", "out of range"),
        (asked.start, "stopped:15", "cold, warmers:"),
        (asked.start, "stopped:15:rain", "stopped:MIN:shade"),
        (asked.start, "stopped:-1:sun", "out of range"),
        (asked.cold_pressure, "2.1", "FRONT_BAR,REAR_BAR@DEGC"),
        (asked.cold_pressure, "2.1,1.9", "FRONT_BAR,REAR_BAR@DEGC"),
        (asked.cold_pressure, "2.1@15", "FRONT_BAR,REAR_BAR@DEGC"),
        (asked.cold_pressure, "30,28@15", "looks like psi"),
        (asked.cold_pressure, "210,190@15", "looks like kPa"),
        (asked.cold_pressure, "2.1,1.9@288", "looks like K"),
        (asked.cold_pressure, "2.1,1.9@cold", "'cold' is not a number"),
        (asked.place, "52.1", "LATITUDE,LONGITUDE"),
        (asked.place, "52.1,-1.0,3", "LATITUDE,LONGITUDE"),
        (asked.place, "52N,1W", "'52N' is not a number"),
    ],
)
def test_what_cannot_be_read_is_refused(read: Callable[[str], object], text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        read(text)
    assert said in str(caught.value)
    assert caught.value.fault.field is not None


@pytest.mark.parametrize(
    ("of_100", "remedy"),
    [
        (94.9, counting.LOWER),
        (0.0, counting.LOWER),
        (-95.0, counting.LOWER),
        (99.6, counting.HIGHER),
        (100.0, counting.HIGHER),
        (0.97, "0.97 looks like a share of 1; give 97."),
        (math.nan, "Give a number."),
        (math.inf, "Give a number."),
        (-math.inf, "Give a number."),
    ],
)
def test_a_chance_that_no_plan_is_made_for(of_100: float, remedy: str) -> None:
    with pytest.raises(InputError) as caught:
        asked.chance(of_100, 1)
    fault = caught.value.fault
    assert (fault.field, fault.value, fault.remedy) == ("--chance", f"{of_100:g}", remedy)
    assert fault.allowed == "95 to 99.5 in 100"


@pytest.mark.parametrize("seed", [-1, 2**32, 10**30])
def test_what_is_no_seed(seed: int) -> None:
    with pytest.raises(InputError) as caught:
        asked.chance(95.0, seed)
    fault = caught.value.fault
    assert (fault.field, fault.value, fault.allowed) == ("--seed", str(seed), "0 to 4294967295")


@given(st.floats(), st.integers())
def test_any_chance_and_seed_are_taken_or_refused(of_100: float, seed: int) -> None:
    if 95.0 <= of_100 <= 99.5 and 0 <= seed < 2**32:
        assert asked.chance(of_100, seed) == Chance(of_100, seed)
    else:
        with pytest.raises(InputError):
            asked.chance(of_100, seed)


@pytest.mark.parametrize(
    ("text", "zone", "said"),
    [
        ("tomorrow", "Europe/London", "ISO 8601"),
        ("12/04/2026 09:40", "Europe/London", "ISO 8601"),
        ("2026-04-12T25:40", "Europe/London", "ISO 8601"),
        ("2026-04-12T09:40", None, "as in 2026-04-12T09:40+01:00"),
        ("2026-04-12T09:40", "Europe/Nowhere", "Name one of the tz database"),
        ("2026-04-12T09:40", "../etc", "Name one of the tz database"),
        ("2026-03-29T01:30", "Europe/London", "the clocks skip this time"),
    ],
)
def test_a_time_that_means_nothing_is_refused(text: str, zone: str | None, said: str) -> None:
    with pytest.raises(InputError) as caught:
        asked.moment(text, zone)
    assert said in str(caught.value)


FIGURES = st.sampled_from(["", "0", "-1", "80", "1e400", "nan", "inf", "1_0", "٣", "x", " 5 "])
PARTS = st.lists(st.sampled_from(["cold", "warmers", "stopped", "shade", "sun", "@"]) | FIGURES, max_size=5)


@pytest.mark.parametrize("read", [asked.start, asked.cold_pressure, asked.place, surface])
@given(text=st.text(max_size=20) | st.builds(str.join, st.sampled_from([":", ",", "@"]), PARTS))
def test_any_text_is_read_or_refused(read: Callable[[str], object], text: str) -> None:
    with suppress(InputError):
        read(text)


@pytest.mark.parametrize("zone", ["Europe/London", "Pacific/Auckland", None])
@given(
    text=st.text(max_size=25)
    | st.datetimes().map(lambda when: when.isoformat())
    | st.sampled_from(["0001-01-01", "9999-12-31T23:59:59", "2026-W15-7", "20260412"])
)
def test_any_time_is_read_or_refused(text: str, zone: str | None) -> None:
    with suppress(InputError):
        assert asked.moment(text, zone).utcoffset() is not None


@pytest.mark.parametrize("text", ["2026-04-12", "20260412", "2026-W15-7", "09:40"])
def test_a_date_alone_is_not_taken_for_midnight(text: str) -> None:
    with pytest.raises(InputError) as error:
        asked.moment(text, "Europe/London")
    assert "date and time" in (error.value.fault.remedy or "")


def test_a_hot_pressure_is_held_to_the_range_it_is_reckoned_in() -> None:
    assert asked.hot_pressure("4.5,1") == (4.5, 1.0)
    with pytest.raises(InputError) as error:
        asked.hot_pressure("0.9,2.4")
    assert error.value.fault.field == "--hot-pressure"
