"""A day of few machines, its ladders and what its lists say of them, for tests of lists."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, time
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, settings

from leanladder.domain.condition import Condition
from leanladder.domain.day import (
    Band,
    BandEnd,
    Day,
    DayLadder,
    DayMachine,
    DaySession,
    Group,
    HourWeather,
    Rider,
)
from leanladder.domain.errors import OutsideModelError
from leanladder.domain.ladder import Ladder
from leanladder.domain.paper import DayList, PressureRow
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Start
from leanladder.planning.lists import pressure_rows
from leanladder.wording import text

WARM = Start("warmers", warmers_c=80.0, on_min=60.0, off_min=5.0)
RUN = DaySession("larks 1", "larks", time(9, 30), laps=3)
LATER = DaySession("larks 2", "larks", time(10, 30), laps=3)
SOUND = Condition(date_code="2224", heat_cycles=3)
LOOKED_AT = DayMachine("1", "naked", "sport-road", "sport-road", front_state=SOUND, rear_state=SOUND)
Plans = Mapping[BandEnd, Sequence[DayLadder]]
quick = settings(max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)


def day_of(*machines: DayMachine, sessions: tuple[DaySession, ...] = (RUN,), **changes: Any) -> Day:
    air = Band(6.0, 8.0, 10.0)
    weather = tuple(HourWeather(time(at), air, cloud=0.5, wind_mps=2.0, humidity_pct=60.0) for at in (9, 12))
    usual = Day(
        date=date(2026, 4, 12),
        school="Quillmoor",
        circuit=Path("circuit.csv"),
        notes=None,
        weather=weather,
        coaches=(),
        groups=(Group("larks"),),
        machines=machines,
        riders=tuple(Rider(f"rider {each.name}", "larks", "regular", each.name) for each in machines),
        sessions=sessions,
    )
    return replace(usual, **changes)


def entry(
    ladder: Ladder | None, *machines: str, run: DaySession = RUN, refused: str = "", **changes: Any
) -> DayLadder:
    refusal = OutsideModelError(refused, text(refused)) if refused else None
    return DayLadder(
        run,
        tuple(f"rider {name}" for name in machines),
        machines,
        "naked",
        "regular",
        ("sport-road", "sport-road"),
        None if refused else ladder,
        refusal,
        **changes,
    )


def in_air(ladder: Ladder, air_c: float, track_c: float | None = None) -> Ladder:
    session = ladder.session
    road = session.road if track_c is None else replace(session.road, open_c=track_c)
    return replace(ladder, session=replace(session, weather=replace(session.weather, air_c=air_c), road=road))


def row_of(machine: DayMachine, ladder: Ladder, **changes: Any) -> PressureRow:
    (row,) = pressure_rows(day_of(machine), [entry(ladder, machine.name, **changes)])
    return row


def note_codes(row: PressureRow) -> list[str]:
    return [note.code for note in row.notes]


def told(page: DayList, head: str) -> list[Sentence]:
    return [line for part in page.parts if part.head == f"lists.{head}" for line in part.lines]


def told_codes(page: DayList, head: str) -> list[str]:
    return [line.code.removeprefix("lists.") for line in told(page, head)]
