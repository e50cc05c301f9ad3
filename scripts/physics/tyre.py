"""Figures of the tyre's heat model."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scripts.physics.machines import place, rib_leans_deg, ridden, weights
from scripts.plot import Axis, Line, Panel, figure
from tests.trade.rides import Run

from leanladder.engine.tyre_thermal import FLOWS, layers_c, read_c
from leanladder.planning.riding import GAS, RIM
from leanladder.planning.rubber import Rubber
from leanladder.planning.starts import stood

Floats = NDArray[np.float64]

LAPS = 8
THIRDS = ("left", "centre", "right")
DEPTHS = ("skin", "outer 2 mm", "carcass")
WHEELS = ("front", "rear")
SHOWN_LAPS = (1, 3, 8)
STOP_MIN = 60


def tyre_figures() -> dict[str, str]:
    """Return section and load, a session, the crown lap by lap, the heat's ways and a stop."""
    run = ridden(laps=LAPS)
    return {
        "tyre-section.svg": figure(
            "The rear's section as the model cuts it, and where load and bending stand on it",
            [_section(run.place.rear), _load(run.place.rear)],
        ),
        "tyre-session.svg": figure("Rubber temperatures over eight laps from cold", _session(run)),
        "tyre-crown.svg": figure("Outer 2 mm across the crown after laps", [_crown(run, 0), _crown(run, 1)]),
        "tyre-heat.svg": figure("Heat in and out of the rear by lap", _flows(run)),
        "tyre-stop.svg": figure(
            "A warm rear and front that stand for an hour", [_stop(run, 0), _stop(run, 1)]
        ),
    }


def _tyre(run: Run, wheel: int) -> Rubber:
    return (run.place.front, run.place.rear)[wheel]


def _depths_mm(tyre: Rubber) -> Floats:
    """Where the layers end [mm]: their heat capacities are in proportion to their thickness."""
    heat = layers_c(tyre.body.heat_j_k, tyre.body.ribs)[:, 0]
    thin = heat / heat.sum()
    fitted = place().session.rear.tyre if tyre.is_rear else place().session.front.tyre
    whole_mm = 1e3 * (fitted.tread_m.value + fitted.carcass_m.value)
    return np.asarray(np.concatenate([[0.0], np.cumsum(thin) * whole_mm]))


def _section(tyre: Rubber) -> Panel:
    ends = _depths_mm(tyre)
    edge = 1e3 * tyre.body.half_arc_m
    ribs = np.linspace(-edge, edge, tyre.body.ribs + 1)
    drawn = [Line("layers", [-edge, edge], [depth, depth], 0) for depth in ends]
    drawn += [Line("ribs", [rib, rib], [0.0, ends[-1]], 4) for rib in ribs]
    return Panel(
        "The rear's section, laid flat",
        Axis("along the crown from its centre, mm", -100, 100, 50),
        Axis("depth below the surface, mm", 8, 0, -2),
        drawn,
    )


def _load(tyre: Rubber) -> Panel:
    middles = 1e3 * tyre.body.rib_m * (np.arange(tyre.body.ribs) - 0.5 * (tyre.body.ribs - 1))
    patch, flex = tyre.body.patch_half_m, tyre.body.flex_half_m
    drawn = [
        Line(f"{what}, {lean:g}°", middles, 100.0 * weights(tyre, lean, half))
        for what, half in (("load", patch), ("bending", flex))
        for lean in (0.0, 40.0)
    ]
    return Panel(
        "Load and bending, upright and leaned right",
        Axis("along the crown from its centre, mm", -100, 100, 50),
        Axis("share of each rib, %", 0, 40, 10),
        drawn,
    )


def _readings(run: Run, wheel: int) -> tuple[Floats, Floats]:
    """Minutes (n,) and what can be read on arrival at each corner, by depth and third (n, 3, 3)."""
    body = _tyre(run, wheel).body
    states = np.concatenate([(lap.ridden.heated.front, lap.ridden.heated.rear)[wheel] for lap in run.steps])
    minutes = np.concatenate([run.minutes(lap) for lap in range(len(run.steps))])
    read = read_c(states, body)
    return minutes, np.asarray(read.reshape(len(states), 3, 3, body.ribs // 3).mean(axis=3))


def _session(run: Run) -> list[Panel]:
    minutes, read = _readings(run, 1)
    time, warm = Axis("minutes since rolling, on arrival at each corner", 0, 16, 4), Axis("°C", 0, 80, 20)
    by_third = Panel(
        "Rear, outer 2 mm: ten turns right, one left",
        time,
        warm,
        [Line(name, minutes, read[:, 1, third]) for third, name in enumerate(THIRDS)],
    )
    ends = np.array([lap.ridden.heated.end.rear[GAS] for lap in run.steps])
    whole = np.cumsum([lap.ridden.heated.time_s for lap in run.steps]) / 60.0
    by_depth = Panel(
        "Rear, right third, and the gas",
        time,
        warm,
        [
            *(Line(name, minutes, read[:, depth, 2]) for depth, name in enumerate(DEPTHS)),
            Line("gas at the line", whole, ends),
        ],
    )
    return [by_third, by_depth]


def _crown(run: Run, wheel: int) -> Panel:
    tyre = _tyre(run, wheel)
    leans = rib_leans_deg(tyre)
    return Panel(
        f"{WHEELS[wheel].capitalize()} at the line",
        Axis("bike lean that stands on it, left to right, °", -60, 60, 20),
        Axis("outer 2 mm, °C", 0, 80, 20),
        [
            Line(f"lap {lap}", leans, read_c(run.steps[lap - 1].ridden.heated.end[wheel], tyre.body)[1])
            for lap in SHOWN_LAPS
        ],
    )


def _flows(run: Run) -> list[Panel]:
    laps = np.arange(1, LAPS + 1)
    kw = np.array([lap.ridden.heated.heat_j[1] / lap.ridden.heated.time_s / 1e3 for lap in run.steps])
    names = {name: place for place, name in enumerate(FLOWS)}

    def of(*parts: str) -> Floats:
        return np.asarray(sum(kw[:, names[part]] for part in parts))

    lap, power = Axis("lap", 1, LAPS, 1), Axis("mean over the lap, kW", 0, 2, 0.5)
    into = Panel(
        "Into the rear",
        lap,
        power,
        [
            Line("rolling", laps, of("rolling")),
            Line("slip", laps, of("slip")),
            Line("sun and brake", laps, of("sun", "brake")),
        ],
    )
    out = Panel(
        "Out of the rear",
        lap,
        power,
        [
            Line("road", laps, of("road")),
            Line("air at the tread", laps, of("tread_air")),
            Line("air at walls and rim", laps, of("wall_air", "rim_air")),
            Line("radiation of the tread", laps, of("tread_radiation")),
        ],
    )
    return [into, out]


def _stop(run: Run, wheel: int) -> Panel:
    tyre, state = _tyre(run, wheel), run.steps[-1].ridden.heated.end[wheel]
    minutes = np.arange(0, STOP_MIN + 1, 2)
    states = [state]
    for _ in minutes[1:]:
        states.append(stood(states[-1], tyre, run.place, 2.0, in_sun=False))
    every = np.stack(states)
    right = read_c(every, tyre.body).reshape(len(every), 3, 3, -1).mean(axis=3)[:, :, 2]
    drawn = [Line(f"{name}, right", minutes, right[:, depth]) for depth, name in enumerate(DEPTHS)]
    drawn += [Line("gas", minutes, every[:, GAS]), Line("rim", minutes, every[:, RIM])]
    return Panel(
        f"{WHEELS[wheel].capitalize()}, standing in 8 °C shade",
        Axis("minutes", 0, STOP_MIN, 15),
        Axis("°C", 0, 80, 20),
        drawn,
    )
