"""Everything behind one rung, gathered into an answer."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leanladder.domain.errors import Fault, InputError
from leanladder.domain.ladder import Ladder, Lap, Rung
from leanladder.domain.session import Session
from leanladder.domain.why import CapLimit, CardReading, End, HeatBudget, TyreWhy, Why
from leanladder.engine import cornering
from leanladder.engine.tyre_thermal import FLOW_COUNT, read_c
from leanladder.planning import scrubbing
from leanladder.planning.card import card_bike_deg
from leanladder.planning.ladder import follow
from leanladder.planning.laps import Step
from leanladder.planning.limits import limits_of
from leanladder.planning.riding import Wheels
from leanladder.planning.setting import Setting
from leanladder.planning.tables import Tables, shipped_tables
from leanladder.planning.why.budget import Arrival, arrive, budget, minutes_until
from leanladder.planning.why.causes import Case, sentences, shoulder_c
from leanladder.planning.why.changes import Asked, Begin, changes
from leanladder.planning.why.mechanisms import Patch, load_at, parts_at, patch
from leanladder.planning.why.reading import ribs, stored_j


def why(
    session: Session, lap: int, corner: int, tables: Tables | None = None, *, begin: Begin | None = None
) -> Why:
    """Return everything behind the cap of a corner, by its number, on a lap of a session's ladder.

    begin makes the tyres as they start, where the session's own start does not say it. Raises InputError
    for a lap or a corner that the ladder has not, and as planning.ladder.plan does.
    """
    tables = shipped_tables() if tables is None else tables
    index = _index(session, lap, corner)
    followed = follow(session, tables, begin=begin)
    told = followed.ladder.laps[lap - 1]
    rung = _rung(told, corner)
    ridden = Behind(followed.place, followed.start, followed.steps[:lap], index)
    return _answer(followed.ladder, told, rung, ridden, begin)


@dataclass(frozen=True, slots=True)
class Behind:
    """The laps up to the rung's, as ridden from tyres that started as given; index is its corner's."""

    place: Setting
    start: Wheels
    steps: tuple[Step, ...]
    index: int

    @property
    def before(self) -> Wheels:
        """Both tyres as the rung's lap began."""
        return self.steps[-2].ridden.heated.end if len(self.steps) > 1 else self.start

    @property
    def last_began(self) -> Wheels:
        """Both tyres as the lap before the rung's began."""
        return self.steps[-3].ridden.heated.end if len(self.steps) > 2 else self.start

    @property
    def scrubbed(self) -> scrubbing.Scrubbed:
        """How far both tyres are scrubbed as the rung's lap begins."""
        if len(self.steps) > 1:
            return self.steps[-2].scrubbed
        return scrubbing.at_start(self.place.session, self.place.tables.condition)


def _index(session: Session, lap: int, corner: int) -> int:
    """The corner's index; raises InputError where there is no such lap or corner."""
    if not 1 <= lap <= session.laps:
        remedy = "Ask for more laps." if lap > session.laps else "Laps count from 1."
        fault = Fault(field="lap", value=str(lap), allowed=f"1 to {session.laps}", remedy=remedy)
        raise InputError("the ladder has no such lap.", fault)
    numbers = [each.number for each in session.circuit.corners]
    if corner in numbers:
        return numbers.index(corner)
    allowed = f"{numbers[0]} to {numbers[-1]}" if numbers else "none: the circuit has no corners"
    remedy = "`leanladder circuit` lists its corners."
    raise InputError(
        "the circuit has no such corner.",
        Fault(field="corner", value=str(corner), allowed=allowed, remedy=remedy),
    )


def _rung(lap: Lap, corner: int) -> Rung:
    found = next((rung for rung in lap.rungs if rung.number == corner), None)
    if found is not None:
        return found
    ridden = ", ".join(str(rung.number) for rung in lap.rungs) or "none on lap 1"
    fault = Fault(field="corner", value=str(corner), allowed=ridden, remedy="Ask for lap 2.")
    raise InputError("the first lap starts behind this corner.", fault)


def _answer(ladder: Ladder, lap: Lap, rung: Rung, behind: Behind, begin: Begin | None) -> Why:
    place = behind.place
    card = _card(place, rung)
    held = held_share(behind, rung)
    tyres = _tyres(behind, rung, held)
    asked = Asked(place.session, place.tables, begin, lap.lap, rung, behind.before, behind.scrubbed)
    changed = changes(asked)
    case = _case(ladder, lap, rung, behind, (card, tyres))._replace(changes=changed)
    return Why(
        ladder=ladder,
        lap=lap,
        corner=place.session.circuit.corners[behind.index],
        rung=rung,
        sentences=sentences(case),
        limits=_limits(behind, rung),
        level_share=place.session.level.grip_share.value,
        held_share=held,
        card=card,
        front=tyres[0],
        rear=tyres[1],
        changes=changed,
    )


def _limits(behind: Behind, rung: Rung) -> tuple[CapLimit, ...]:
    stance = behind.place.stance
    found = limits_of(behind.place, behind.steps[-1].ridden.caps, behind.index)

    def lean_deg(bike_deg: float) -> float:
        bike_lean = math.radians(bike_deg)
        return math.degrees(cornering.lean_of_bike_lean(bike_lean, stance.crown_m, stance.cg_height_m))

    return tuple(
        CapLimit(name, bike_deg, lean_deg(bike_deg), name == rung.limited_by)
        if math.isfinite(bike_deg)
        else CapLimit(name, None, None, sets=False)
        for name, bike_deg in found.items()
    )


def _card(place: Setting, rung: Rung) -> CardReading:
    """The card as it was read: the colder tyre's shoulder, on the cold side of what is known of the road."""
    ends: tuple[End, End] = ("front", "rear")
    end = min(ends, key=lambda each: shoulder_c(rung, each))
    rubber_c, spread_k = shoulder_c(rung, end), place.session.road.spread_k
    read_c = max(rubber_c - spread_k, min(rubber_c, 0.0))
    factor = place.session.level.card_factor.value
    bike_deg = card_bike_deg(read_c, factor * place.kept, place.tables)
    return CardReading(
        end, rubber_c, spread_k, read_c, factor, place.kept, 0.0 if bike_deg is None else bike_deg
    )


def held_share(behind: Behind, rung: Rung) -> float:
    """Return what is counted on of the friction [0..1], so that the physical cap holds with its chance.

    By the tyre that sets the physical cap: what its turn asks for there, over what the level may use of all.
    """
    place, index, heated = behind.place, behind.index, behind.steps[-1].ridden.heated
    caps = behind.steps[-1].ridden.caps
    end: End = "front" if caps.front[index] <= caps.rear[index] else "rear"
    state = (heated.front if end == "front" else heated.rear)[index]
    parts = parts_at(patch(place, index, end, state, 1.0), rung.physics_bike_deg)
    return parts.demand / parts.usable


def _tyres(behind: Behind, rung: Rung, held: float) -> tuple[TyreWhy, TyreWhy]:
    place, step, index = behind.place, behind.steps[-1], behind.index
    minutes = minutes_until(step, place, index)
    front, rear = arrive(place, step, behind.before, index)
    return (
        _tyre(behind, patch(place, index, "front", front.state, held), front, rung.cap_bike_deg, minutes),
        _tyre(behind, patch(place, index, "rear", rear.state, held), rear, rung.cap_bike_deg, minutes),
    )


def _tyre(behind: Behind, found: Patch, arrival: Arrival, cap_bike_deg: float, minutes: float) -> TyreWhy:
    rubber = found.rubber
    which = 0 if found.end == "front" else 1
    flowed = sum((step.ridden.heated.heat_j[which] for step in behind.steps[:-1]), arrival.heat_j)
    stored = stored_j(behind.start[which], arrival.state, rubber.body)
    usual_deg = behind.place.session.level.usual_lean_deg.value
    return TyreWhy(
        end=found.end,
        ribs=ribs(rubber, arrival.state, load_at(found, cap_bike_deg)),
        since_rolling=budget(minutes, flowed, stored),
        last_lap=_last_lap(behind, which) if len(behind.steps) > 1 else None,
        cap_grip=parts_at(found, cap_bike_deg),
        usual_grip=parts_at(found, usual_deg),
    )


def _last_lap(behind: Behind, which: int) -> HeatBudget:
    heated = behind.steps[-2].ridden.heated
    body = (behind.place.front, behind.place.rear)[which].body
    stored = stored_j(behind.last_began[which], heated.end[which], body)
    return budget(heated.time_s / 60.0, heated.heat_j[which].reshape(FLOW_COUNT), stored)


def _case(
    ladder: Ladder,
    lap: Lap,
    rung: Rung,
    behind: Behind,
    found: tuple[CardReading, tuple[TyreWhy, TyreWhy]],
) -> Case:
    """The rung with the shoulder as it was before: a lap ago, or when the wheels rolled."""
    place, (card, tyres) = behind.place, found
    case = Case(place, ladder, lap.lap, rung, card, tyres, 0.0, first=True)
    earlier = ladder.laps[lap.lap - 2].rungs if lap.lap > 1 else ()
    last = next((each for each in earlier if each.number == rung.number), None)
    if last is not None:
        return case._replace(before_c=shoulder_c(last, case.end), first=False)
    which = 0 if case.end == "front" else 1
    outer_c = read_c(behind.start[which], (place.front, place.rear)[which].body)[1]
    third = outer_c.size // 3
    side = outer_c[:third] if rung.side == "left" else outer_c[-third:]
    return case._replace(before_c=float(side.mean()))
