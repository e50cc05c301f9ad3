"""Tyres on measured circuits: a used shoulder at pace is near the centre, pressures rise as riders see.

Circuits: TUM race-track database (LGPL-3.0, geometry from OpenStreetMap), read in place. What is
compared with is common practice (see tests/trade/test_depth.py), not a measurement.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.trade.rides import Morning, run_plainly, session

from leanladder.importers import read_outline
from leanladder.planning.circuits import build
from leanladder.planning.ladder import plan
from leanladder.planning.rungs import lap_told


@pytest.mark.parametrize("name", ["Budapest", "Suzuka"])
def test_shoulders_and_pressures_at_pace(shared_data: Path, name: str) -> None:
    """At a pace that holds back a fixed share of the grip: what the heat does, whatever the chance."""
    circuit = build(read_outline(shared_data / "circuits" / "xy" / f"{name}.csv"), closed_course=True)
    asked = replace(session(Morning(20.0, 28.0), "experienced", 8), circuit=circuit)
    done = run_plainly(asked)
    last, cold = lap_told(done.place, 8, done.steps[-1]), asked.cold_pressure
    for end, set_bar in ((last.front_end, cold.front_bar), (last.rear_end, cold.rear_bar)):
        rubber = end.rubber
        assert rubber.centre_c - max(rubber.left_c, rubber.right_c) <= 12.0
        assert 0.25 <= end.pressure_bar - set_bar <= 0.6


@pytest.mark.usefixtures("all_members")
@pytest.mark.xfail(
    strict=True, reason="measured: within caps that are counted, 12.3 K on one end: decision 0023"
)
def test_shoulders_within_counted_caps_are_as_near(shared_data: Path) -> None:
    circuit = build(read_outline(shared_data / "circuits" / "xy" / "Suzuka.csv"), closed_course=True)
    last = plan(replace(session(Morning(20.0, 28.0), "experienced", 8), circuit=circuit)).laps[-1]
    for end in (last.front_end, last.rear_end):
        assert end.rubber.centre_c - max(end.rubber.left_c, end.rubber.right_c) <= 12.0
