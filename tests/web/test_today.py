"""A day as it stands: which runs a measurement speaks of, and what lowers limits."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from importlib.resources import as_file, files
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day
from leanladder.domain.errors import OutsideModelError
from leanladder.interchange.day import read_day
from leanladder.planning.day import Again
from leanladder.planning.day_weather import weather_at
from leanladder.planning.morning import settle_road
from leanladder.web.today import STANDS, Careful, Inputs, Reading, circuit_of, rolls_at, weathers_of


@pytest.fixture(scope="module")
def day() -> Day:
    with as_file(files("leanladder") / "data" / "example") as folder:
        return read_day(folder / "day.toml")


@pytest.fixture(scope="module")
def circuit(day: Day) -> Circuit:
    return circuit_of(day)


def test_a_measurement_stands_for_what_rolls_within_ninety_minutes(day: Day, circuit: Circuit) -> None:
    first, last = day.sessions[0], day.sessions[-1]
    at = rolls_at(day, circuit, first) - timedelta(minutes=5)
    found = weathers_of(day, circuit, Inputs("", (Reading(at, track_c=9.0, seen_dry=True),)))
    assert found[first.name].track_c == 9.0
    assert found[first.name].seen_dry
    stands = {run.name for run in day.sessions if rolls_at(day, circuit, run) - at <= STANDS}
    assert set(found) == stands
    later = weathers_of(day, circuit, Inputs("", (Reading(at - STANDS, track_c=9.0),)))
    assert last.name not in later


def test_the_latest_counts_figure_by_figure(day: Day, circuit: Circuit) -> None:
    first = day.sessions[0]
    rolls = rolls_at(day, circuit, first)
    readings = (
        Reading(rolls - timedelta(minutes=30), track_c=8.0, cloud=0.1),
        Reading(rolls - timedelta(minutes=10), track_c=11.0),
        Reading(rolls + timedelta(minutes=1), track_c=20.0),
    )
    weather = weathers_of(day, circuit, Inputs("", readings))[first.name]
    assert weather.track_c == 11.0
    assert weather.cloud == 0.1


def test_a_reading_of_one_run_speaks_of_no_other(day: Day, circuit: Circuit) -> None:
    first, second = day.sessions[:2]
    at = rolls_at(day, circuit, first) - timedelta(minutes=5)
    found = weathers_of(day, circuit, Inputs("", (Reading(at, second.name, track_c=14.0),)))
    assert set(found) == {second.name}


@pytest.mark.parametrize("colder_k", [0.5, 1.5, 5.0])
def test_a_colder_track_is_colder_doubt_included(day: Day, circuit: Circuit, colder_k: float) -> None:
    """A measured figure is doubted less than a computed one: taking kelvin off must not give some back."""
    found = weathers_of(day, circuit, Inputs("", (), (Careful(colder_k=colder_k),)))
    assert set(found) == {run.name for run in day.sessions}
    for run in day.sessions:
        before, _ = settle_road(weather_at(day, circuit, run.at))
        try:
            after, _ = settle_road(found[run.name])
        except OutsideModelError:
            continue
        assert after.open_c - after.spread_k <= before.open_c - before.spread_k - colder_k + 0.02
        assert after.shaded_c - after.spread_k <= before.shaded_c - before.spread_k - colder_k + 0.02


DEGREES = st.one_of(st.none(), st.floats(-5.0, 60.0))


@given(DEGREES, DEGREES, st.booleans(), st.one_of(st.none(), st.floats(0.0, 30.0)))
def test_inputs_are_written_and_read_alike(
    track_c: float | None, air_c: float | None, dry: bool, rolled_min: float | None
) -> None:
    at = datetime(2026, 4, 12, 9, 25, tzinfo=ZoneInfo("Europe/London"))
    again = None if rolled_min is None else Again("larks 1", rolled_min, 5.0, in_sun=dry)
    readings = (Reading(at, "", track_c, air_c, seen_dry=dry),)
    inputs = Inputs("f", readings, (Careful("new", 99.0, 5.0),), again)
    assert Inputs.read(inputs.written()) == inputs
    assert Inputs.read(inputs.written()).digest() == inputs.digest()
    assert replace(inputs, file_digest="g").digest() != inputs.digest()
