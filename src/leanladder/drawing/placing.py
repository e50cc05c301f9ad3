"""Where planks stand on a map: near their turns, over no part of the track and over no other plank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from math import cos, hypot, pi, sin

import numpy as np

from leanladder.domain.circuit import Floats
from leanladder.drawing.svg import Point

_ANGLES, _REACHES = 24, (30.0, 36.0, 44.0, 54.0, 66.0, 80.0, 96.0, 116.0)
_ROUNDS, _STARTS = 10, 5
# Which of a turn's places, the cheapest first, tells how crowded it is there.
_GOOD = 6
# What a place costs, in px of distance that one would rather go [px].
_OUTSIDE, _ON_BOX, _ON_TRACK, _LEADER_ON_TRACK, _LEADER_ON_BOX = 5000.0, 2000.0, 120.0, 9.0, 60.0


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle by its middle and size [px]."""

    x: float
    y: float
    width: float
    height: float

    def overlaps(self, other: Box, gap: float = 0.0) -> bool:
        """Whether two boxes come nearer to each other than a gap [px]."""
        return (
            abs(self.x - other.x) < (self.width + other.width) / 2 + gap
            and abs(self.y - other.y) < (self.height + other.height) / 2 + gap
        )

    def holds(self, where: Floats, gap: float = 0.0) -> Floats:
        """Which of some points (n, 2) lie in the box or nearer to it than a gap: 1.0 or 0.0 (n,)."""
        inside = (np.abs(where[:, 0] - self.x) < self.width / 2 + gap) & (
            np.abs(where[:, 1] - self.y) < self.height / 2 + gap
        )
        return inside.astype(np.float64)


@dataclass(frozen=True, slots=True)
class Ground:
    """What planks stand on: the map's size [px], the track's points (n, 2) [px], boxes already taken."""

    width: float
    height: float
    track: Floats
    taken: tuple[Box, ...] = ()


def places(anchors: Sequence[Point], size: Point, ground: Ground) -> list[Box]:
    """Return a box for each anchor, in order: near it, off the track, and apart from every other.

    Each takes the cheapest place there is, given the others, a few times over; where two are left on one
    another, anew with those first.
    """
    choices = [_choices(anchor, size) for anchor in anchors]
    fixed = [
        [_cost(box, anchor, ground) for box in boxes] for anchor, boxes in zip(anchors, choices, strict=True)
    ]
    # Those with the fewest good places choose first.
    order = sorted(range(len(anchors)), key=lambda index: -sorted(fixed[index])[_GOOD])
    for _ in range(_STARTS):
        chosen = _settled(order, anchors, choices, fixed)
        pressed = {
            one for one, other in permutations(range(len(anchors)), 2) if chosen[one].overlaps(chosen[other])
        }
        if not pressed:
            break
        # Those left without room choose first the next time.
        order = sorted(order, key=lambda index: index not in pressed)
    return [chosen[index] for index in range(len(anchors))]


def _settled(
    order: Sequence[int],
    anchors: Sequence[Point],
    choices: Sequence[Sequence[Box]],
    fixed: Sequence[Sequence[float]],
) -> dict[int, Box]:
    """Return each anchor's box by its number, once none of them would rather stand elsewhere."""
    chosen: dict[int, Box] = {}
    for _ in range(_ROUNDS):
        before = dict(chosen)
        for index in order:
            others = [(box, anchors[other]) for other, box in chosen.items() if other != index]
            chosen[index] = _cheapest(anchors[index], choices[index], fixed[index], others)
        if chosen == before:
            break
    return chosen


def _choices(anchor: Point, size: Point) -> list[Box]:
    turns = [2 * pi * index / _ANGLES for index in range(_ANGLES)]
    # A plank is wider than high: as far away to the side as above, seen from its edge.
    wider = (size[0] - size[1]) / 2
    return [
        Box(anchor[0] + (reach + wider * abs(cos(turn))) * cos(turn), anchor[1] + reach * sin(turn), *size)
        for reach in _REACHES
        for turn in turns
    ]


def _cost(box: Box, anchor: Point, ground: Ground) -> float:
    outside = max(
        box.width / 2 - box.x,
        box.x + box.width / 2 - ground.width,
        box.height / 2 - box.y,
        box.y + box.height / 2 - ground.height,
        0.0,
    )
    cost = hypot(box.x - anchor[0], box.y - anchor[1]) + (_OUTSIDE if outside > 0 else 0)
    cost += _ON_TRACK * float(box.holds(ground.track, 10.0).sum())
    cost += _ON_BOX * sum(box.overlaps(other, 3.0) for other in ground.taken)
    return cost + _LEADER_ON_TRACK * _crossed(anchor, box, ground.track)


def _crossed(anchor: Point, box: Box, track: Floats) -> float:
    """Return how many of the track's points lie on the leader, away from its own turn."""
    along = np.array([box.x - anchor[0], box.y - anchor[1]])
    length = float(np.hypot(*along))
    away = track - np.array(anchor)
    share = away @ along / length
    off = np.abs(away[:, 0] * along[1] - away[:, 1] * along[0]) / length
    return float(((share > 16) & (share < length) & (off < 6)).sum())


def _cheapest(
    anchor: Point, boxes: Sequence[Box], fixed: Sequence[float], others: Sequence[tuple[Box, Point]]
) -> Box:
    best, least = boxes[0], float("inf")
    for index in sorted(range(len(boxes)), key=fixed.__getitem__):
        if fixed[index] >= least:
            break
        cost = fixed[index] + _crowding(anchor, boxes[index], others)
        if cost < least:
            best, least = boxes[index], cost
    return best


def _crowding(anchor: Point, box: Box, others: Sequence[tuple[Box, Point]]) -> float:
    """Return what the other planks, and the leaders between, add to a place's cost."""
    over = sum(box.overlaps(other, 3.0) for other, _ in others)
    crossed = sum(_touches(anchor, box, other) + _touches(foot, other, box) for other, foot in others)
    return _ON_BOX * over + _LEADER_ON_BOX * crossed


def _touches(foot: Point, box: Box, other: Box) -> bool:
    """Return whether the leader from a foot to a box runs over another box."""
    return any(
        abs(foot[0] + (box.x - foot[0]) * share - other.x) < other.width / 2
        and abs(foot[1] + (box.y - foot[1]) * share - other.y) < other.height / 2
        for share in (0.3, 0.45, 0.6, 0.75)
    )
