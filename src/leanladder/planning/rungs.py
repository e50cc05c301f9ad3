"""A ridden lap as the ladder tells it: a rung for every corner, and both tyres at its end."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from leanladder import wording
from leanladder.domain.ladder import Lap, Rubber, Rung, TyreEnd
from leanladder.engine import cornering
from leanladder.engine.grip import Floats
from leanladder.engine.tyre_thermal import Body, base_c, read_c
from leanladder.planning.forcing import pressure_bar
from leanladder.planning.laps import Step, straights_code
from leanladder.planning.limits import limit_of, plan_limit_of
from leanladder.planning.odds.told import fastest
from leanladder.planning.riding import GAS, RIM, Ridden
from leanladder.planning.rubber import RIBS
from leanladder.planning.setting import Setting


def lap_told(place: Setting, number: int, step: Step) -> Lap:
    """Return a lap by its number as the ladder tells it."""
    ridden, way = step.ridden, step.way
    heated = ridden.heated
    fronts = _readings(place.front.body, heated.front, heated.load_s[0])
    rears = _readings(place.rear.body, heated.rear, heated.load_s[1])
    rungs = tuple(_rung(place, step, index, fronts[index], rears[index]) for index in way.ridden)
    least = min(rungs, key=_margin_order).number if rungs else 0
    return Lap(
        lap=number,
        time_s=ridden.heated.time_s,
        minute=step.minute,
        straights=wording.text(straights_code(place, step.orders)),
        least_margin=least,
        rungs=rungs,
        front_end=_end(place, ridden, 0),
        rear_end=_end(place, ridden, 1),
    )


def _end(place: Setting, ridden: Ridden, which: int) -> TyreEnd:
    state, load_s = ridden.heated.end[which], ridden.heated.load_s[which]
    body = (place.front, place.rear)[which].body
    _, outer, _ = read_c(state, body)
    return TyreEnd(
        rubber=_readings(body, state[None, :], load_s)[0],
        loaded_c=loaded(outer, load_s),
        base_c=loaded(base_c(state, RIBS), load_s),
        gas_c=float(state[GAS]),
        rim_c=float(state[RIM]),
        pressure_bar=pressure_bar(place, which == 1, float(state[GAS])),
    )


def loaded(ribs_c: Floats, load_s: Floats) -> float:
    """Return the mean [degC] of ribs (RIBS,), each weighted by how long it bore the load (RIBS,) [s]."""
    return float(ribs_c @ load_s / load_s.sum())


def _readings(body: Body, states: Floats, load_s: Floats) -> list[Rubber]:
    """States (n, NODES) as a probe and a gun would read them, and the carcass under the load."""
    skin, outer, carcass = np.moveaxis(read_c(states, body), 1, 0)
    thirds = [layer.reshape(len(states), 3, RIBS // 3).mean(axis=2) for layer in (outer, skin)]
    under = (carcass * load_s).sum(axis=1) / load_s.sum()
    return [Rubber(*row) for row in np.column_stack([*thirds, under]).tolist()]


def _rung(place: Setting, step: Step, index: int, front: Rubber, rear: Rubber) -> Rung:
    ridden, corner = step.ridden, place.session.circuit.corners[index]
    caps, level, stance = ridden.caps, place.session.level, place.stance
    cap_bike = float(caps.cap[index])
    cap_lean = math.degrees(
        cornering.lean_of_bike_lean(math.radians(cap_bike), stance.crown_m, stance.cg_height_m)
    )
    physics = float(min(caps.front[index], caps.rear[index]))
    point, lean = fastest(step.way, ridden.speeds, index)
    lean_deg = min(math.degrees(lean), cap_lean)
    bike_deg = math.degrees(
        cornering.bike_lean_of_lean(math.radians(lean_deg), stance.crown_m, stance.cg_height_m)
    )
    limit = limit_of(place, caps, index)
    reached = cap_lean - lean_deg <= place.tables.margin["reached_deg"]
    shoulders = {
        "front_grip": getattr(front, f"{corner.side}_c"),
        "rear_grip": getattr(rear, f"{corner.side}_c"),
    }
    told = shoulders.get(limit, min(shoulders.values()))
    return Rung(
        number=corner.number,
        side=corner.side,
        cap_lean_deg=cap_lean,
        cap_bike_deg=cap_bike,
        physics_bike_deg=physics,
        card_bike_deg=float(caps.card[index]),
        plan_lean_deg=lean_deg,
        plan_bike_deg=min(bike_deg, cap_bike),
        cap_reached=reached,
        speed_kmh=_held_mps(float(ridden.speeds[point]), lean, math.radians(lean_deg)) * 3.6,
        limited_by=limit,
        plan_limited_by=limit if reached else plan_limit_of(int(ridden.codes[point]), limit),
        reason=wording.text(limit, rubber_c=math.floor(told), side=corner.side),
        grip=float(caps.grip[index]),
        margin_deg=cap_bike - level.usual_lean_deg.value,
        shoulder_in=_shoulder_in(place, shoulders),
        front=front,
        rear=rear,
        scrubbed_bike_deg=_finite(float(caps.scrubbed[index])),
        doubt=None if step.told is None else step.told.doubts[index],
    )


def _finite(value_deg: float) -> float | None:
    return value_deg if math.isfinite(value_deg) else None


def _margin_order(rung: Rung) -> tuple[float, float, int]:
    """Least margin first: by the cap, and where caps are alike by what grip alone would carry."""
    return rung.margin_deg, rung.physics_bike_deg, rung.number


def _held_mps(speed_mps: float, lean: float, held: float) -> float:
    """The speed on the same radius at a lean [rad] that the cap may have held to a hair less."""
    return speed_mps if held >= lean else speed_mps * math.sqrt(math.tan(held) / math.tan(lean))


def _shoulder_in(place: Setting, shoulders: Mapping[str, float]) -> bool:
    """Whether the shoulder leaned on has reached its working range on both tyres."""
    session = place.session
    return (
        shoulders["front_grip"] >= session.front.tyre.working_low_c.value
        and shoulders["rear_grip"] >= session.rear.tyre.working_low_c.value
    )
