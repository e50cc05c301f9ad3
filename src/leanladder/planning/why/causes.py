"""The physics behind a cap as sentences: which of its causes apply to this rung."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from leanladder.domain.ladder import Ladder, Limit, Rung
from leanladder.domain.sentence import Sentence
from leanladder.domain.session import Session
from leanladder.domain.why import CardReading, Change, End, HeatBudget, TyreWhy, whole_pct
from leanladder.planning.condition import MOST_CAREFUL
from leanladder.planning.setting import Setting
from leanladder.planning.why.figures import why_figures

# Limits that more warmth does not raise.
FIXED: tuple[Limit, ...] = ("level_top", "clearance", "scrubbing")
MOST_CAUSES = 3


class Case(NamedTuple):
    """One rung with what is known of it; before_c [degC]: the shoulder that sets its cap, as it was before.

    That is at the same corner a lap earlier, or, the first time, when the wheels rolled. changes: what one
    change alone does to it.
    """

    place: Setting
    ladder: Ladder
    lap: int
    rung: Rung
    card: CardReading
    tyres: tuple[TyreWhy, TyreWhy]
    before_c: float
    first: bool
    changes: tuple[Change, ...] = ()

    @property
    def end(self) -> End:
        """The tyre whose shoulder sets the cap, or the colder one."""
        named: dict[str, End] = {"front_grip": "front", "rear_grip": "rear"}
        return named.get(self.rung.limited_by, self.card.end)

    @property
    def shoulder_c(self) -> float:
        """That shoulder [degC]."""
        return shoulder_c(self.rung, self.end)

    @property
    def cools(self) -> bool:
        """Whether that shoulder began warm and cools as it is ridden, by as much as whole degrees show."""
        warm = self.place.session.start.kind != "cold"
        return warm and math.floor(self.shoulder_c) < math.floor(self.before_c)

    @property
    def heat(self) -> HeatBudget:
        """That tyre's heat since rolling."""
        return self.tyres[self.end == "rear"].since_rolling


def counted_level(session: Session) -> str:
    """Return the name of the level whose share and top count: at the coach's pace the most careful one's."""
    return MOST_CAREFUL if session.coach_pace else session.level.name


def shoulder_c(rung: Rung, end: End) -> float:
    """Return one tyre's third of the side leaned to [degC]."""
    return float(getattr(rung.front if end == "front" else rung.rear, f"{rung.side}_c"))


def sentences(case: Case) -> tuple[Sentence, ...]:
    """Return what sets the cap, up to three causes, how it falls where it does, where the heat went."""
    rung = case.rung
    place = {"lap": case.lap, "number": rung.number, "side": rung.side}
    head = Sentence("why.head", place | {"limit_deg": math.floor(rung.cap_bike_deg)})
    told = Sentence(rung.limited_by, {"side": rung.side, "rubber_c": math.floor(case.shoulder_c)})
    if rung.limited_by in FIXED:
        return head, told, *_fixed(case), *_falls(case)
    causes = list(_causes(case))[:MOST_CAUSES] or [_warm(case)]
    return head, told, *causes, *_falls(case), *_heat(case)


def _fixed(case: Case) -> Iterator[Sentence]:
    """A limit that more warmth does not raise: the rubber would carry more."""
    yield Sentence("why.no_warmth", {"side": case.rung.side, "rubber_c": math.floor(case.shoulder_c)})


def _falls(case: Case) -> Iterator[Sentence]:
    """How much the limit falls by the next lap, rounded up as every fall is."""
    later = next((each for each in case.changes if each.kind == "one_more_lap"), None)
    if later is None or later.difference_deg is None:
        return
    if -later.difference_deg >= why_figures()["falls_deg"]:
        yield Sentence("why.falls", {"by_deg": math.ceil(-later.difference_deg)})


def _causes(case: Case) -> Iterator[Sentence]:
    """The causes that apply, most telling first."""
    yield from _too_hot(case)
    yield from _cools(case)
    yield from _idle_side(case)
    yield from _young(case)
    yield from _condition(case)


def _tyre_range(case: Case) -> tuple[float, float]:
    session = case.place.session
    tyre = (session.front if case.end == "front" else session.rear).tyre
    return tyre.working_low_c.value, tyre.working_high_c.value


def _too_hot(case: Case) -> Iterator[Sentence]:
    _, high_c = _tyre_range(case)
    if case.shoulder_c > high_c:
        yield Sentence("why.too_hot", {"end": case.end, "high_c": math.floor(high_c)})


def _cools(case: Case) -> Iterator[Sentence]:
    """A shoulder that began warm and cools as it is ridden."""
    if case.cools:
        code = "why.cools_at_once" if case.first else "why.cools"
        from_c, to_c = math.floor(case.before_c), math.floor(case.shoulder_c)
        yield Sentence(code, {"side": case.rung.side, "from_c": from_c, "to_c": to_c})


def _idle_side(case: Case) -> Iterator[Sentence]:
    """A side with fewer of the turns, and colder rubber than the other."""
    corners, side = case.place.session.circuit.corners, case.rung.side
    count = sum(corner.side == side for corner in corners)
    other = "right" if side == "left" else "left"
    rubber = case.rung.front if case.end == "front" else case.rung.rear
    if 2 * count < len(corners) and case.shoulder_c < getattr(rubber, f"{other}_c"):
        gap_m = next(each.same_side_gap_m for each in corners if each.number == case.rung.number)
        figures = {"side": side, "other": other, "count": count, "total": len(corners)}
        yield Sentence(
            "why.idle_side_once" if count == 1 else "why.idle_side",
            figures | {"gap_m": int(round(gap_m, -1))},
        )


def _young(case: Case) -> Iterator[Sentence]:
    """Rubber below its range: on the early laps for want of time, later for want of heat.

    Not where it cools: that shoulder wants neither, time takes its heat away.
    """
    low_c, _ = _tyre_range(case)
    if case.cools or case.shoulder_c >= low_c:
        return
    early = case.lap <= case.place.tables.margin["early_laps"]
    minutes = math.floor(case.heat.minutes)
    code = "why.just_out" if early and minutes < 1 else "why.early" if early else "why.below_range"
    yield Sentence(code, {"minutes": minutes, "low_c": round(low_c)})


def _condition(case: Case) -> Iterator[Sentence]:
    kept_pct = whole_pct(case.card.condition_kept)
    if kept_pct < 100:
        yield Sentence("why.condition", {"kept_pct": kept_pct})


def _warm(case: Case) -> Sentence:
    """No cause in the rubber: it is as it is meant to be."""
    if case.rung.limited_by == "caution_card":
        return Sentence("why.in_range")
    session = case.place.session
    level_pct = whole_pct(session.level.grip_share.value)
    return Sentence("why.in_range_grip", {"level": counted_level(session), "level_pct": level_pct})


def _heat(case: Case) -> Iterator[Sentence]:
    """What the tyre took in since rolling, whether it gave off more, and what a colder road took of it."""
    heat, road_c = case.heat, case.place.session.road.open_c
    taken_j, given_j = sum(heat.heat_in_j.values()), sum(heat.heat_out_j.values())
    if heat.minutes < 1.0:
        return
    taken_kj = round(taken_j / 1000.0)
    yield Sentence("why.heat_in", {"end": case.end, "in_kj": taken_kj})
    if round(given_j / 1000.0) > taken_kj:
        yield Sentence("why.net_loss")
    road_j = heat.heat_out_j["road"]
    told = road_j > 0.0 and road_j >= why_figures()["loss_share"] * taken_j
    if told and road_j == max(heat.heat_out_j.values()):
        yield Sentence("why.cold_road", {"track_c": round(road_c), "road_kj": round(road_j / 1000.0)})
