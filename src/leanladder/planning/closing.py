"""How fast two combinations of a session close up on each other, and when one reaches the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import NamedTuple

from leanladder.domain.day import DayLadder
from leanladder.domain.field import Closing, Difference
from leanladder.domain.ladder import Ladder, Lap, Rung


class Out(NamedTuple):
    """A combination that goes out, with its ladder."""

    entry: DayLadder
    ladder: Ladder

    @property
    def machines(self) -> tuple[str, ...]:
        """Return its machines by name."""
        return self.entry.machines


def clock_s(ladder: Ladder) -> tuple[float, ...]:
    """Return the time [s] since rolling at the start of lap 1 and at the end of each lap."""
    return tuple(accumulate((lap.time_s for lap in ladder.laps), initial=0.0))


def closings(outs: Sequence[Out], laps: int) -> tuple[Closing, ...]:
    """Return the closing speed at each turn of the first laps, between the most and the least speed."""
    return tuple(_closings(outs, laps))


def _closings(outs: Sequence[Out], laps: int) -> Iterator[Closing]:
    for on_lap in zip(*(out.ladder.laps[:laps] for out in outs), strict=False):
        for rungs in _at_turns(on_lap):
            speeds = [rung.speed_kmh for rung in rungs]
            most, least = max(speeds), min(speeds)
            faster, slower = outs[speeds.index(most)].machines, outs[speeds.index(least)].machines
            yield Closing(on_lap[0].lap, rungs[0].number, most - least, faster, slower)


def _at_turns(laps: Sequence[Lap]) -> Iterator[tuple[Rung, ...]]:
    """The rungs of some ladders' same lap, turn by turn; a turn that one of them lacks is left out."""
    found = [{rung.number: rung for rung in lap.rungs} for lap in laps]
    for number in found[0]:
        if all(number in rungs for rungs in found):
            yield tuple(rungs[number] for rungs in found)


def most_closing_kmh(one: Out, other: Out, laps: int) -> float:
    """Return the most closing speed [km/h] between two combinations on the first laps, never below 0."""
    return max((closing.closing_kmh for closing in closings((one, other), laps)), default=0.0)


def gained_share(one: Out, other: Out, laps: int) -> float:
    """Return the most that either gains on the other in one of the first laps, as a share of that lap [-]."""
    pairs = zip(one.ladder.laps[:laps], other.ladder.laps[:laps], strict=False)
    return max((abs(a.time_s - b.time_s) / max(a.time_s, b.time_s) for a, b in pairs), default=0.0)


def is_cold_beside_warmers(one: Out, other: Out, gap_k: float) -> bool:
    """Return whether one starts on warmers and the other on cold tyres.

    Tyres that stood since a session count as cold where on lap 1 their shoulders arrive by gap_k [K] colder.
    """
    warm, cold = sorted((one, other), key=lambda out: _kind(out) != "warmers")
    if _kind(warm) != "warmers" or _kind(cold) == "warmers":
        return False
    return _kind(cold) == "cold" or _shoulders_c(warm) - _shoulders_c(cold) >= gap_k


def _kind(out: Out) -> str:
    return out.ladder.session.start.kind


def _shoulders_c(out: Out) -> float:
    """The colder tyre's shoulder on arrival, mean over the turns of lap 1 [degC]."""
    rungs = out.ladder.laps[0].rungs
    read = [min(float(getattr(tyre, f"{rung.side}_c")) for tyre in (rung.front, rung.rear)) for rung in rungs]
    return sum(read) / max(len(read), 1)


def differences(one: Out, other: Out) -> tuple[Difference, ...]:
    """Return in what two combinations differ."""
    return tuple(_differences(one, other))


def _differences(one: Out, other: Out) -> Iterator[Difference]:
    a, b = one.ladder.session, other.ladder.session
    if a.start != b.start:
        yield "start"
    if (a.front, a.rear, a.front_state, a.rear_state) != (b.front, b.rear, b.front_state, b.rear_state):
        yield "tyres"
    if (one.entry.level, a.coach_pace) != (other.entry.level, b.coach_pace):
        yield "level"
    if a.motorcycle != b.motorcycle:
        yield "machine"
    if a.cold_pressure != b.cold_pressure:
        yield "pressures"


def reach_lap(ahead: Sequence[float], behind: Sequence[float], gap_s: float) -> int | None:
    """Return the lap on which the one behind reaches the one ahead, None where not in the laps of both.

    ahead, behind: their times since rolling [s] as `clock_s` returns; gap_s [s], how much later behind rolls.
    """
    both = zip(ahead[1:], behind[1:], strict=False)
    return next((lap for lap, (a, b) in enumerate(both, 1) if gap_s + b <= a), None)


def round_lap(ahead: Sequence[float], behind: Sequence[float], gap_s: float) -> int | None:
    """Return the lap on which the one ahead comes round to the one behind: a whole lap gained; or None.

    As `reach_lap`; the lap is counted by the one behind, who is reached on it.
    """
    both = zip(ahead[2:], behind[1:], strict=False)
    return next((lap for lap, (a, b) in enumerate(both, 1) if a <= gap_s + b), None)
