"""All ways brought to one mean speed: that of the slowest."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from scipy.optimize import brentq

from leanladder import wording
from leanladder.domain.errors import Fault, OutsideModelError
from leanladder.domain.way import WayName
from leanladder.planning.ways import motions
from leanladder.planning.ways.base import Base
from leanladder.planning.ways.motions import Ridden, seconds

CLOSE_MPS = 0.001  # of the speed that sets a way's pace; leaves mean speeds within a thousandth

Laps = list[Ridden]
Rode = Callable[[Base, float], Laps]


RIDDEN: Mapping[WayName, Rode] = {
    "growing_lean": motions.growing_lean,
    "upright": motions.upright,
    "steady": motions.steady,
    "weaving": motions.weaving,
    "slow_straights": motions.slow_straights,
}
NAMES = tuple(RIDDEN)


class Paced(NamedTuple):
    """Every way's laps at one mean speed [m/s], the way whose own pace it is, the ladder's own laps."""

    laps: Mapping[WayName, Laps]
    speed_mps: float
    by: WayName
    growing_own: Laps


def paced(made: Base) -> Paced:
    """Return every way's laps at the pace of the slowest; raises OutsideModelError where one cannot be."""
    own = {name: RIDDEN[name](made, _fastest(made, name)) for name in NAMES}
    slowest = max(NAMES, key=lambda name: seconds(own[name]))
    time_s = seconds(own[slowest])
    laps = {name: _slowed(made, name, own[name], time_s) for name in NAMES}
    return Paced(laps, distance_m(made) / time_s, slowest, own["growing_lean"])


def distance_m(made: Base) -> float:
    """Return how far all the laps go [m]."""
    return float(sum(way.lap_steps * way.step_m for way in made.laps))


def _fastest(made: Base, name: WayName) -> float:
    """The speed [m/s] that sets a way's pace, at its own."""
    level_mps = made.place.session.level.straight_mps.value
    return min(made.ways["steady_mps"], level_mps) if name in {"steady", "weaving"} else level_mps


def _slowed(made: Base, name: WayName, own: Laps, time_s: float) -> Laps:
    """A way's laps, brought to take time_s [s]; own are those at its own pace."""
    if seconds(own) >= time_s:
        return own
    lowest, highest = made.ways["slowest_mps"], _fastest(made, name)
    if name == "upright":
        lowest += made.ways["swing_mps"]
    ridden = {highest: own}

    def late_s(speed_mps: float) -> float:
        if speed_mps not in ridden:
            ridden[speed_mps] = RIDDEN[name](made, speed_mps)
        return seconds(ridden[speed_mps]) - time_s

    if late_s(lowest) < 0.0:
        raise _no_one_pace()
    brentq(late_s, lowest, highest, xtol=CLOSE_MPS)
    return ridden[min(ridden, key=lambda speed_mps: abs(late_s(speed_mps)))]


def _no_one_pace() -> OutsideModelError:
    code = "ways.no_one_pace"
    return OutsideModelError(code, wording.text(code), Fault(remedy=wording.text("ways.no_one_pace_remedy")))
