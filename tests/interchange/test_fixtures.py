"""Stored files and answers of every released version: each file still reads, each answer still holds.

tests/fixtures/NAME/VERSION holds them. They are never edited once their version is released: a new
version gets a folder of its own, and files an upgrader from the version before.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable, Mapping
from datetime import time
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError
from referencing import Registry, Resource

from leanladder import catalogue
from leanladder.domain.errors import InputError
from leanladder.interchange import day, day_file, machine, notes, tyre
from leanladder.interchange.day import read_day
from leanladder.interchange.file_schemas import file_schema_names
from leanladder.interchange.notes import read_notes
from leanladder.interchange.schemas import schema_names, schema_text
from leanladder.interchange.upgrades import Upgraders, upgraded

FIXTURES = Path(__file__).resolve().parents[1] / "fixtures"
FILES = sorted(FIXTURES.rglob("*.toml"))
ANSWERS = sorted(FIXTURES.rglob("*.json"))
MODELS = {"tyre": tyre, "machine": machine, "circuit-notes": notes, "day": day_file}
READERS: Mapping[str, Callable[[Path], Any]] = {
    "tyre": lambda path: catalogue.tyre_family(str(path)),
    "machine": lambda path: catalogue.motorcycle(str(path)),
    "circuit-notes": read_notes,
    "day": read_day,
}


def schema_of(name: str) -> str:
    """Return the schema of today's version, as its first line or key says it."""
    found: str = json.loads(schema_text(name))["properties"]["schema"]["const"]
    return found


def version_of(name: str) -> int:
    return int(schema_of(name).rpartition("/")[2])


def named(path: Path) -> str:
    """Return a fixture's place within the fixtures."""
    return path.relative_to(FIXTURES).as_posix()


def validator(name: str) -> Draft202012Validator:
    """Return what holds an answer to a schema; day plans refer to the ladder's as `ladder.json`."""
    ladder = Resource.from_contents(json.loads(schema_text("ladder")))
    registry: Any = Registry().with_resource("ladder.json", ladder)
    return Draft202012Validator(json.loads(schema_text(name)), registry=registry)


@pytest.mark.parametrize("name", schema_names())
def test_every_version_of_every_schema_has_a_fixture(name: str) -> None:
    ending = "toml" if name in file_schema_names() else "json"
    for version in range(1, version_of(name) + 1):
        stored = list((FIXTURES / name / str(version)).glob(f"*.{ending}"))
        assert stored, f"tests/fixtures/{name}/{version} holds no {ending}"


@pytest.mark.parametrize("path", [*FILES, *ANSWERS], ids=named)
def test_every_fixture_is_of_a_released_version(path: Path) -> None:
    name, version, _ = named(path).split("/")
    assert name in schema_names()
    assert 1 <= int(version) <= version_of(name)
    text = path.read_text(encoding="utf-8")
    content = tomllib.loads(text) if path.suffix == ".toml" else json.loads(text)
    assert content["schema"] == f"{schema_of(name).rpartition('/')[0]}/{version}"


@pytest.mark.parametrize("name", file_schema_names())
def test_every_earlier_file_version_leads_to_todays(name: str) -> None:
    model = MODELS[name]
    assert schema_of(name) == model.SCHEMA
    for version in range(1, version_of(name)):
        assert f"{name}/{version}" in model.UPGRADERS


@pytest.mark.parametrize("path", FILES, ids=named)
def test_every_stored_file_still_reads(path: Path) -> None:
    name = named(path).split("/")[0]
    assert READERS[name](path)
    content = upgraded(
        tomllib.loads(path.read_text(encoding="utf-8")), schema_of(name), MODELS[name].UPGRADERS
    )
    Draft202012Validator(json.loads(schema_text(name))).validate(content)


def test_stored_files_still_mean_what_they_said() -> None:
    """A figure or two of each, read by hand in the fixture."""
    family = READERS["tyre"](FIXTURES / "tyre" / "1" / "example.toml")
    assert (family.front.minimum_cold_bar, family.rear.minimum_cold_bar) == (2.0, 1.9)
    bike = READERS["machine"](FIXTURES / "machine" / "1" / "example.toml")
    assert (bike.name, bike.mass_kg.value) == ("quillmoor-school-bike", 272.0)
    known = READERS["circuit-notes"](FIXTURES / "circuit-notes" / "1" / "example.toml")
    assert (known.zone, known.closed_course) == ("Europe/London", True)
    whole = READERS["day"](FIXTURES / "day" / "1" / "every-key.toml")
    (hour,), (ridden,), (rider,), (run,) = whole.weather, whole.machines, whole.riders, whole.sessions
    assert (hour.at, hour.air.cold_c, hour.air.mild_c, hour.track_c) == (time(9), 10.0, 14.0, 14.0)
    assert (hour.road, run.laps, run.start.kind, run.start.in_sun) == ("dry", 5, "stopped", True)
    assert (ridden.front, ridden.rear, ridden.minimum.rear_bar) == ("track-day", "sport-road", 1.9)
    assert (ridden.front_state.scrubbed_right_deg, ridden.front_state.crown) == (38.0, "worn")
    assert (rider.usual_lean_deg, rider.hang_off, rider.large_print) == (30.0, True, True)


@pytest.mark.parametrize("path", ANSWERS, ids=named)
def test_every_stored_answer_is_valid_by_the_shipped_schema(path: Path) -> None:
    """Answers may gain keys within a version, so one stored earlier must stay valid."""
    name, version, _ = named(path).split("/")
    if int(version) < version_of(name):
        pytest.skip("a breaking change: today's schema is of a later version")
    answer = json.loads(path.read_text(encoding="utf-8"))
    validator(name).validate(answer)
    for key in json.loads(schema_text(name))["required"]:
        without = {each: value for each, value in answer.items() if each != key}
        with pytest.raises(ValidationError):
            validator(name).validate(without)


OLD_KEY = {"tyre": "name", "machine": "name", "circuit-notes": "zone", "day": "school"}


def from_zero(name: str) -> Upgraders:
    """An upgrader from a version 0 that never was: it called one key `titled`."""

    def renamed(content: Mapping[str, Any]) -> Mapping[str, Any]:
        rest = {key: value for key, value in content.items() if key != "titled"}
        return rest | {"schema": f"{name}/1", OLD_KEY[name]: content["titled"]}

    return {f"{name}/0": renamed}


@pytest.mark.parametrize("name", file_schema_names())
def test_a_file_of_an_earlier_version_is_read_by_way_of_its_upgrader(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    text = (FIXTURES / name / "1" / "example.toml").read_text(encoding="utf-8")
    assert f"\n{OLD_KEY[name]} = " in text
    old = text.replace(f'schema = "{name}/1"', f'schema = "{name}/0"')
    path = tmp_path / "mine.toml"
    path.write_text(old.replace(f"\n{OLD_KEY[name]} = ", "\ntitled = ", 1), encoding="utf-8")
    with pytest.raises(InputError, match="another kind or version"):
        READERS[name](path)
    monkeypatch.setattr(day if name == "day" else MODELS[name], "UPGRADERS", from_zero(name))
    upgraded_file = plain(READERS[name](path))
    path.write_text(text, encoding="utf-8")
    assert upgraded_file == plain(READERS[name](path))
    assert upgraded_file[OLD_KEY[name]] == tomllib.loads(text)[OLD_KEY[name]]


def plain(read: Any) -> dict[str, Any]:
    """Return what was read as its fields, however nested."""
    return {field: getattr(read, field) for field in read.__dataclass_fields__}
