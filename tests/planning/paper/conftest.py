"""Ladders with caps made up, and two sessions of the example day planned once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from importlib.resources import as_file, files

import pytest

from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.domain.day import Day, DayLadder
from leanladder.domain.ladder import Ladder, Lap, Limit, Notice, Rubber, Rung, TyreEnd
from leanladder.domain.session import Session
from leanladder.interchange.day import read_day
from leanladder.planning.day import plan_day

Make = Callable[..., Ladder]
RUBBER = Rubber(20.0, 25.0, 22.0, 20.5, 25.5, 22.5, 30.0)
END = TyreEnd(RUBBER, 20.0, 20.0, 20.0, 20.0, 2.3)


def corners(sides: str) -> tuple[Corner, ...]:
    """A corner a letter, l or r, 250 m apart."""
    spelt: dict[str, Side] = {"l": "left", "r": "right"}
    return tuple(
        Corner(number, f"Turn {number}", spelt[letter], at - 40.0, at, at + 40.0, 50.0, 80.0, 170.0)
        for number, letter in enumerate(sides, 1)
        for at in [number * 250.0]
    )


def rung(corner: Corner, cap: float, limit: Limit = "caution_card") -> Rung:
    return Rung(
        number=corner.number,
        side=corner.side,
        cap_lean_deg=cap - 2.0,
        cap_bike_deg=cap,
        physics_bike_deg=cap + 5.0,
        card_bike_deg=cap,
        plan_lean_deg=cap - 2.2,
        plan_bike_deg=cap - 0.2,
        cap_reached=True,
        speed_kmh=63.9,
        limited_by=limit,
        plan_limited_by=limit,
        reason="",
        grip=1.0,
        margin_deg=cap - 38.0,
        shoulder_in=False,
        front=RUBBER,
        rear=replace(RUBBER, left_c=19.0),
    )


@pytest.fixture(scope="session")
def make(ask: Callable[..., Session], demo_circuit: Circuit) -> Make:
    """Give a maker of ladders: make("lrr", [[14, 15, 16], [18, 19, 20]], time_s=100, behind=1)."""

    def made(
        sides: str,
        caps: Sequence[Sequence[float]],
        *,
        time_s: float = 100.0,
        behind: int = 0,
        warned: Sequence[str] = (),
        limit: Limit = "caution_card",
    ) -> Ladder:
        on = replace(demo_circuit, corners=corners(sides))
        laps = tuple(
            Lap(
                lap=number,
                time_s=time_s,
                minute=(number - 1) * time_s / 60.0,
                straights="",
                least_margin=min(range(len(of_lap)), key=of_lap.__getitem__) + 1,
                rungs=tuple(
                    rung(corner, cap, limit)
                    for corner, cap in zip(on.corners, of_lap, strict=True)
                    if number > 1 or corner.number > behind
                ),
                front_end=END,
                rear_end=END,
            )
            for number, of_lap in enumerate(caps, 1)
        )
        warnings = tuple(Notice(code, "") for code in warned)
        return Ladder(ask(circuit=on, laps=len(laps)), laps, warnings, (), "1", "0" * 12)

    return made


@pytest.fixture(scope="session")
def demo_day() -> Day:
    """The example's day, its first two sessions alone: one cold, one off warmers."""
    with as_file(files("leanladder") / "data" / "example") as folder:
        day = read_day(folder / "day.toml")
    return replace(day, sessions=day.sessions[:2])


@pytest.fixture(scope="session")
def demo_plan(demo_day: Day, demo_circuit: Circuit) -> tuple[DayLadder, ...]:
    """The example's first two sessions, planned."""
    return plan_day(demo_day, demo_circuit)


@pytest.fixture(scope="session")
def by_session(demo_plan: tuple[DayLadder, ...]) -> dict[str, tuple[DayLadder, ...]]:
    """The entries of each session."""
    names = dict.fromkeys(entry.session.name for entry in demo_plan)
    return {name: tuple(entry for entry in demo_plan if entry.session.name == name) for name in names}
