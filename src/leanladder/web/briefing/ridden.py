"""What no ladder keeps, ridden again for the briefing room: heat by its ways in and out, and stops.

These laps hold a fixed share of the grip back in place of counted odds, as columns after a stop on paper do:
they show heat and how limits fall, and are never handed out as limits.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Ladder
from leanladder.domain.session import Session
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import FLOW_COUNT, FLOWS, FLOWS_IN
from leanladder.planning import starts
from leanladder.planning.laps import Step, ride, started
from leanladder.planning.riding import Wheels
from leanladder.planning.setting import Setting, setting
from leanladder.planning.tables import shipped_tables
from leanladder.planning.why.changes import opened
from leanladder.planning.why.reading import stored_j
from leanladder.web.briefing.figures import out, warned

# Of a lap ridden from line to line where the run has one.
HEAT_LAP = 2
STOPS_MIN = (5, 10, 15)

Loss = Literal["road", "air", "sky"]
# The kernel's ways out, by where the heat goes.
LOSSES: Mapping[str, Loss] = {
    "road": "road",
    "tread_air": "air",
    "wall_air": "air",
    "rim_air": "air",
    "tread_radiation": "sky",
}


@dataclass(frozen=True, slots=True)
class LapHeat:
    """Heat of both tyres on a lap [J] by name: what comes in, what goes out, and what stays in them.

    Less than nothing of a loss comes in, of what stays is given off.
    """

    lap: int
    in_j: Mapping[str, float]
    out_j: Mapping[str, float]
    stored_j: float

    @property
    def most_in(self) -> str:
        """The name of the greatest way in."""
        return max(self.in_j, key=lambda name: self.in_j[name])

    @property
    def most_out(self) -> str:
        """The name of the greatest way out."""
        return max(self.out_j, key=lambda name: self.out_j[name])

    def share_in(self, name: str) -> float:
        """Return what part of the heat that comes in comes by one way [0..1]."""
        taken_j = sum(self.in_j.values())
        return self.in_j[name] / taken_j if taken_j > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class Fallen:
    """What a stop of minutes [min] costs, of a run's combinations the one it costs most.

    as_lap: the latest lap none of whose caps stands above what the tyres then allow, 0 where that is not
    even the first; most_deg and mean_deg [deg, bike lean]: how far caps fall from the run's last lap to the
    first lap after the stop, over its turns; number: the turn that falls most.
    """

    minutes: int
    in_sun: bool
    as_lap: int
    most_deg: float
    mean_deg: float
    number: int


@dataclass(frozen=True, slots=True)
class Stops:
    """What stops cost after the run's last lap, which is lap; of several combinations the shortest run's.

    shade, sun: of the combinations that warm as they ride; sun is empty where none is known. cooling: whether
    some start warmer than riding keeps them, or all do: then no lap compares, and the falls are theirs.
    """

    lap: int
    shade: tuple[Fallen, ...]
    sun: tuple[Fallen, ...]
    cooling: Literal["none", "some", "all"]


def lap_heat(entries: Sequence[DayLadder]) -> LapHeat:
    """Return the heat of a lap of a run's most careful combination; one must have a ladder."""
    _, ladder = out(entries)[0]
    place = setting(ladder.session, shipped_tables())
    before = start = started(place)
    steps = list[Step]()
    for step in ride(place, start, min(HEAT_LAP, len(ladder.laps))):
        before = steps[-1].ridden.heated.end if steps else start
        steps.append(step)
    heated = steps[-1].ridden.heated
    flowed = dict(zip(FLOWS, np.sum(heated.heat_j, axis=0).reshape(FLOW_COUNT).tolist(), strict=True))
    lost: dict[str, float] = dict.fromkeys(LOSSES.values(), 0.0)
    for name, where in LOSSES.items():
        lost[where] += flowed[name]
    return LapHeat(
        lap=len(steps),
        in_j={name: flowed[name] for name in FLOWS[:FLOWS_IN]},
        out_j=lost,
        stored_j=_stored_j(place, before, heated.end),
    )


def _stored_j(place: Setting, before: Wheels, after: Wheels) -> float:
    bodies = (place.front.body, place.rear.body)
    return sum(sum(stored_j(*each).values()) for each in zip(before, after, bodies, strict=True))


def stops(entries: Sequence[DayLadder]) -> Stops:
    """Return what stops after a run's last lap cost its combinations; one must have a ladder."""
    ladders = [ladder for _, ladder in out(entries)]
    warming = [ladder for ladder in ladders if not warned(ladder, "limits_fall")]
    found = [_Stopping(ladder) for ladder in warming or ladders]
    lit = all(each.place.session.road.sun_w_m2 > 0.0 for each in found)
    return Stops(
        lap=min(len(each.laps) for each in found),
        shade=tuple(_worst(found, minutes, in_sun=False) for minutes in STOPS_MIN),
        sun=tuple(_worst(found, minutes, in_sun=True) for minutes in STOPS_MIN) if lit else (),
        cooling="none" if len(warming) == len(ladders) else "some" if warming else "all",
    )


def _worst(found: Sequence[_Stopping], minutes: int, *, in_sun: bool) -> Fallen:
    """Of all combinations the earliest lap, and of those the greatest fall."""
    fallen = [each.after(minutes, in_sun=in_sun) for each in found]
    return min(fallen, key=lambda each: (each.as_lap, -each.most_deg))


class _Stopping:
    """A combination's run, ridden to its end, and what its tyres allow after standing there."""

    def __init__(self, ladder: Ladder) -> None:
        tables = shipped_tables()
        self.place = setting(ladder.session, tables)
        ridden = list(ride(self.place, started(self.place), len(ladder.laps)))
        self.laps = [_caps(step) for step in ridden]
        self.end: Wheels = ridden[-1].ridden.heated.end
        # the run has scrubbed the tyres; a stop takes only their heat
        self.again = setting(_scrubbed(ladder.session, ridden[-1]), tables)

    def after(self, minutes: int, *, in_sun: bool) -> Fallen:
        """Return what a stop costs."""
        tyres = zip(self.end, (self.place.front, self.place.rear), strict=True)
        stood = [
            starts.stood(state, tyre, self.place, float(minutes), in_sun=in_sun) for state, tyre in tyres
        ]
        now = _caps(next(ride(self.again, Wheels(*stood), 1)))
        fell = self.laps[-1] - now
        most = int(np.nanargmax(fell))
        number = self.place.session.circuit.corners[most].number
        mean_deg = float(np.nanmean(fell))
        return Fallen(minutes, in_sun, self._as_lap(now), float(fell[most]), mean_deg, number)

    def _as_lap(self, now: Floats) -> int:
        """The latest lap that allows no more than now at any turn, counted from the first without a gap."""
        reached = 0
        for number, was in enumerate(self.laps, 1):
            both = np.isfinite(was) & np.isfinite(now)
            if not bool(np.all(now[both] >= was[both])):
                break
            reached = number
        return reached


def _scrubbed(session: Session, last: Step) -> Session:
    states = (session.front_state, session.rear_state)
    front, rear = (opened(*each) for each in zip(states, last.scrubbed, strict=True))
    return replace(session, front_state=front, rear_state=rear)


def _caps(step: Step) -> Floats:
    """A lap's caps by corner [deg], not a number where the lap does not ride it."""
    found = np.full(len(step.ridden.caps.cap), math.nan)
    rode = list(step.way.ridden)
    found[rode] = step.ridden.caps.cap[rode]
    return found
