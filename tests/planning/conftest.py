"""The demo's circuit and sessions on it, to plan from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib.resources import as_file, files
from typing import Any

import numpy as np
import pytest

from leanladder import catalogue
from leanladder.domain.circuit import Circuit, Side
from leanladder.domain.session import ColdPressure, FittedTyre, Session, Start
from leanladder.domain.weather import Road, Weather
from leanladder.importers import read_outline
from leanladder.interchange.notes import read_notes
from leanladder.planning import circuits
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import Tables, shipped_tables

Ask = Callable[..., Session]
Place = Callable[..., Setting]


@pytest.fixture(scope="session")
def demo_circuit() -> Circuit:
    with as_file(files("leanladder") / "data" / "example") as folder:
        return circuits.build(read_outline(folder / "circuit.csv"), read_notes(folder / "circuit-notes.toml"))


@pytest.fixture(scope="session")
def tables() -> Tables:
    return shipped_tables()


@pytest.fixture(scope="session")
def ask(demo_circuit: Circuit) -> Ask:
    """Give a function that returns a session: a cool morning on the demo's circuit unless said otherwise."""
    family = catalogue.tyre_family("sport-road")
    usual = Session(
        circuit=demo_circuit,
        weather=Weather(air_c=8.0, track_c=9.0, humidity_pct=60.0),
        road=Road(open_c=9.0, shaded_c=8.0, origin="measured", spread_k=1.0, sun_w_m2=200.0),
        front=FittedTyre(family.name, family.front),
        rear=FittedTyre(family.name, family.rear),
        motorcycle=catalogue.motorcycle("middleweight-sport"),
        level=catalogue.level("regular"),
        start=Start("cold"),
        surface=catalogue.surface("ordinary"),
        laps=3,
        cold_pressure=ColdPressure(2.1, 1.9, 8.0),
    )

    def asked(level: str | None = None, **changes: Any) -> Session:
        if level is not None:
            changes["level"] = catalogue.level(level)
        return replace(usual, **changes)

    return asked


@pytest.fixture(scope="session")
def place(ask: Ask, tables: Tables) -> Place:
    """Give a function that returns a session made ready for riding."""

    def made(**changes: Any) -> Setting:
        return setting(ask(**changes), tables)

    return made


@pytest.fixture(scope="session")
def mirrored() -> Callable[[Circuit], Circuit]:
    """Give a function that returns a circuit seen in a mirror."""

    def mirror(circuit: Circuit) -> Circuit:
        other: dict[Side, Side] = {"left": "right", "right": "left"}
        return replace(
            circuit,
            net_turns=-circuit.net_turns,
            y_m=-circuit.y_m,
            curvature_per_m=-circuit.curvature_per_m,
            corners=tuple(replace(corner, side=other[corner.side]) for corner in circuit.corners),
        )

    return mirror


@pytest.fixture(scope="session")
def scaled() -> Callable[[Circuit, float], Circuit]:
    """Give a function that returns a circuit of the same shape, times a size."""

    def scale(circuit: Circuit, size: float) -> Circuit:
        along = ("start_m", "apex_m", "end_m", "radius_m", "same_side_gap_m")
        corners = tuple(
            replace(corner, **{name: size * getattr(corner, name) for name in along})
            for corner in circuit.corners
        )
        exit_m = None if circuit.pit_exit_m is None else size * circuit.pit_exit_m
        return replace(
            circuit,
            length_m=size * circuit.length_m,
            s_m=size * circuit.s_m,
            x_m=size * circuit.x_m,
            y_m=size * circuit.y_m,
            curvature_per_m=circuit.curvature_per_m / size,
            corners=corners,
            patches=(),
            pit_exit_m=exit_m,
        )

    return scale


@pytest.fixture(scope="session")
def started_at() -> Callable[[Circuit, float], Circuit]:
    """Give a function that returns a circuit whose start line was moved on by a distance [m]."""

    def start(circuit: Circuit, by_m: float) -> Circuit:
        count = circuit.s_m.size
        steps = round(by_m / circuit.length_m * count)
        moved_m = steps * circuit.length_m / count

        def on(at_m: float) -> float:
            return (at_m - moved_m) % circuit.length_m

        rolled = {
            name: np.roll(getattr(circuit, name), -steps)
            for name in ("x_m", "y_m", "curvature_per_m", "elevation_m", "bank_deg", "shaded")
        }
        corners = tuple(
            replace(corner, start_m=on(corner.start_m), apex_m=on(corner.apex_m), end_m=on(corner.end_m))
            for corner in circuit.corners
        )
        return replace(circuit, corners=corners, patches=(), pit_exit_m=None, **rolled)

    return start
