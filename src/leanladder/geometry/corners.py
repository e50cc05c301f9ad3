"""The corners of a line: where they start, turn tightest and end.

A bend is a stretch that turns one way. It is a corner if it turns 20 degrees or more with a
radius under 200 m, or if it needs more than 15 degrees of lean at geometry's reference speed
(`reference_speed`). A kink needs only the lean that is left when it is ridden 4 m from the centre
line, out, in and out again, which straightens it from R to R + 4 m / (1 - cos(turn / 2)): so what
a survey errs by is no corner. Two peaks of curvature of the same side are one corner (a double
apex) unless the line opens between them: it does where, for 20 m or more, curvature stays below
a third of the lower peak. A sweep that turns 20 degrees or more with a peak under a quarter of its
neighbour's is a corner of its own, open between or not.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leanladder.geometry.line import Line
from leanladder.geometry.reference_speed import lean_deg, reference_speed

Floats = NDArray[np.float64]
Rows = NDArray[np.intp]

BEND_PER_M = 1.0 / 1500.0  # flatter than this is straight: no lean of 15 degrees at 60 m/s
CORNER_TURN_DEG = 20.0
CORNER_RADIUS_M = 200.0
CORNER_LEAN_DEG = 15.0
ROOM_M = 4.0  # to either side of the centre line: a road 12 m wide less 2 m at each edge (common practice)
OPEN_SHARE = 1.0 / 3.0
OPEN_M = 20.0
SWEEP_SHARE = 0.25
EDGE_SHARE = 1.0 / 8.0  # a corner starts and ends where curvature is an eighth of its peak
APEX_SHARE = 0.95


@dataclass(frozen=True, slots=True)
class Bend:
    """A corner found on a line.

    side "left" or "right"; start_m, apex_m, end_m [m] along the lap, end_m below start_m for one
    across the start line; radius_m [m] the tightest; turn_deg [deg], positive.
    """

    side: str
    start_m: float
    apex_m: float
    end_m: float
    radius_m: float
    turn_deg: float


@dataclass(frozen=True, slots=True)
class Piece:
    """Nodes first to last of the ring, last included and beyond n where it crosses the first node.

    sign is 1.0 for a left turn, -1.0 for a right one.
    """

    sign: float
    first: int
    last: int


def find_pieces(line: Line) -> list[Piece]:
    """Return the corners of a line as stretches of nodes, in order of their tightest point."""
    speed = reference_speed(line.curvature_per_m, line.step_m)
    parts = [part for run in _joined(line, _runs(line)) for part in _parts(line, run, speed)]
    found = [_trimmed(line, part) for part in parts]
    return in_order(line, [piece for piece in found if _is_corner(line, piece, speed)])


def in_order(line: Line, pieces: list[Piece]) -> list[Piece]:
    """Return pieces sorted by their tightest point, from the first node of the line."""
    return sorted(pieces, key=lambda piece: _apex(line, piece) % len(line.s_m))


def bend(line: Line, piece: Piece) -> Bend:
    """Return the figures of one corner."""
    curvature = _bent(line, piece)
    return Bend(
        side="left" if piece.sign > 0 else "right",
        start_m=_distance(line, piece.first),
        apex_m=_distance(line, _apex(line, piece)),
        end_m=_distance(line, piece.last),
        radius_m=float(1.0 / curvature.max()),
        turn_deg=turn_deg(line, piece),
    )


def turn_deg(line: Line, piece: Piece) -> float:
    """Return the heading a piece turns through [deg], positive to its own side."""
    n = len(line.s_m)
    laps_first, first = divmod(piece.first, n)
    laps_last, last = divmod(piece.last, n)
    gained = line.turned_rad[last] - line.turned_rad[first]
    gained += (laps_last - laps_first) * line.whole_turn_rad
    return float(np.degrees(piece.sign * gained))


def apex_m(line: Line, piece: Piece) -> float:
    """Return the distance [m] of a piece's tightest point."""
    return _distance(line, _apex(line, piece))


def merged(line: Line, pieces: list[Piece], from_m: float) -> Piece:
    """Return one piece that spans pieces of one side, taken in order from from_m [m] on."""
    n = len(line.s_m)
    from_node = from_m / line.step_m
    ordered = sorted(pieces, key=lambda piece: (_apex(line, piece) - from_node) % n)
    first, last = ordered[0], ordered[-1]
    return Piece(first.sign, first.first, first.first + (last.last - first.first) % n)


def can_split(line: Line, piece: Piece, at_m: float) -> bool:
    """Return whether a distance [m] lies within a piece with a node to spare on either side."""
    into = (round(at_m / line.step_m) - piece.first) % len(line.s_m)
    return 0 < into < piece.last - piece.first


def split(line: Line, piece: Piece, at_m: float) -> list[Piece]:
    """Return the two parts of a piece before and after a distance [m] within it."""
    middle = piece.first + (round(at_m / line.step_m) - piece.first) % len(line.s_m)
    return [Piece(piece.sign, piece.first, middle), Piece(piece.sign, middle, piece.last)]


def _distance(line: Line, node: float) -> float:
    """Return the distance along the lap [m] of a node of the ring, halves allowed."""
    return float(node % len(line.s_m) * line.step_m)


def _nodes(line: Line, piece: Piece) -> Rows:
    """Return the rows of the piece's nodes."""
    return np.arange(piece.first, piece.last + 1) % len(line.s_m)


def _bent(line: Line, piece: Piece) -> Floats:
    """Return the curvature along a piece [1/m], positive to its own side."""
    return piece.sign * line.curvature_per_m[_nodes(line, piece)]


def _apex(line: Line, piece: Piece) -> float:
    """Return the middle node of the part round the peak whose curvature is within 5 % of it."""
    curvature = _bent(line, piece)
    peak = int(np.argmax(curvature))
    low = np.flatnonzero(curvature < APEX_SHARE * curvature[peak])
    before, after = low[low < peak], low[low > peak]
    first = int(before[-1]) + 1 if before.size else 0
    last = int(after[0]) - 1 if after.size else len(curvature) - 1
    return piece.first + (first + last) / 2.0


def _runs(line: Line) -> list[Piece]:
    """Return the stretches that turn one way and are no straight; one across node 0 ends beyond n."""
    n = len(line.s_m)
    way = np.where(np.abs(line.curvature_per_m) > BEND_PER_M, np.sign(line.curvature_per_m), 0.0)
    changes = np.flatnonzero(way != np.roll(way, 1))
    if changes.size == 0:
        return [Piece(float(way[0]), 0, n - 1)] if way[0] else []
    ends = np.append(changes[1:], changes[0] + n) - 1
    return [
        Piece(float(way[first]), int(first), int(last))
        for first, last in zip(changes, ends, strict=True)
        if way[first]
    ]


def _joined(line: Line, runs: list[Piece]) -> list[Piece]:
    """Return runs, with those of one side joined where less than OPEN_M of straight lies between them."""
    n = len(line.s_m)
    joined: list[Piece] = []
    for run in runs:
        if joined and _follows(line, joined[-1], run):
            joined[-1] = Piece(run.sign, joined[-1].first, run.last)
        else:
            joined.append(run)
    if len(joined) > 1:
        ahead = Piece(joined[0].sign, joined[0].first + n, joined[0].last + n)
        if _follows(line, joined[-1], ahead):
            joined = [*joined[1:-1], Piece(ahead.sign, joined[-1].first, ahead.last)]
    return joined


def _follows(line: Line, before: Piece, after: Piece) -> bool:
    """Return whether a run goes on with the one before it: the same side, hardly any straight between."""
    return before.sign == after.sign and (after.first - before.last) * line.step_m < OPEN_M


def _parts(line: Line, run: Piece, speed_mps: Floats) -> list[Piece]:
    """Return a run cut where the line opens; other peaks are joined, the shallowest valley first."""
    parts = _single_peaks(line, run)
    while len(parts) > 1:
        pairs = [(a, b) for a, b in itertools.pairwise(parts) if _is_one(line, a, b, speed_mps)]
        if not pairs:
            break
        before, after = max(pairs, key=lambda pair: _valley(line, *pair))
        at = parts.index(before)
        parts[at : at + 2] = [Piece(run.sign, before.first, after.last)]
    return parts


def _single_peaks(line: Line, run: Piece) -> list[Piece]:
    """Return a run cut at each minimum of its curvature."""
    curvature = _bent(line, run)
    inner = curvature[1:-1]
    lowest = np.flatnonzero((inner < curvature[:-2]) & (inner <= curvature[2:])) + 1
    cuts = [run.first + int(node) for node in lowest]
    return [
        Piece(run.sign, first, last)
        for first, last in zip([run.first, *cuts], [*cuts, run.last], strict=True)
    ]


def _valley(line: Line, before: Piece, after: Piece) -> float:
    """Return the lowest curvature between two neighbouring parts as a share of the lower peak."""
    lower = min(_bent(line, before).max(), _bent(line, after).max())
    return float(line.curvature_per_m[before.last % len(line.s_m)] * before.sign / lower)


def _is_one(line: Line, before: Piece, after: Piece, speed_mps: Floats) -> bool:
    """Return whether two neighbouring parts are one corner."""
    one, other = _bent(line, before), _bent(line, after)
    lower, higher = sorted((float(one.max()), float(other.max())))
    between = np.concatenate([one[int(np.argmax(one)) :], other[1 : int(np.argmax(other)) + 1]])
    if _longest_run(between < OPEN_SHARE * lower) * line.step_m >= OPEN_M:
        return False
    weaker = before if one.max() < other.max() else after
    sweep = turn_deg(line, weaker) >= CORNER_TURN_DEG and _is_corner(line, weaker, speed_mps)
    return not (sweep and lower < SWEEP_SHARE * higher)


def _longest_run(true: NDArray[np.bool_]) -> int:
    """Return the length of the longest run of True."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], true, [False]])))
    return int((edges[1::2] - edges[0::2]).max()) if edges.size else 0


def _trimmed(line: Line, piece: Piece) -> Piece:
    """Return a piece from where its curvature first reaches EDGE_SHARE of its peak to where it last does."""
    curvature = _bent(line, piece)
    inside = np.flatnonzero(curvature >= max(BEND_PER_M, EDGE_SHARE * float(curvature.max())))
    return Piece(piece.sign, piece.first + int(inside[0]), piece.first + int(inside[-1]))


def _is_corner(line: Line, piece: Piece, speed_mps: Floats) -> bool:
    """Return whether a piece meets the rule: turn and radius, or lean at the reference speed."""
    turned = turn_deg(line, piece)
    curvature = _bent(line, piece)
    tightest = int(np.argmax(curvature))
    radius = 1.0 / float(curvature[tightest])
    if turned >= CORNER_TURN_DEG and radius < CORNER_RADIUS_M:
        return True
    if turned <= 0.0:
        return False
    speed = float(speed_mps[_nodes(line, piece)[tightest]])
    return lean_deg(speed, straightened_m(radius, turned)) > CORNER_LEAN_DEG


def straightened_m(radius_m: float, turned_deg: float) -> float:
    """Return the radius [m] of the widest arc through a bend, ROOM_M to either side of its centre line."""
    half_turn = min(np.radians(turned_deg) / 2.0, np.pi)
    return float(radius_m + ROOM_M / max(1.0 - np.cos(half_turn), 1.0e-9))
