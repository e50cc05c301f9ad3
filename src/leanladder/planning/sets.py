"""The evening's sets, one for each end of the air's band: no colder one allows more than a milder one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from leanladder import catalogue
from leanladder.domain.day import BandEnd, DayLadder, SetName
from leanladder.domain.ladder import Ladder, Lap, Rung

# The sets from the coldest to the mildest, and the end of the air's band that each is made for.
SETS: Mapping[SetName, BandEnd] = {"a": "cold", "b": "likely", "c": "mild"}


def at_most(sets: Sequence[Sequence[DayLadder]]) -> tuple[tuple[DayLadder, ...], ...]:
    """Return the plans of some sets, the coldest first, no cap above that of any milder set.

    A set is handed out from what it needs up to what the next one needs. Where heat takes grip away the cap
    may lie lower at that warmer end, so the lower of the two counts (decision 0017). Riders are found again
    by session and name. Nothing is raised; a plan without milder ones is returned as it is.
    """
    held: list[tuple[DayLadder, ...]] = []
    for entries in reversed(sets):
        held.insert(0, tuple(_held(entry, held[0]) if held else entry for entry in entries))
    return tuple(held)


def _held(entry: DayLadder, milder: Sequence[DayLadder]) -> DayLadder:
    ladder = entry.ladder
    for other in milder:
        same = other.session.name == entry.session.name and set(other.riders) & set(entry.riders)
        if ladder is not None and same and other.ladder is not None:
            ladder = _lower(ladder, other.ladder)
    return entry if ladder is entry.ladder else replace(entry, ladder=ladder)


def _lower(ladder: Ladder, milder: Ladder) -> Ladder:
    """A ladder with no cap above a milder one's; beyond that one's laps its last counts on."""
    laps = tuple(
        _lower_lap(lap, milder.laps[min(at, len(milder.laps) - 1)]) for at, lap in enumerate(ladder.laps)
    )
    return ladder if laps == ladder.laps else replace(ladder, laps=laps)


def _lower_lap(lap: Lap, milder: Lap) -> Lap:
    rungs = tuple(_lower_rungs(lap, milder))
    if rungs == lap.rungs:
        return lap
    least = min(rungs, key=lambda rung: (rung.margin_deg, rung.physics_bike_deg, rung.number))
    return replace(lap, rungs=rungs, least_margin=least.number)


def _lower_rungs(lap: Lap, milder: Lap) -> Iterator[Rung]:
    others = {rung.number: rung for rung in milder.rungs}
    for rung in lap.rungs:
        other = others.get(rung.number)
        held = other is not None and other.cap_bike_deg < rung.cap_bike_deg
        yield _lower_rung(rung, other) if held and other is not None else rung


def _lower_rung(rung: Rung, milder: Rung) -> Rung:
    """A rung with a milder one's cap and why; its temperatures and card stay its own."""
    lean_deg = min(rung.plan_lean_deg, milder.cap_lean_deg)
    slower = 1.0
    if lean_deg < rung.plan_lean_deg:
        # On the same radius the speed squared goes with the tangent of the lean.
        slower = math.sqrt(math.tan(math.radians(lean_deg)) / math.tan(math.radians(rung.plan_lean_deg)))
    reached_deg = catalogue.parameters("planning.margin")["reached_deg"].value
    reached = milder.cap_lean_deg - lean_deg <= reached_deg
    return replace(
        rung,
        cap_lean_deg=milder.cap_lean_deg,
        cap_bike_deg=milder.cap_bike_deg,
        physics_bike_deg=min(rung.physics_bike_deg, milder.physics_bike_deg),
        plan_lean_deg=lean_deg,
        plan_bike_deg=min(rung.plan_bike_deg, milder.cap_bike_deg),
        cap_reached=reached,
        speed_kmh=rung.speed_kmh * slower,
        limited_by=milder.limited_by,
        plan_limited_by=milder.limited_by if reached else rung.plan_limited_by,
        reason=milder.reason,
        grip=milder.grip,
        margin_deg=rung.margin_deg - (rung.cap_bike_deg - milder.cap_bike_deg),
    )
