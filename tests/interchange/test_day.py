"""day/1: what may be written, what it becomes, and what a mistake brings."""

from __future__ import annotations

import json
import re
import tomllib
from datetime import time
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from leanladder.domain.day import Band, Day, PressurePair
from leanladder.domain.errors import InputError
from leanladder.domain.session import ColdPressure, Start
from leanladder.interchange.day import read_day
from leanladder.interchange.schemas import schema_text

EXAMPLE = files("leanladder").joinpath("data", "example", "day.toml").read_text(encoding="utf-8")


def day_of(folder: Path, *changes: tuple[str, str]) -> Day:
    """The example's day with some of its text replaced, where it first stands."""
    written = EXAMPLE
    for old, new in changes:
        assert old in written
        written = written.replace(old, new, 1)
    path = folder / "day.toml"
    path.write_text(written, encoding="utf-8")
    return read_day(path)


def test_the_example_is_valid_by_the_shipped_schema() -> None:
    written = tomllib.loads(EXAMPLE)
    schema = json.loads(schema_text("day"))
    jsonschema.Draft202012Validator(schema).validate(written)
    assert set(schema["properties"]) == set(written)


def test_the_example_shows_every_key_of_every_table() -> None:
    """As a line to change, or in a comment where the evening before has nothing to state."""
    schema = json.loads(schema_text("day"))
    keys = {key for table in schema["$defs"].values() for key in table["properties"]}
    assert not {key for key in keys if not re.search(rf"\b{key} = \S", EXAMPLE)}


@pytest.mark.parametrize("shown", re.findall(r"^#   (start = \{.*\})$", EXAMPLE, re.MULTILINE))
def test_starts_shown_in_comments_may_be_copied(tmp_path: Path, shown: str) -> None:
    assert shown.startswith("start = { kind = ")
    day = day_of(tmp_path, ("minutes = 15\n", f"minutes = 15\n{shown}\n"))
    assert day.sessions[0].start is not None


def test_what_the_example_becomes(tmp_path: Path) -> None:
    day = day_of(tmp_path)
    assert day.circuit == tmp_path / "circuit.csv"
    assert day.weather[0].air == Band(6.0, 8.0, 10.0)
    assert [session.at for session in day.sessions] == [time(9, 30), time(10), time(10, 30), time(11)]
    assert day.sessions[0].start is None
    assert day.sessions[1].start is None
    machines = {machine.name: machine for machine in day.machines}
    assert machines["1"].machine == str(tmp_path / "machine.toml")
    assert machines["1"].cold == ColdPressure(2.25, 2.1, 9.0)
    assert (machines["3"].machine, machines["3"].front, machines["3"].cold) == ("naked", "sport-road", None)
    assert (machines["22"].front, machines["22"].rear) == ("track-day", "sport-road")
    assert machines["21"].start == Start("warmers", 80.0, 60.0, 5.0)
    assert machines["21"].minimum == PressurePair(2.0, 1.7)
    assert machines["21"].hot == PressurePair(2.5, 2.2)
    assert machines["21"].home == PressurePair(2.5, 2.9)
    assert [rider.name for rider in day.riders if rider.large_print] == ["Merle"]
    assert {rider.name: rider.usual_lean_deg for rider in day.riders}["Linnet"] == 32.0


def test_sessions_come_in_the_order_of_their_times(tmp_path: Path) -> None:
    day = day_of(tmp_path, ('at = "09:30"', 'at = "11:45"'))
    assert [session.name for session in day.sessions][-1] == "larks 1"


def test_an_end_of_the_band_that_is_not_stated_is_the_likely_figure(tmp_path: Path) -> None:
    day = day_of(tmp_path, ("air_cold_c = 6\n", ""))
    assert day.weather[0].air == Band(8.0, 8.0, 10.0)


@pytest.mark.parametrize("written", ["date = 2026-04-12", 'date = "2026-04-12"'])
def test_a_date_with_or_without_quotes(tmp_path: Path, written: str) -> None:
    assert day_of(tmp_path, ('date = "2026-04-12"', written)).date.isoformat() == "2026-04-12"


@pytest.mark.parametrize(
    ("old", "new", "field", "said"),
    [
        ("cloud = 0.4", "clouds = 0.4", "weather.0.clouds", "Did you mean cloud?"),
        ("air_c = 8", "air_c = 54", "weather.0.air_c", "degF"),
        ("air_cold_c = 6", "air_cold_c = 9", "weather.0", "air_cold_c <= air_c"),
        ("front_bar = 2.25", "front_bar = 33", "machines.0.cold.front_bar", "psi"),
        ("hot = { front_bar = 2.5", "hot = { front_bar = 0.9", "machines.3.hot.front_bar", "1"),
        ('at = "09:30"', 'at = "half past"', "sessions.0.at", "HH:MM"),
        ('at = "09:30"', 'at = "25:00"', "sessions.0.at", "HH:MM"),
        ('at = "10:00"', 'at = "09:00"', "weather.1.at", "do not rise"),
        ('date = "2026-04-12"', 'date = "12.4.2026"', "date", "YYYY-MM-DD"),
        ('group = "larks"', 'group = "lark"', "riders.0.group", "Did you mean larks?"),
        ('coaches = ["Maren"', 'coaches = ["Marren"', "groups.0.coaches", "Did you mean Maren?"),
        ('level = "new"\nmachine = "1"', 'level = "new"\nmachine = "7"', "riders.0.machine", "no machine"),
        ('level = "new"\nmachine = "1"', 'level = "new"\nmachine = "2"', "riders.1.machine", "same group"),
        ('name = "Sedge"', 'name = "Wren"', "riders.1.name", "stands twice"),
        ("minutes = 15", "minutes = 15\nlaps = 5", "sessions.0", "minutes or laps"),
        ('kind = "warmers", warmers_c = 80, on_min = 60, off_min = 5 }\nfront', 'kind = "warmers" }\nfront',
         "machines.3.start", "warmers_c, on_min, off_min"),
        ('rear = "sport-road"\n', "", "machines.4", "no tyre is named"),
        ("longitude_deg = -1.0\n", "", None, "half of the place"),
    ],
)  # fmt: skip
def test_a_mistake_is_told_with_file_and_field(
    tmp_path: Path, old: str, new: str, field: str | None, said: str
) -> None:
    with pytest.raises(InputError) as caught:
        day_of(tmp_path, (old, new))
    fault = caught.value.fault
    assert fault.file == str(tmp_path / "day.toml")
    assert fault.field == field
    assert said in str(caught.value)
    assert field is None or fault.line
