"""What a command loads: a ladder on a measured track must not wait for what it does not use."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib.resources import files

import pytest

EXAMPLE = files("leanladder").joinpath("data", "example")
PROGRAM = """
import json, sys
from leanladder.cli.main import main
code = main(sys.argv[1:])
loaded = sorted({name.split(".")[0] for name in sys.modules})
print(json.dumps({"code": code, "loaded": loaded}), file=sys.stderr)
"""


def loaded_by(*arguments: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, *arguments], capture_output=True, text=True, check=True
    )
    told = json.loads(done.stderr.splitlines()[-1])
    assert told["code"] == 0, done.stderr
    return set(told["loaded"])


def test_plan_with_a_measured_track_loads_no_sun_and_no_tables() -> None:
    loaded = loaded_by(
        "plan", "--circuit", str(EXAMPLE / "circuit.csv"), "--closed-course", "--tyre", "sport-road",
        "--air", "8", "--track", "9", "--humidity", "60", "--start", "cold", "--laps", "1", "--rider", "new",
    )  # fmt: skip
    assert "numpy" in loaded  # it did plan
    assert not loaded & {"pvlib", "pandas", "django"}


@pytest.mark.parametrize("arguments", [["--help"], ["config"], ["schema"]])
def test_what_needs_no_numbers_loads_no_compiler(arguments: list[str]) -> None:
    assert not loaded_by(*arguments) & {"numba", "scipy", "pvlib", "pandas"}
