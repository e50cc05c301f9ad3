"""Figures of grip and scrubbing."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scripts.physics.machines import FAMILIES, curve, tables
from scripts.plot import Axis, Line, Panel, figure

from leanladder import catalogue
from leanladder.engine import grip
from leanladder.engine.scrubbing import scrubbed_on

Floats = NDArray[np.float64]

RUBBER = Axis("rubber, outer 2 mm, °C", 0, 140, 20)
SURFACES = ("ordinary", "abrasive", "polished")


def grip_figures() -> dict[str, str]:
    """Return the grip of families and surfaces, the mechanisms and the shift, all against temperature."""
    axis = grip.table_axis()
    seen = (axis >= RUBBER.low) & (axis <= RUBBER.high)
    rubber_c = axis[seen]
    friction = Axis("friction", 0.6, 1.6, 0.2)
    families = Panel(
        "Front tyres that ship, ordinary surface",
        RUBBER,
        friction,
        [Line(name, rubber_c, curve(name)[seen]) for name in FAMILIES],
    )
    surfaces = Panel(
        "sport-road by surface",
        RUBBER,
        friction,
        [Line(name, rubber_c, curve("sport-road", surface=name)[seen]) for name in SURFACES],
    )
    return {
        "grip-curves.svg": figure(
            "Friction against rubber temperature by tyre and by surface", [families, surfaces]
        ),
        "grip-mechanisms.svg": figure(
            "Keying, adhesion and fade, and the shift behind them", _mechanisms(rubber_c)
        ),
    }


def _mechanisms(rubber_c: Floats) -> list[Panel]:
    compound, general = catalogue.tyre_family("sport-road").front.compound, tables().grip
    glass, width = compound.glass_c.value, general["wlf_width"]
    keying, adhesion = (
        grip.developed(rubber_c, glass, full.value, cold.value, width)
        for full, cold in (
            (compound.keying_full_c, compound.keying_cold),
            (compound.adhesion_full_c, compound.adhesion_cold),
        )
    )
    faded = grip.faded(
        rubber_c, compound.fade_from_c.value, compound.fade_per_k.value, general["fade_blend_k"]
    )
    parts = Panel(
        "sport-road: how far each is developed",
        RUBBER,
        Axis("share of its best", 0, 1, 0.2),
        [
            Line("keying", rubber_c, keying),
            Line("adhesion", rubber_c, adhesion),
            Line("left by fade", rubber_c, faded),
            Line(
                "texture filled (index)",
                rubber_c,
                grip.texture_fill(
                    rubber_c, general["fill_cold"], general["fill_soft_c"], general["fill_width_k"]
                ),
            ),
        ],
    )
    shift = Panel(
        "Shift by temperature",
        RUBBER,
        Axis("log10 of the shift factor", -14, 0, 2),
        [
            Line(
                f"glass at {one:g} °C".replace("-", "\N{MINUS SIGN}"), rubber_c, grip.wlf_shift(rubber_c, one)
            )
            for one in (-15.0, -30.0, -45.0)
        ],
    )
    return [parts, shift]


def scrubbing_figures() -> dict[str, str]:
    """Return how far a side opens over laps with many turns to it and with one."""
    rules, step_m = tables().condition, 4.0
    laps = np.arange(13)
    panel = Panel(
        "A new side, leaned to 30° where it is open that far",
        Axis("laps ridden", 0, 12, 2),
        Axis("open to, °", 0, 40, 10),
        [
            Line(name, laps, _opened(laps.size, metres, step_m, dict(rules)))
            for name, metres in (("ten turns of 80 m", 800.0), ("three", 240.0), ("one", 80.0))
        ],
        wide=420.0,
    )
    return {"scrubbing-laps.svg": figure("How far a new side is scrubbed, lap by lap", [panel])}


def _opened(laps: int, metres: float, step_m: float, rules: dict[str, float]) -> list[float]:
    """Scrubbed to [deg] at the start of each lap; leaning as far as it is open, at most 30 deg."""
    found = [rules["free_deg"]]
    for _ in range(laps - 1):
        leaned = np.full(round(metres / step_m), min(found[-1], 30.0))
        found.append(
            scrubbed_on(
                found[-1],
                leaned,
                step_m,
                rules["open_deg_per_m"],
                rules["rubbed_deg"],
                rules["most_deg_per_lap"],
            )
        )
    return found
