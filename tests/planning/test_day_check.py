"""`day check`: whatever day/1 lets people leave out is explained, or is harmless for a stated reason."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day
from leanladder.interchange.day import read_day
from leanladder.interchange.day_file import DayFile
from leanladder.interchange.schemas import schema_text
from leanladder.planning.day_check import Assumption, assumptions, said

# A day that leaves nothing out: every optional key of every table, once.
FULL = (Path(__file__).resolve().parents[1] / "fixtures" / "day" / "1" / "every-key.toml").read_text(
    encoding="utf-8"
)
FIRST = {"DayFile": (), "HourIn": ("weather", 0), "CoachIn": ("coaches", 0), "GroupIn": ("groups", 0)} | {
    "MachineIn": ("machines", 0),
    "ConditionIn": ("machines", 0, "front_state"),
    "RiderIn": ("riders", 0),
    "SessionIn": ("sessions", 0),
    "StartIn": ("sessions", 0, "start"),
}
# What every day assumes, however much is stated.
ALWAYS = {"likely_air", "band_rest", "between_hours", "starts", "cooling", "opening", "upright"}
# And what FULL states in a way that is told nonetheless.
STATED = {"english", "no_plug", "stood_sun", "track_measured"}

# Each key left out, with what else is to be left out for it to count, and the code that explains it.
EXPLAINED: dict[str, tuple[tuple[str, ...], str]] = {
    "DayFile.notes": ((), "notes_unknown"),
    "DayFile.head": ((), "head_unknown"),
    "DayFile.latitude_deg": (("DayFile.longitude_deg",), "place_unknown"),
    "DayFile.longitude_deg": (("DayFile.latitude_deg",), "place_unknown"),
    "DayFile.altitude_m": ((), "altitude_unknown"),
    "DayFile.surface": ((), "surface_unknown"),
    "DayFile.coaches": (("GroupIn.coaches",), "no_coach"),
    "HourIn.air_cold_c": ((), "no_cold_end"),
    "HourIn.air_mild_c": ((), "no_mild_end"),
    "HourIn.track_c": ((), "track_computed"),
    "HourIn.cloud": ((), "cloud_unknown"),
    "HourIn.wind_mps": ((), "wind_unknown"),
    "HourIn.humidity_pct": ((), "humidity_unknown"),
    "HourIn.road": ((), "road_unknown"),
    "CoachIn.language": ((), "english"),
    "GroupIn.coaches": ((), "no_coach"),
    "MachineIn.cold": ((), "pressures"),
    "MachineIn.gauge_offset_bar": ((), "gauge"),
    "MachineIn.front_state": ((), "condition_unknown"),
    "MachineIn.rear_state": ((), "condition_unknown"),
    "MachineIn.minimum": ((), "no_minimum"),
    "MachineIn.hot": ((), "hot_unknown"),
    "MachineIn.home": ((), "home_unknown"),
    "MachineIn.start": (("SessionIn.start",), "start_cold"),
    "ConditionIn.crown": ((), "crown_round"),
    "ConditionIn.date_code": ((), "age_unknown"),
    "ConditionIn.heat_cycles": ((), "heat_cycles_unknown"),
    "ConditionIn.plugged": ((), "no_plug"),
    "RiderIn.usual_lean_deg": ((), "usual_lean"),
    "RiderIn.hang_off": ((), "upright"),
    "RiderIn.language": ((), "english"),
    "RiderIn.large_print": ((), "ordinary_print"),
    "SessionIn.start": ((), "start_machine"),
    "StartIn.in_sun": ((), "stood_shade"),
}
# Keys whose assumption names who or what it is about, so that the full day tells it of others.
BY_VALUE = {"CoachIn.language", "RiderIn.language", "RiderIn.hang_off", "ConditionIn.plugged"}
_ONE_OF = "one of them is required, so nothing is assumed"
_BY_KIND = "required or refused by the kind of start, so nothing is assumed"
HARMLESS = {
    "MachineIn.tyre": _ONE_OF,
    "MachineIn.front": _ONE_OF,
    "MachineIn.rear": _ONE_OF,
    "ConditionIn.scrubbed": _ONE_OF,
    "ConditionIn.scrubbed_left_deg": _ONE_OF,
    "ConditionIn.scrubbed_right_deg": _ONE_OF,
    "SessionIn.minutes": _ONE_OF,
    "SessionIn.laps": _ONE_OF,
    "StartIn.warmers_c": _BY_KIND,
    "StartIn.on_min": _BY_KIND,
    "StartIn.off_min": _BY_KIND,
}


def optional_keys() -> Iterator[str]:
    """Yield every key that day/1 lets people leave out, as Model.key."""
    schema = DayFile.model_json_schema()
    for name, table in {"DayFile": schema, **schema["$defs"]}.items():
        for key in table.get("properties", {}).keys() - set(table.get("required", ())):
            yield f"{name}.{key}"


def full_without(*keys: str) -> dict[str, Any]:
    """The full day without some of its keys."""
    written = tomllib.loads(FULL)
    for key in keys:
        model, name = key.split(".")
        table: Any = written
        for step in FIRST[model]:
            table = table[step]
        del table[name]
    return written


def checked(folder: Path, circuit: Circuit, written: dict[str, Any]) -> tuple[Assumption, ...]:
    """Read a day as it would be written, and return what it assumes."""
    jsonschema.Draft202012Validator(json.loads(schema_text("day"))).validate(written)
    path = folder / "day.toml"
    path.write_text("\n".join(toml(written)), encoding="utf-8")
    day: Day = read_day(path)
    return assumptions(day, circuit)


def toml(table: dict[str, Any]) -> Iterator[str]:
    """Write a table of plain values as TOML, tables within it inline."""
    yield from (f"{key} = {inline(value)}" for key, value in table.items())


def inline(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(toml(value)) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(inline(each) for each in value) + "]"
    return json.dumps(value)


def test_every_key_that_may_be_left_out_is_explained_or_harmless() -> None:
    assert set(optional_keys()) == EXPLAINED.keys() | HARMLESS.keys()
    assert not EXPLAINED.keys() & HARMLESS.keys()


def test_the_full_day_leaves_nothing_out(tmp_path: Path, demo_circuit: Circuit) -> None:
    found = {each.code for each in checked(tmp_path, demo_circuit, full_without())}
    assert found == ALWAYS | STATED


@pytest.mark.parametrize("key", EXPLAINED)
def test_a_key_left_out_is_explained(tmp_path: Path, demo_circuit: Circuit, key: str) -> None:
    more, code = EXPLAINED[key]
    found = checked(tmp_path, demo_circuit, full_without(key, *more))
    told = [said(each, "en") for each in found if each.code == code]
    assert told
    # Told for the key alone: of a day that states it only what is told of every day, or by its value.
    assert key in BY_VALUE or code not in ALWAYS | STATED


def test_an_end_of_the_band_without_a_number_says_why(tmp_path: Path, demo_circuit: Circuit) -> None:
    written = full_without("HourIn.track_c")
    written["weather"][0] |= {"air_c": 8, "air_cold_c": -8, "air_mild_c": 9}
    written["date"], written["weather"][0]["cloud"] = "2026-01-12", 1.0
    found = checked(tmp_path, demo_circuit, written)
    (cold,) = [said(each, "en") for each in found if each.code == "refused_cold"]
    assert cold.startswith("At the air's cold end there is no number. The road is at or below 3 °C.")
    assert "refused_mild" not in {each.code for each in found}


@pytest.mark.parametrize(("road", "code"), [("wet", "wet_or_damp"), ("drying", "drying")])
def test_a_road_that_is_not_dry_is_told_as_the_plan_would(
    tmp_path: Path, demo_circuit: Circuit, road: str, code: str
) -> None:
    written = full_without()
    written["weather"][0]["road"] = road
    (refused,) = [each for each in checked(tmp_path, demo_circuit, written) if each.refusal is not None]
    assert (refused.about, refused.name, refused.code) == ("session", "larks 1", code)


def test_languages_without_texts_are_told(tmp_path: Path, demo_circuit: Circuit) -> None:
    written = full_without()
    written["coaches"][0]["language"] = written["riders"][0]["language"] = "xx"
    found = {each.code: said(each, "en") for each in checked(tmp_path, demo_circuit, written)}
    assert "english" not in found
    assert found["coach_language"] == "There are no texts in xx for coach Maren. English stands in."
    assert found["language"] == "There are no texts in xx. English stands in."
