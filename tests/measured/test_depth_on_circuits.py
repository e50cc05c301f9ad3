"""Tyres on measured circuits: a used shoulder at pace is near the centre, pressures rise as riders see.

Circuits: TUM race-track database (LGPL-3.0, geometry from OpenStreetMap), read in place. What is
compared with is common practice (see tests/trade/test_depth.py), not a measurement.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.trade.rides import Morning, session

from leanladder.importers import read_outline
from leanladder.planning.circuits import build
from leanladder.planning.ladder import plan


@pytest.mark.usefixtures("all_members")
@pytest.mark.parametrize("name", ["Budapest", "Suzuka"])
def test_shoulders_and_pressures_at_pace(shared_data: Path, name: str) -> None:
    circuit = build(read_outline(shared_data / "circuits" / "xy" / f"{name}.csv"), closed_course=True)
    ladder = plan(replace(session(Morning(20.0, 28.0), "experienced", 8), circuit=circuit))
    cold = ladder.session.cold_pressure
    for end, set_bar in (
        (ladder.laps[-1].front_end, cold.front_bar),
        (ladder.laps[-1].rear_end, cold.rear_bar),
    ):
        rubber = end.rubber
        assert rubber.centre_c - max(rubber.left_c, rubber.right_c) <= 12.0
        assert 0.25 <= end.pressure_bar - set_bar <= 0.6
