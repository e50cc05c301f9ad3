"""The demo as options; a circuit, a session and a ladder with figures made up, to look at faces with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib.resources import as_file, files

import numpy as np
import pytest

from leanladder import catalogue
from leanladder.domain.chance import Cause, Doubt, FallOdds
from leanladder.domain.circuit import Circuit, Corner, Side
from leanladder.domain.ladder import Ladder, Lap, Limit, Notice, Rubber, Rung, TyreEnd
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start
from leanladder.domain.weather import Road, Weather

_STEP_M = 250.0
_CAUSES = ("cold_grip", "track", "surface", "front_level")
_LIMITS: tuple[Limit, ...] = ("caution_card", "front_grip", "rear_grip", "level_top", "clearance")


def corner(number: int, side: Side, name: str = "") -> Corner:
    at = number * _STEP_M
    return Corner(number, name, side, at - 40.0, at, at + 40.0, 50.0, 80.0, 170.0)


def circuit(sides: str, *, names: tuple[str, ...] = (), closed: bool = True) -> Circuit:
    """A made-up circuit with a corner a letter, l or r."""
    count = 400
    length_m = (len(sides) + 1) * _STEP_M
    angle = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
    radius_m = length_m / (2.0 * np.pi)
    flat = np.zeros(count)
    spelt = {"l": "left", "r": "right"}
    corners = tuple(
        corner(number, "left" if spelt[letter] == "left" else "right", names[number - 1] if names else "")
        for number, letter in enumerate(sides, 1)
    )
    return Circuit(
        name="Quillmoor",
        length_m=length_m,
        net_turns=-1,
        s_m=np.arange(count) * length_m / count,
        x_m=radius_m * np.cos(angle),
        y_m=radius_m * np.sin(angle),
        curvature_per_m=flat,
        elevation_m=flat,
        bank_deg=flat,
        shaded=np.zeros(count, dtype=bool),
        corners=corners,
        closed_course=closed,
        zone="Europe/London",
        latitude_deg=52.0,
        longitude_deg=-1.0,
        source="circuit.csv",
    )


def session(on: Circuit, laps: int) -> Session:
    family = catalogue.tyre_family("sport-road")
    return Session(
        circuit=on,
        weather=Weather(air_c=7.0, track_c=9.0),
        road=Road(9.0, 6.5, "measured", 1.0, 150.0),
        front=FittedTyre(family.name, family.front),
        rear=FittedTyre(family.name, family.rear),
        motorcycle=catalogue.motorcycle("middleweight-sport"),
        level=catalogue.level("regular"),
        start=Start("cold"),
        surface=catalogue.surface("ordinary"),
        laps=laps,
        cold_pressure=ColdPressure(2.1, 1.9, 15.0),
    )


def _rubber(at_c: float) -> Rubber:
    return Rubber(at_c, at_c + 9.0, at_c + 3.0, at_c + 0.5, at_c + 9.5, at_c + 3.5, at_c + 12.0)


def rung(lap: int, of: Corner) -> Rung:
    """One rung; its figures follow from lap and number alone, and differ from each other."""
    cap = min(49.99, 14.99 + 3.0 * lap + 0.37 * of.number - (4.0 if of.side == "left" else 0.0))
    limit = _LIMITS[(lap + of.number) % len(_LIMITS)]
    return Rung(
        number=of.number,
        side=of.side,
        cap_lean_deg=cap - 2.0,
        cap_bike_deg=cap,
        physics_bike_deg=cap + 5.0,
        card_bike_deg=cap + 0.25,
        plan_lean_deg=cap - 2.2,
        plan_bike_deg=cap - 0.2,
        cap_reached=True,
        speed_kmh=60.0 + lap,
        limited_by=limit,
        plan_limited_by=limit,
        reason="The caution card sets it.",
        grip=1.05,
        margin_deg=cap - 38.0,
        shoulder_in=lap > (3 if of.side == "left" else 1),
        front=_rubber(9.0 + lap),
        rear=_rubber(10.0 + lap),
    )


def ladder(on: Circuit, laps: int, *, missing: frozenset[int] = frozenset()) -> Ladder:
    """A made-up ladder; corners of missing are not ridden on lap 1."""
    made = tuple(
        Lap(
            lap=number,
            time_s=104.0,
            minute=(number - 1) * 104.0 / 60.0,
            straights="coach's pace only" if number <= 2 else "as usual",
            least_margin=next(c.number for c in on.corners if c.number not in missing),
            rungs=tuple(rung(number, c) for c in on.corners if number > 1 or c.number not in missing),
            front_end=TyreEnd(_rubber(12.0), 13.0, 15.0, 11.0 + number, 10.0, 2.1 + 0.03 * number),
            rear_end=TyreEnd(_rubber(13.0), 14.0, 16.0, 12.0 + number, 11.0, 1.9 + 0.04 * number),
        )
        for number in range(1, laps + 1)
    )
    warning = Notice("least_margin", "Turn 1, left, has the least margin, from lap 1. Respect this turn.")
    return Ladder(session(on, laps), made, (warning,), ("dry_only", "limit"), "1", "0123456789ab")


def doubt(lap: int, number: int) -> Doubt:
    """What made-up worlds tell of one turn on one lap; its figures follow from both, and differ."""
    middle = 24.3 + 2.0 * lap + 0.7 * number
    first, second = (_CAUSES[(lap + number + more) % len(_CAUSES)] for more in (0, 1))
    return Doubt(
        lean_p50_deg=middle - 2.0,
        lean_band_deg=(middle - 7.0, middle + 2.5),
        bike_p50_deg=middle,
        bike_band_deg=(middle - 5.0, middle + 4.5),
        fall_odds=0.0001 * number / lap,
        main_causes=(Cause(first, 0.4), Cause(second, 0.2), Cause("air", 0.1)),
    )


def with_worlds(ladder: Ladder) -> Ladder:
    """The same ladder with what made-up worlds tell, whatever it held of them."""
    laps = tuple(
        replace(lap, rungs=tuple(replace(rung, doubt=doubt(lap.lap, rung.number)) for rung in lap.rungs))
        for lap in ladder.laps
    )
    return replace(ladder, laps=laps, members=1024, fall_odds=FallOdds(0.00029, 0.0083, 30))


def without_worlds(ladder: Ladder) -> Ladder:
    """The same ladder with no worlds drawn."""
    laps = tuple(
        replace(lap, rungs=tuple(replace(rung, doubt=None) for rung in lap.rungs)) for lap in ladder.laps
    )
    return replace(ladder, laps=laps, members=0, fall_odds=None)


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The demo's circuit and notes, as options."""
    folder = tmp_path_factory.mktemp("demo")
    with as_file(files("leanladder").joinpath("data", "example")) as source:
        for name in ("circuit.csv", "circuit-notes.toml"):
            (folder / name).write_bytes((source / name).read_bytes())
    return {"--circuit": str(folder / "circuit.csv"), "--notes": str(folder / "circuit-notes.toml")}


@pytest.fixture
def made_up() -> Callable[..., Ladder]:
    """Give a maker of ladders: made_up("lrr", 3)."""

    def make(
        sides: str, laps: int, *, names: tuple[str, ...] = (), missing: frozenset[int] = frozenset()
    ) -> Ladder:
        return ladder(circuit(sides, names=names), laps, missing=missing)

    return make


@pytest.fixture
def worlds() -> Callable[[Ladder], Ladder]:
    """Give what puts made-up worlds on a ladder."""
    return with_worlds


@pytest.fixture
def no_worlds() -> Callable[[Ladder], Ladder]:
    """Give what takes the worlds drawn off a ladder."""
    return without_worlds
