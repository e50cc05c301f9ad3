"""What docs/architecture.md says a package may know is what the import contracts hold."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGES = sorted(path.parent.name for path in (ROOT / "src" / "leanladder").glob("*/__init__.py"))
ROW = re.compile(r"^\| `(\w+)`(?:, `\w+`)* \| [^|]+ \| ([^|]+) \|$", re.MULTILINE)


def contracts() -> dict[str, Any]:
    listed = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
    return {contract["id"]: contract for contract in listed}


def rows() -> dict[str, str]:
    return dict(ROW.findall((ROOT / "docs" / "architecture.md").read_text()))


@pytest.mark.parametrize("package", [name for name in PACKAGES if name != "cli"])
def test_a_contract_a_package_as_its_row_says(package: str) -> None:
    row = rows()[package]
    may_know = set() if row.startswith("nothing") else set(re.split(r", | and ", row.strip()))
    assert may_know <= set(PACKAGES)
    contract = contracts()[package]
    assert contract["source_modules"] == [f"leanladder.{package}"]
    forbidden = {name.removeprefix("leanladder.") for name in contract["forbidden_modules"]}
    assert forbidden == set(PACKAGES) - may_know - {package}


def test_the_layers_name_every_package() -> None:
    layers = contracts()["layers"]["layers"]
    assert sorted(name for layer in layers for name in layer.split(" | ")) == PACKAGES


def test_every_row_is_a_package_or_data() -> None:
    assert set(rows()) - {"data"} == set(PACKAGES)
