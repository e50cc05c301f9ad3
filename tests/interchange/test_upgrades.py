"""Upgrading written files: every version in between, in order, and nothing else."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from leanladder.domain.errors import InputError
from leanladder.interchange import day_file, machine, notes, tyre
from leanladder.interchange.reading import read_toml
from leanladder.interchange.upgrades import Content, upgraded
from leanladder.interchange.written import Written


def renamed(content: Content) -> dict[str, Any]:
    """Version 1 called the name `title`."""
    rest = {key: value for key, value in content.items() if key != "title"}
    return rest | {"schema": "tyre/2", "name": content["title"]}


def in_metres(content: Content) -> dict[str, Any]:
    """Version 2 had its width in millimetres."""
    rest = {key: value for key, value in content.items() if key != "width_mm"}
    return rest | {"schema": "tyre/3", "width_m": content["width_mm"] / 1000.0}


STEPS = {"tyre/1": renamed, "tyre/2": in_metres}


@pytest.mark.parametrize(
    "old",
    [
        {"schema": "tyre/1", "title": "x", "width_mm": 180},
        {"schema": "tyre/2", "name": "x", "width_mm": 180},
        {"schema": "tyre/3", "name": "x", "width_m": 0.18},
    ],
)
def test_every_earlier_version_comes_out_as_the_latest(old: dict[str, Any]) -> None:
    assert upgraded(old, "tyre/3", STEPS) == {"schema": "tyre/3", "name": "x", "width_m": 0.18}


def test_what_no_step_takes_is_left_for_reading_to_refuse() -> None:
    for content in ({"schema": "tyre/9"}, {"schema": "machine/1"}, {}):
        assert upgraded(content, "tyre/3", STEPS) == content


def test_a_step_that_does_not_lead_on_is_our_fault() -> None:
    with pytest.raises(ValueError, match="leads nowhere"):
        upgraded({"schema": "tyre/1"}, "tyre/3", {"tyre/1": dict})


@pytest.mark.parametrize("module", [tyre, machine, notes, day_file])
def test_the_first_versions_have_nothing_before_them(module: Any) -> None:
    assert module.SCHEMA.endswith("/1")
    assert not module.UPGRADERS


def test_reading_a_file_of_an_earlier_version_upgrades_it(tmp_path: Path) -> None:
    class Tyre(Written):
        name: str
        width_m: float

    path = tmp_path / "old.toml"
    path.write_text('schema = "tyre/1"\ntitle = "x"\nwidth_mm = 180\n', encoding="utf-8")
    assert read_toml(path, Tyre, "tyre/3", STEPS) == Tyre(name="x", width_m=0.18)
    with pytest.raises(InputError):
        read_toml(path, Tyre, "tyre/3")
