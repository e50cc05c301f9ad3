"""Figures of docs/evidence/finer-model.md: three panels, a depth each, a line a third of the crown."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from tests.finer.compare import Lapped, thirds

Floats = NDArray[np.float64]

WIDTH, HEIGHT, GAP, LEFT, TOP = 300, 180, 46, 40, 22
INKS = {"left": "#2b5c8a", "centre": "#222222", "right": "#a8581a"}
DEPTHS = ("skin, outer 0.3 mm", "tread, outer 2 mm", "carcass")
MOST_POINTS = 160


def laps_drawn(laps: list[Lapped]) -> str:
    """Return a session: every arrival of every lap."""
    minutes = np.concatenate([lap.minute + lap.times_s[lap.arrivals] / 60.0 for lap in laps])
    ours = np.concatenate([thirds(lap.ours[lap.arrivals]) for lap in laps])
    finer = np.concatenate([thirds(lap.finer[lap.arrivals]) for lap in laps])
    return drawn(minutes, ours, finer, "minutes since rolling, on arrival at each corner")


def lap_drawn(lap: Lapped) -> str:
    """Return a lap, step by step."""
    kept = np.unique(np.linspace(0, lap.times_s.size - 1, MOST_POINTS).astype(int))
    return drawn(
        lap.times_s[kept], thirds(lap.ours[kept]), thirds(lap.finer[kept]), "seconds of the first lap"
    )


def drawn(along: Floats, ours: Floats, finer: Floats, under: str) -> str:
    """Return the panels of (n, 3, 3) readings over along (n,)."""
    low = np.floor(min(ours.min(), finer.min()) / 10.0) * 10.0
    high = np.ceil(max(ours.max(), finer.max()) / 10.0) * 10.0
    wide, tall = LEFT + 3 * (WIDTH + GAP), TOP + HEIGHT + 44
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {tall}" font-family="sans-serif"',
        ' font-size="11"><rect width="100%" height="100%" fill="#fff"/>',
    ]
    for depth, title in enumerate(DEPTHS):
        x0 = LEFT + depth * (WIDTH + GAP)
        x = x0 + (along - along[0]) / (along[-1] - along[0]) * WIDTH
        parts += _frame(x0, title, low, high)
        for third, (name, ink) in enumerate(INKS.items()):
            for values, dash in ((ours, ""), (finer, ' stroke-dasharray="3 3"')):
                y = TOP + HEIGHT * (high - values[:, depth, third]) / (high - low)
                points = " ".join(f"{a:.1f},{b:.1f}" for a, b in zip(x, y, strict=True))
                parts.append(
                    f'<polyline points="{points}" fill="none" stroke="{ink}" stroke-width="1.2"{dash}/>'
                )
            parts.append(
                f'<text x="{x0 + 6 + 50 * third}" y="{TOP + HEIGHT + 16}" fill="{ink}">{name}</text>'
            )
    parts.append(
        f'<text x="{LEFT}" y="{tall - 8}">{under}, {along[0]:.0f} to {along[-1]:.0f}; degC upwards</text>'
    )
    return "".join([*parts, "</svg>\n"])


def _frame(x0: float, title: str, low: float, high: float) -> list[str]:
    parts = [f'<text x="{x0}" y="{TOP - 8}" font-weight="bold">{title}</text>']
    for value in np.arange(low, high + 1.0, 10.0):
        y = TOP + HEIGHT * (high - value) / (high - low)
        parts.append(f'<path d="M{x0} {y:.1f}h{WIDTH}" stroke="#ddd"/>')
        parts.append(f'<text x="{x0 - 5}" y="{y + 4:.1f}" text-anchor="end">{value:g}</text>')
    return parts
