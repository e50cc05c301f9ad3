"""Draw the invented demo circuit and write it as data/example/circuit.csv.

The circuit is a chain of straights and corners. A corner is an arc of a given radius whose
curvature eases in and out linearly over a share of its length, as a road is laid out. The
straights are changed as little as closing the line and its whole length ask for. Run it from
the checkout: it rewrites the file.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

OUT = Path(__file__).resolve().parent.parent / "src/leanladder/data/example/circuit.csv"

# Straight before the corner [m], turn [deg, right negative], tightest radius [m].
CHAIN = (
    (330.0, -80.0, 42.0),
    (140.0, -36.0, 85.0),
    (130.0, -26.0, 120.0),
    (330.0, -88.0, 18.0),
    (70.0, 72.0, 30.0),
    (70.0, -58.0, 34.0),
    (150.0, -28.0, 100.0),
    (150.0, -34.0, 70.0),
    (150.0, -28.0, 95.0),
    (110.0, -24.0, 110.0),
    (90.0, -30.0, 60.0),
)
LENGTH_M = 3010.0
BEFORE_T1_M = 330.0  # of the longest straight lies after the start line; the rest before it
LONGEST_M = 560.0
EASE = 0.3  # share of a corner's length over which the curvature rises, and again falls
STEP_M = 6.0
WIDTHS_M = (5.5, 5.0)
FINE = 400  # steps a corner is integrated in


def corner_headings(turn_deg: float) -> Floats:
    """Heading [rad] gained by the middle of each fine step of one eased corner."""
    middle = (np.arange(FINE) + 0.5) / FINE
    shape = np.clip(np.minimum(middle, 1.0 - middle) / EASE, 0.0, 1.0)
    share = shape / shape.sum()
    return np.asarray(np.radians(turn_deg) * (np.cumsum(share) - share / 2.0), dtype=np.float64)


def corner_length_m(turn_deg: float, radius_m: float) -> float:
    """Length of an eased corner [m] whose tightest radius is radius_m."""
    return float(abs(np.radians(turn_deg)) * radius_m / (1.0 - EASE))


def closed_straights() -> Floats:
    """Lengths of the straights [m], nearest to the wanted ones, that close the line.

    The line starts and ends on the longest straight, which is kept at LONGEST_M in all.
    """
    wanted = np.array([straight for straight, _, _ in CHAIN] + [LONGEST_M - BEFORE_T1_M])
    turns = np.radians([turn for _, turn, _ in CHAIN])
    heading = np.concatenate([[0.0], np.cumsum(turns)])
    lengths = np.array([corner_length_m(turn, radius) for _, turn, radius in CHAIN])
    moved = np.zeros(2)
    for start, (_, turn, _), length in zip(heading, CHAIN, lengths, strict=False):
        along = start + corner_headings(turn)
        moved += np.array([np.cos(along).sum(), np.sin(along).sum()]) * length / FINE
    fixed = np.zeros(len(wanted))
    fixed[0] = fixed[-1] = 1.0e-6
    free = np.where(fixed > 0.0, fixed, 1.0)
    rows = np.array([np.cos(heading), np.sin(heading), np.ones(len(wanted))])
    short = np.array([-moved[0], -moved[1], LENGTH_M - lengths.sum()]) - rows @ wanted
    change = free * (rows.T @ np.linalg.solve(rows @ np.diag(free) @ rows.T, short))
    return np.asarray(wanted + change, dtype=np.float64)


def fine_line() -> tuple[Floats, Floats]:
    """Distances [m] and points (n, 2) [m] of the line, from the start line round to it."""
    straights = closed_straights()
    steps: list[float] = []
    headings: list[float] = []
    heading = 0.0
    for straight, (_, turn, radius) in zip(straights, CHAIN, strict=False):
        steps.append(float(straight))
        headings.append(heading)
        steps += [corner_length_m(turn, radius) / FINE] * FINE
        headings += list(heading + corner_headings(turn))
        heading += float(np.radians(turn))
    steps.append(float(straights[-1]))
    headings.append(heading)
    step = np.array(steps)
    moves = step[:, None] * np.column_stack([np.cos(headings), np.sin(headings)])
    points = np.vstack([np.zeros((1, 2)), np.cumsum(moves, axis=0)])
    return np.concatenate([[0.0], np.cumsum(step)]), points


def main() -> None:
    """Write the file."""
    distance, points = fine_line()
    n = round(float(distance[-1]) / STEP_M)
    at = np.arange(n) * distance[-1] / n
    x = np.interp(at, distance, points[:, 0])
    y = np.interp(at, distance, points[:, 1])
    rows = ["# An invented circuit, drawn by scripts/demo_circuit.py; widths to the right and left."]
    rows.append("x_m,y_m,width_right_m,width_left_m")
    rows += [f"{a:.3f},{b:.3f},{WIDTHS_M[0]:.1f},{WIDTHS_M[1]:.1f}" for a, b in zip(x, y, strict=True)]
    OUT.parent.mkdir(parents=True, exist_ok=True)
    OUT.write_text("\n".join(rows) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
