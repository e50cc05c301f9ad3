"""A run that was stopped and rolls again: from tyres as it left them, then stood."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from importlib.resources import as_file, files

import pytest

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DaySession
from leanladder.domain.ladder import Ladder
from leanladder.interchange.day import read_day
from leanladder.planning.day import Again, plan_day

RUN = "early"


@pytest.fixture(scope="module")
def alone() -> Day:
    """One regular rider on one machine, one run of 15 min."""
    with as_file(files("leanladder") / "data" / "example") as folder:
        day = read_day(folder / "day.toml")
    riders = tuple(rider for rider in day.riders if rider.name == "Wren")
    return replace(day, riders=riders, sessions=(DaySession(RUN, "larks", time(9, 30), minutes=15.0),))


def ladder(day: Day, circuit: Circuit, again: Again | None) -> Ladder:
    found = plan_day(day, circuit, again=again)[0].ladder
    assert found is not None
    return found


def first_rubber_c(found: Ladder) -> list[float]:
    return [min(rung.front.left_c, rung.front.right_c) for rung in found.laps[0].rungs]


def test_a_run_stopped_before_it_rolled_starts_as_it_would_have(alone: Day, demo_circuit: Circuit) -> None:
    usual, again = ladder(alone, demo_circuit, None), ladder(alone, demo_circuit, Again(RUN, 0.0, 0.0))
    assert first_rubber_c(again) == pytest.approx(first_rubber_c(usual), abs=0.02)


def test_the_longer_it_had_rolled_the_warmer_and_the_longer_it_stands_the_colder(
    alone: Day, demo_circuit: Circuit
) -> None:
    early, late, cooled = (
        ladder(alone, demo_circuit, Again(RUN, *minutes))
        for minutes in ((3.0, 4.0), (10.0, 4.0), (10.0, 12.0))
    )
    assert first_rubber_c(early)[0] < first_rubber_c(late)[0]
    assert first_rubber_c(cooled)[0] < first_rubber_c(late)[0]
    # never as warm as a generic warmed-up tyre would be
    assert late.laps[0].rungs[0].cap_bike_deg <= usual_after_stop(alone, demo_circuit) + 0.05


def usual_after_stop(day: Day, circuit: Circuit) -> float:
    found = ladder(day, circuit, Again(RUN, 15.0, 4.0))
    return found.laps[0].rungs[0].cap_bike_deg


def test_what_is_left_of_the_run_is_planned(alone: Day, demo_circuit: Circuit) -> None:
    found = ladder(alone, demo_circuit, Again(RUN, 10.0, 4.0))
    last = found.laps[-1]
    assert last.minute < 5.0
    assert found.session.start.kind == "stopped"
