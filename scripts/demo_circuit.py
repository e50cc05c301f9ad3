"""Draw the invented circuits of the example days and write them beside those days' files.

A circuit is a chain of straights and corners. A corner is an arc of a given radius whose
curvature eases in and out linearly over a share of its length, as a road is laid out. The
straights are changed as little as closing the line and its whole length ask for. Run it from
the checkout: it rewrites the files.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

DATA = Path(__file__).resolve().parent.parent / "src/leanladder/data"
DRAWN = "An invented circuit, drawn by scripts/demo_circuit.py"
EASE = 0.3  # share of a corner's length over which the curvature rises, and again falls
FINE = 400  # steps a corner is integrated in
METRES_PER_DEG = 111_195.0  # of latitude, on a globe of 6371 km


@dataclass(frozen=True)
class Drawing:
    """A circuit to draw, of length_m [m], a point every step_m [m].

    chain: straight before the corner [m], turn [deg, right negative], tightest radius [m]. The longest
    straight, longest_m [m] in all, holds the start line; before_t1_m [m] of it lies behind the line.
    place: latitude and longitude [deg] of the first point, for files in degrees.
    """

    file: str
    chain: tuple[tuple[float, float, float], ...]
    length_m: float
    longest_m: float
    before_t1_m: float
    step_m: float
    widths_m: tuple[float, float] = (5.5, 5.0)
    place: tuple[float, float] = (0.0, 0.0)


ROAD = Drawing(
    "example/circuit.csv",
    (
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
    ),
    length_m=3010.0,
    longest_m=560.0,
    before_t1_m=330.0,
    step_m=6.0,
)
KART = Drawing(
    "example-kart/circuit.csv",
    (
        (75.0, -70.0, 37.0),
        (103.0, -120.0, 29.0),
        (67.0, 50.0, 44.0),
        (58.0, -100.0, 29.0),
        (44.0, 55.0, 38.0),
        (48.0, -120.0, 28.0),
        (72.0, -55.0, 28.0),
    ),
    length_m=1000.0,
    longest_m=180.0,
    before_t1_m=75.0,
    step_m=2.5,
    widths_m=(4.0, 4.0),
)
MINI = Drawing(
    "example-mini/circuit.geojson",
    (
        (35.0, -60.0, 11.0),
        (43.0, -105.0, 9.0),
        (16.0, 60.0, 9.0),
        (38.0, -145.0, 10.0),
        (32.0, 60.0, 10.0),
        (23.0, -100.0, 12.0),
        (35.0, -70.0, 12.0),
    ),
    length_m=460.0,
    longest_m=75.0,
    before_t1_m=35.0,
    step_m=2.0,
    place=(54.3, -2.1),
)
CRUISER = Drawing(
    "example-cruiser/circuit.gpx",
    (
        (260.0, -70.0, 60.0),
        (160.0, -60.0, 45.0),
        (150.0, 65.0, 55.0),
        (170.0, -95.0, 40.0),
        (150.0, -75.0, 70.0),
        (150.0, 55.0, 60.0),
        (160.0, -90.0, 50.0),
        (160.0, -90.0, 65.0),
    ),
    length_m=2300.0,
    longest_m=420.0,
    before_t1_m=230.0,
    step_m=6.0,
    place=(51.6, -2.9),
)


def corner_headings(turn_deg: float) -> Floats:
    """Heading [rad] gained by the middle of each fine step of one eased corner."""
    middle = (np.arange(FINE) + 0.5) / FINE
    shape = np.clip(np.minimum(middle, 1.0 - middle) / EASE, 0.0, 1.0)
    share = shape / shape.sum()
    return np.asarray(np.radians(turn_deg) * (np.cumsum(share) - share / 2.0), dtype=np.float64)


def corner_length_m(turn_deg: float, radius_m: float) -> float:
    """Length of an eased corner [m] whose tightest radius is radius_m."""
    return float(abs(np.radians(turn_deg)) * radius_m / (1.0 - EASE))


def closed_straights(of: Drawing) -> Floats:
    """Lengths of the straights [m], nearest to the wanted ones, that close the line.

    The line starts and ends on the longest straight, which is kept at its length in all.
    """
    wanted = np.array([straight for straight, _, _ in of.chain] + [of.longest_m - of.before_t1_m])
    turns = np.radians([turn for _, turn, _ in of.chain])
    heading = np.concatenate([[0.0], np.cumsum(turns)])
    lengths = np.array([corner_length_m(turn, radius) for _, turn, radius in of.chain])
    moved = np.zeros(2)
    for start, (_, turn, _), length in zip(heading, of.chain, lengths, strict=False):
        along = start + corner_headings(turn)
        moved += np.array([np.cos(along).sum(), np.sin(along).sum()]) * length / FINE
    fixed = np.zeros(len(wanted))
    fixed[0] = fixed[-1] = 1.0e-6
    free = np.where(fixed > 0.0, fixed, 1.0)
    rows = np.array([np.cos(heading), np.sin(heading), np.ones(len(wanted))])
    short = np.array([-moved[0], -moved[1], of.length_m - lengths.sum()]) - rows @ wanted
    change = free * (rows.T @ np.linalg.solve(rows @ np.diag(free) @ rows.T, short))
    return np.asarray(wanted + change, dtype=np.float64)


def fine_line(of: Drawing) -> tuple[Floats, Floats]:
    """Distances [m] and points (n, 2) [m] of the line, from the start line round to it."""
    straights = closed_straights(of)
    steps: list[float] = []
    headings: list[float] = []
    heading = 0.0
    for straight, (_, turn, radius) in zip(straights, of.chain, strict=False):
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


def even_points(of: Drawing) -> Floats:
    """Points (n, 2) [m] about step_m apart, the first not repeated."""
    distance, points = fine_line(of)
    n = round(float(distance[-1]) / of.step_m)
    at = np.arange(n) * distance[-1] / n
    return np.column_stack([np.interp(at, distance, points[:, axis]) for axis in (0, 1)])


def degrees(of: Drawing, points: Floats) -> Floats:
    """Latitudes and longitudes (n, 2) [deg] of points [m], on a globe: near enough for a drawing."""
    latitude = of.place[0] + points[:, 1] / METRES_PER_DEG
    longitude = of.place[1] + points[:, 0] / (METRES_PER_DEG * np.cos(np.radians(of.place[0])))
    return np.column_stack([latitude, longitude])


def as_csv(of: Drawing) -> str:
    """The line as a table in metres, with the widths to the right and left."""
    rows = [f"# {DRAWN}; widths to the right and left.", "x_m,y_m,width_right_m,width_left_m"]
    right, left = of.widths_m
    rows += [f"{x:.3f},{y:.3f},{right:.1f},{left:.1f}" for x, y in even_points(of)]
    return "\n".join(rows) + "\n"


def as_geojson(of: Drawing) -> str:
    """The line as one closed GeoJSON LineString."""
    line = [[round(lon, 7), round(lat, 7)] for lat, lon in degrees(of, even_points(of)).tolist()]
    told = {"name": "Circuit", "source": f"{DRAWN}."}
    feature = {
        "type": "Feature",
        "properties": told,
        "geometry": {"type": "LineString", "coordinates": [*line, line[0]]},
    }
    return json.dumps(feature).replace("], [", "],\n[") + "\n"


def as_gpx(of: Drawing) -> str:
    """The line as one GPX track of a lap."""
    found = degrees(of, even_points(of)).tolist()
    points = "\n".join(f'<trkpt lat="{lat:.7f}" lon="{lon:.7f}"/>' for lat, lon in [*found, found[0]])
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f"<!-- {DRAWN}. -->\n"
        '<gpx version="1.1" creator="leanladder" xmlns="http://www.topografix.com/GPX/1/1">\n'
        f"<trk><trkseg>\n{points}\n</trkseg></trk>\n</gpx>\n"
    )


WRITERS: dict[str, Callable[[Drawing], str]] = {".csv": as_csv, ".geojson": as_geojson, ".gpx": as_gpx}


def main() -> None:
    """Write the files."""
    for drawing in (ROAD, KART, MINI, CRUISER):
        out = DATA / drawing.file
        out.parent.mkdir(parents=True, exist_ok=True)
        out.write_text(WRITERS[out.suffix](drawing), encoding="utf-8")


if __name__ == "__main__":
    main()
