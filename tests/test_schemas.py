"""Every schema that ships is a schema, and is reached as users reach it."""

from __future__ import annotations

import json

import jsonschema
import pytest

from leanladder.domain.errors import InputError
from leanladder.interchange.schemas import schema_names, schema_text


def test_the_foundation_ships_its_own() -> None:
    assert {"config", "error"} <= set(schema_names())


@pytest.mark.parametrize("name", schema_names())
def test_it_is_valid_json_schema_2020_12(name: str) -> None:
    schema = json.loads(schema_text(name))
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["title"]
    jsonschema.Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("name", schema_names())
def test_it_says_which_version_it_describes(name: str) -> None:
    wanted = json.loads(schema_text(name))["properties"]["schema"]["const"]
    assert wanted in {f"leanladder.{name}/1", f"{name}/1"}


@pytest.mark.parametrize(("name", "nearest"), [("eror", "error"), ("CONFIG", "config"), ("confog", "config")])
def test_an_unknown_name_brings_the_nearest(name: str, nearest: str) -> None:
    with pytest.raises(InputError) as caught:
        schema_text(name)
    assert caught.value.fault.remedy == f"Did you mean {nearest}?"


def test_a_name_like_none_is_told_how_to_list_them() -> None:
    with pytest.raises(InputError) as caught:
        schema_text("../data/levels")
    assert "lists them" in str(caught.value.fault.remedy)
