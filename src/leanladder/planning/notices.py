"""What a ladder has to warn of: codes and figures; the words are elsewhere."""

from __future__ import annotations

import math

from leanladder.domain.circuit import Corner
from leanladder.domain.ladder import Lap, Rung
from leanladder.planning.setting import Setting
from leanladder.planning.tables import Remark


def notices(
    place: Setting, laps: tuple[Lap, ...], session_laps: tuple[Lap, ...] | None = None
) -> tuple[Remark, ...]:
    """Return the warnings of a planned session, the most urgent first.

    laps are those asked for; session_laps, if given, go on to the end of a session where those are
    few: what a tyre will never reach, and which side stays cold, shows only then.
    """
    session_laps = laps if session_laps is None else session_laps
    return (
        *_falling(place, laps),
        *_never_in_range(place, session_laps),
        *_hot(place, laps),
        *_idle_side(place, session_laps),
        *_least_margin(place, laps),
        *_sun_unknown(place),
    )


def _falling(place: Setting, laps: tuple[Lap, ...]) -> list[Remark]:
    """Tyres that start warmer than the road keeps them: the caps fall, and riders think they rise."""
    means = [sum(rung.cap_bike_deg for rung in lap.rungs) / max(len(lap.rungs), 1) for lap in laps]
    if not means or means[0] - min(means) < place.tables.warn["falling_deg"]:
        return []
    least = means.index(min(means))
    return [Remark("limits_fall", {"lap": laps[least].lap, "by_deg": math.ceil(means[0] - means[least])})]


def _sun_unknown(place: Setting) -> list[Remark]:
    """A stop in a sun that nobody told of counts as one in the shade."""
    dark = place.session.start.in_sun and place.session.road.sun_w_m2 <= 0.0
    return [Remark("sun_unknown")] if dark else []


def _idle_side(place: Setting, laps: tuple[Lap, ...]) -> list[Remark]:
    """The first turn of the side that is seldom used, unless its shoulder comes in all the same.

    A side with few of the turns is always named; one with more of them where it costs lean.
    """
    corners = place.session.circuit.corners
    lefts = [corner for corner in corners if corner.side == "left"]
    rights = [corner for corner in corners if corner.side == "right"]
    few, many = sorted((lefts, rights), key=len)
    if not few or len(few) == len(many) or not laps:
        return []
    idle = [rung for rung in laps[-1].rungs if rung.side == few[0].side]
    busy = [rung for rung in laps[-1].rungs if rung.side == many[0].side]
    if all(rung.shoulder_in for rung in idle):
        return []
    rare = len(few) <= place.tables.warn["idle_share"] * len(corners)
    if not rare and _mean_cap_deg(busy) - _mean_cap_deg(idle) < place.tables.warn["idle_gap_deg"]:
        return []
    first = max(few, key=lambda corner: corner.same_side_gap_m)
    return [
        Remark(
            "seldom_used_side",
            _naming(first)
            | {"gap_m": int(round(first.same_side_gap_m, -1)), "count": len(few), "total": len(corners)},
        )
    ]


def _mean_cap_deg(rungs: list[Rung]) -> float:
    return sum(rung.cap_bike_deg for rung in rungs) / max(len(rungs), 1)


def _naming(corner: Corner) -> dict[str, str | float | int]:
    return {"number": corner.number, "name": corner.name, "side": corner.side}


def _least_margin(place: Setting, laps: tuple[Lap, ...]) -> list[Remark]:
    """The turns with least margin at the level's usual lean, where the cap is below it."""
    usual = place.session.level.usual_lean_deg.value
    by_number = {corner.number: corner for corner in place.session.circuit.corners}
    found: dict[int, list[int]] = {}
    for lap in laps:
        least = next((rung for rung in lap.rungs if rung.number == lap.least_margin), None)
        if least is not None and least.cap_bike_deg < usual:
            found.setdefault(least.number, []).append(lap.lap)
    return [
        Remark(
            "least_margin",
            _naming(by_number[number]) | {"from_lap": min(on), "to_lap": max(on)},
            "least_margin_once" if len(on) == 1 else None,
        )
        for number, on in found.items()
    ]


def _never_in_range(place: Setting, laps: tuple[Lap, ...]) -> list[Remark]:
    """A tyre that does not reach its range anywhere in a session: unfit for the morning."""
    remarks = []
    for end, fitted in (("front", place.session.front), ("rear", place.session.rear)):
        low = fitted.tyre.working_low_c.value
        warmest = max((max(_thirds(getattr(rung, end))) for lap in laps for rung in lap.rungs), default=low)
        if warmest < low:
            figures: dict[str, str | float | int] = {
                "end": end,
                "family": fitted.family,
                "low_c": round(low),
                "warmest_c": math.floor(warmest),
            }
            remarks.append(Remark("tyre_unfit_cold", figures))
    return remarks


def _thirds(rubber: object) -> tuple[float, ...]:
    return tuple(float(getattr(rubber, name)) for name in ("left_c", "centre_c", "right_c"))


def _hot(place: Setting, laps: tuple[Lap, ...]) -> list[Remark]:
    """A tyre past its best: hotter than its range, where more heat takes grip away."""
    remarks: list[Remark] = []
    if place.session.road.open_c >= place.tables.warn["hot_road_c"]:
        remarks.append(Remark("hot_track", {"track_c": round(place.session.road.open_c)}))
    for end, fitted in (("front", place.session.front), ("rear", place.session.rear)):
        high = fitted.tyre.working_high_c.value + place.tables.warn["hot_over_k"]
        on = [lap.lap for lap in laps if any(max(_thirds(getattr(rung, end))) > high for rung in lap.rungs)]
        if on:
            remarks.append(
                Remark(
                    "hot_end", {"end": end, "family": fitted.family, "high_c": round(high), "from_lap": on[0]}
                )
            )
    return remarks
