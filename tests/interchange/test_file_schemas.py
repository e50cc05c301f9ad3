"""The shipped schemas of written files are those of the models, and hold what the models hold."""

from __future__ import annotations

import json
import tomllib
from importlib.resources import files

import pytest
from jsonschema import Draft202012Validator, ValidationError

from leanladder.catalogue import motorcycle_names, tyre_names
from leanladder.interchange.file_schemas import file_schema_names, file_schema_text
from leanladder.interchange.schemas import schema_text


@pytest.mark.parametrize("name", file_schema_names())
def test_the_shipped_schema_is_the_models(name: str) -> None:
    assert schema_text(name) == file_schema_text(name)


@pytest.mark.parametrize(
    ("name", "folder", "stem"),
    [("tyre", "tyres", name) for name in tyre_names()]
    + [("machine", "machines", name) for name in motorcycle_names()],
)
def test_every_shipped_file_is_valid(name: str, folder: str, stem: str) -> None:
    text = files("leanladder").joinpath("data", folder, f"{stem}.toml").read_text(encoding="utf-8")
    Draft202012Validator(json.loads(schema_text(name))).validate(tomllib.loads(text))


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": "x"},
        {"schema": "tyre/2", "name": "x"},
        {"schema": "tyre/1", "name": "x", "widht": 1},
        {"schema": "tyre/1", "name": "x", "front": {"width_m": 180}},
        {"schema": "tyre/1", "name": "x", "front": {"width_m": {"value": 0.18, "unit": "mm"}}},
        {"schema": "tyre/1", "name": "x", "front": {"width_m": "wide"}},
    ],
)
def test_a_wrong_tyre_is_not_valid(wrong: dict[str, object]) -> None:
    validator = Draft202012Validator(json.loads(schema_text("tyre")))
    validator.validate({"schema": "tyre/1", "name": "x", "base": "sport-road", "front": {"width_m": 0.14}})
    with pytest.raises(ValidationError):
        validator.validate(wrong)
