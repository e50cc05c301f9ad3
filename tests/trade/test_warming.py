"""T5, T7, T8: how tyres warm. Common practice, no published source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.trade.rides import CENTRE, LEFT, RIGHT, WARMERS, Morning, caps_alike, outer, physics, run, session

from leanladder.domain.rider import Level
from leanladder.planning.laps import started
from leanladder.planning.odds.crowd import gather
from leanladder.planning.setting import setting
from leanladder.planning.tables import shipped_tables

COLD_DAY = Morning(8.0, 10.0)
BUSY, IDLE = RIGHT, LEFT


def _upright(level: Level) -> Level:
    """Hard drive and braking, corners at no more than 12 deg."""
    values = {"top_lean_deg": 12.0, "drive_mps2": 4.0, "brake_mps2": 7.0, "card_factor": 3.0}
    return replace(
        level, **{name: replace(getattr(level, name), value=value) for name, value in values.items()}
    )


def test_t5_upright_drive_and_braking_heat_mainly_the_centre() -> None:
    asked = session(COLD_DAY, "experienced", 3)
    done = run(replace(asked, level=_upright(asked.level)))
    leant = np.concatenate([_leaning_s(done, lap) for lap in range(3)])
    assert leant.mean() < 0.4  # straights over 60 % of the time
    for state in done.steps[-1].ridden.heated.end:
        centre, left, right = (
            outer(done.place, state, third) - COLD_DAY.air_c for third in (CENTRE, LEFT, RIGHT)
        )
        assert centre >= 2.0 * max(left, right)


def _leaning_s(done: object, lap: int) -> np.typing.NDArray[np.float64]:
    """Share of a lap's time within corners."""
    step = done.steps[lap]  # type: ignore[attr-defined]
    inside = step.way.corner_of[: step.way.lap_steps] >= 0
    slow = 1.0 / step.ridden.speeds[: step.way.lap_steps]
    return np.array([float((slow * inside).sum() / slow.sum())])


@pytest.mark.parametrize(
    "morning", [Morning(12.0, 18.0), Morning(16.0, 22.0), Morning(20.0, 28.0)], ids=["12", "16", "20"]
)
def test_t7_a_regular_is_about_where_it_is_going_to_be_after_a_few_laps(morning: Morning) -> None:
    done = run(session(morning, "regular", 12))
    assert 90.0 <= done.steps[-1].ridden.heated.time_s <= 120.0
    busy = done.rights()
    settled = done.steps[-1].ridden.caps.cap[busy]
    away = [
        minute
        for lap, step in enumerate(done.steps)
        for minute, cap, last in zip(
            done.minutes(lap)[busy], step.ridden.caps.cap[busy], settled, strict=True
        )
        if abs(cap - last) > 3.0
    ]
    assert 2.5 <= max(away) <= 8.0


def test_t8_heated_and_cold_tyres_ridden_alike_meet() -> None:
    done = run(session(COLD_DAY, "experienced", 5))
    place, busy = done.place, done.rights()
    warmed = setting(session(COLD_DAY, "experienced", 5, start=WARMERS), shipped_tables())
    warm = started(warmed)
    crowd = gather(warmed, warm, carried_on=False)
    first = [[outer(place, state, third) - COLD_DAY.air_c for state in warm] for third in (BUSY, IDLE)]
    left, apart = {}, {}
    for lap, step in enumerate(done.steps, 1):
        cold = step.ridden.heated
        caps, hot, crowd = caps_alike(place, step, warm, crowd)
        warm = hot.end
        gaps = [
            [
                (outer(place, hot.end[end], third) - outer(place, cold.end[end], third)) / first[row][end]
                for end in (0, 1)
            ]
            for row, third in enumerate((BUSY, IDLE))
        ]
        left[lap] = [max(row) for row in gaps]
        between = np.abs(physics(caps) - physics(step.ridden.caps))
        apart[lap] = (between[busy].max(), between[~busy].max())
    assert left[4][0] < 1.0 / 3.0
    assert left[5][1] < 1.0 / 3.0
    assert apart[3][0] <= 5.0
    assert apart[5][0] <= 2.0
    assert apart[5][1] <= 5.0


def test_t8_one_falls_and_the_other_rises() -> None:
    cold = run(session(COLD_DAY, "experienced", 3))
    warm = run(session(COLD_DAY, "experienced", 3, start=WARMERS))
    for end in (0, 1):
        rise = [outer(cold.place, step.ridden.heated.end[end], BUSY) for step in cold.steps]
        fall = [outer(warm.place, step.ridden.heated.end[end], IDLE) for step in warm.steps]
        assert rise == sorted(rise)
        assert fall == sorted(fall, reverse=True)
