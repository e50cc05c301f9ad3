"""Time what should be fast, and print it beside the aim. Nothing fails: an aim is no bound.

- `plan` of ten laps on a circuit of 4 km, warm: the best of twenty (aim 60 ms)
- the command, started anew with a track temperature given and compiled code kept (aim 2 s)
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from leanladder import catalogue
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start
from leanladder.domain.weather import Weather
from leanladder.importers import read_outline
from leanladder.planning import circuits
from leanladder.planning.ladder import plan
from leanladder.planning.morning import settle_road

EXAMPLE = Path(__file__).resolve().parent.parent / "src" / "leanladder" / "data" / "example"
LENGTH_M = 4000.0
LAPS = 10
RUNS = 20
COLD_RUNS = 3
AIM_PLAN_S = 0.060
AIM_COMMAND_S = 2.0


def session() -> Session:
    """Return ten laps, `experienced`, on the demo's line drawn out to 4 km."""
    outline = read_outline(EXAMPLE / "circuit.csv")
    drawn_m = circuits.build(outline, closed_course=True).length_m
    circuit = circuits.build(
        replace(outline, points=outline.points * (LENGTH_M / drawn_m)), closed_course=True
    )
    weather = Weather(air_c=15.0, track_c=18.0, humidity_pct=60.0)
    road, _ = settle_road(weather)
    family = catalogue.tyre_family("sport-road")
    return Session(
        circuit=circuit,
        weather=weather,
        road=road,
        front=FittedTyre(family.name, family.front),
        rear=FittedTyre(family.name, family.rear),
        motorcycle=catalogue.motorcycle("middleweight-sport"),
        level=catalogue.level("experienced"),
        start=Start("cold"),
        surface=catalogue.surface("ordinary"),
        laps=LAPS,
        cold_pressure=ColdPressure(2.1, 1.9, 15.0),
    )


def times_s(run: Callable[[], object], times: int) -> list[float]:
    """Return how long each of some runs took [s], shortest first."""
    taken = []
    for _ in range(times):
        began = time.perf_counter()
        run()
        taken.append(time.perf_counter() - began)
    return sorted(taken)


def report(what: str, taken: list[float], aim_s: float) -> None:
    """Print the best and the median beside the aim."""
    best_ms, median_ms, aim_ms = (1e3 * seconds for seconds in (taken[0], taken[len(taken) // 2], aim_s))
    print(f"{what}: best {best_ms:.0f} ms, median {median_ms:.0f} ms of {len(taken)} (aim {aim_ms:.0f} ms)")


def main() -> int:
    """Time the plan and the command."""
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}")
    asked = session()
    plan(asked)  # compiles, or loads what was compiled
    report(
        f"{LAPS} laps on {asked.circuit.length_m / 1e3:.1f} km, warm",
        times_s(lambda: plan(asked), RUNS),
        AIM_PLAN_S,
    )
    with tempfile.TemporaryDirectory() as home:
        command = [
            sys.executable, "-m", "leanladder.cli", "plan", "--circuit", str(EXAMPLE / "circuit.csv"),
            "--notes", str(EXAMPLE / "circuit-notes.toml"), "--tyre", "sport-road", "--air", "8",
            "--track", "9", "--humidity", "60", "--start", "cold", "--laps", "6", "--rider", "new",
        ]  # fmt: skip
        surroundings = os.environ | {"LEANLADDER_HOME": home}

        def run() -> None:
            subprocess.run(command, env=surroundings, check=True, stdout=subprocess.DEVNULL)

        run()  # fills the cache
        report("the command, cold, compiled code kept", times_s(run, COLD_RUNS), AIM_COMMAND_S)
    return 0


if __name__ == "__main__":
    sys.exit(main())
