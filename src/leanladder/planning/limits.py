"""Which of the limits sets a cap, and what sets the planned lean where it does not reach the cap."""

from __future__ import annotations

from leanladder.domain.ladder import Limit, PlanLimit
from leanladder.engine import pace
from leanladder.planning.riding import Caps
from leanladder.planning.setting import Setting


def limits_of(place: Setting, caps: Caps, index: int) -> dict[Limit, float]:
    """Return every limit on a corner's bike lean [deg] by its index; infinite where there is none."""
    return {
        "caution_card": float(caps.card[index]),
        "scrubbing": float(caps.scrubbed[index]),
        "front_grip": float(caps.front[index]),
        "rear_grip": float(caps.rear[index]),
        "clearance": float(place.clearance[index]),
        "level_top": place.session.level.top_lean_deg.value,
    }


def limit_of(place: Setting, caps: Caps, index: int) -> Limit:
    """Return which of the limits sets the cap of a corner by its index; the more cautious where two agree."""
    limits = limits_of(place, caps, index)
    return min(limits, key=lambda name: limits[name])


def plan_limit_of(code: int, limit: Limit) -> PlanLimit:
    """Return what sets the planned lean by the pace's code; the cap's own limit where it reaches the cap."""
    named: dict[int, PlanLimit] = {pace.AT_LINE: "line", pace.AT_POWER: "power", pace.AT_BRAKING: "braking"}
    return named.get(code, limit)
