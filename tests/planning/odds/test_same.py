"""The same seed on another processor: one without fused multiply-add, and without any wide registers."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from importlib.resources import as_file, files
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

CLOSE = 1e-9
CLEAR = 1e-6  # margin from which on discrete answers must agree
GENERIC = {"NUMBA_CPU_NAME": "generic", "NUMBA_CPU_FEATURES": ""}
MORNING = "--air 8 --track 9 --humidity 60 --start cold"
ASKED = f"--tyre sport-road {MORNING} --laps 2 --rider experienced --json --notes"


def planned(circuit: Path, home: Path | None) -> dict[str, Any]:
    """A ladder in a process of its own; compiled for a plain processor where it has a home of its own."""
    plain = {} if home is None else GENERIC | {"LEANLADDER_HOME": str(home)}
    command = [sys.executable, "-m", "leanladder.cli", "plan", "--circuit", str(circuit / "circuit.csv")]
    done = subprocess.run(
        [*command, *ASKED.split(), str(circuit / "circuit-notes.toml")],
        env=os.environ | plain,
        check=True,
        capture_output=True,
    )
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def figures(value: object, name: str = "") -> Iterator[tuple[str, float]]:
    """Every number of an answer with its name."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key != "main_causes":  # an order, looked at apart
                yield from figures(inner, f"{name}.{key}")
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            yield from figures(inner, f"{name}[{place}]")
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        yield name, float(value)


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, Any], dict[str, Any]]:
    with as_file(files("leanladder") / "data" / "example") as folder:
        return planned(folder, None), planned(folder, tmp_path_factory.mktemp("plain"))


def test_figures_agree_to_a_thousand_millionth(both: tuple[dict[str, Any], dict[str, Any]]) -> None:
    here, plain = (dict(figures(answer)) for answer in both)
    assert here.keys() == plain.keys()
    apart = {name: here[name] - plain[name] for name in here}
    far = {name: by for name, by in apart.items() if abs(by) > CLOSE * max(1.0, abs(here[name]))}
    assert far == {}
    assert any(apart.values())  # else both ran the same code


def test_discrete_answers_agree_where_their_margin_is_clear(
    both: tuple[dict[str, Any], dict[str, Any]],
) -> None:
    looked_at = 0
    for ours, theirs in zip(both[0]["laps"], both[1]["laps"], strict=True):
        for one, other in zip(ours["corners"], theirs["corners"], strict=True):
            limits = sorted([one["physics_bike_deg"], one["card_bike_deg"], 50.0])
            if limits[1] - limits[0] > CLEAR:
                assert one["limited_by"] == other["limited_by"]
                looked_at += 1
            if abs(one["cap_lean_deg"] - one["plan_lean_deg"] - 0.5) > CLEAR:
                assert one["cap_reached"] == other["cap_reached"]
            shares = [cause["share"] for cause in one["main_causes"]]
            if all(a - b > CLEAR for a, b in pairwise(shares)):
                codes = [cause["code"] for cause in other["main_causes"]]
                assert codes == [cause["code"] for cause in one["main_causes"]]
    assert looked_at > 10
