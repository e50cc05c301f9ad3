"""Whether the weather as given can be meant: ranges, and the unit it was likely written in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from leanladder.domain.errors import Fault, InputError
from leanladder.domain.weather import Weather
from leanladder.engine.sky import dew_point_c
from leanladder.units import convert, likely_unit

# Judgement: from no school rides in it, to warmer than the warmest day recorded would need.
# 50 degC is left out of air on purpose: 50 degF is a usual cool morning.
_AIR = (-30.0, 48.0)
_TRACK = (-30.0, 80.0)
_TRACK_ABOVE_AIR_K = (-15.0, 35.0)  # design maxima of sunny days stay under 30 K (SHRP, see tests/published)
_DAMPEST_C = 35.0  # the highest dew point recorded, Dhahran 2003; from memory
_YEARS = (1950, 2100)  # the almanac's


@dataclass(frozen=True, slots=True)
class _Bound:
    """A field, its range and unit, and units that it is often given in by mistake."""

    field: str
    value: float | None
    low: float
    high: float
    unit: str
    mistaken: tuple[str, ...] = ()


def check_weather(weather: Weather) -> None:
    """Check every value of weather; raises InputError naming the field, its range and the likely unit."""
    w = weather
    for bound in (
        _Bound("air_c", w.air_c, *_AIR, "degC"),
        _Bound("track_c", w.track_c, *_TRACK, "degC"),
        _Bound("humidity_pct", w.humidity_pct, 2.0, 100.0, "%"),
        _Bound("wind_mps", w.wind_mps, 0.0, 20.0, "m/s"),
        _Bound("cloud", w.cloud, 0.0, 1.0, "-"),
        _Bound("altitude_m", w.altitude_m, -450.0, 3500.0, "m", ("ft",)),
    ):
        _check_bound(bound)
    _check_place(w.latitude_deg, w.longitude_deg)
    _check_time(w.at)
    if w.track_c is not None:
        _check_track(w.air_c, w.track_c)
    if w.humidity_pct is not None:
        _check_dew(w.air_c, w.humidity_pct)


def _check_bound(bound: _Bound) -> None:
    """Refuse a value that is no number or out of its range."""
    if bound.value is None or bound.low <= bound.value <= bound.high:
        return
    allowed = f"{bound.low:g} to {bound.high:g} {bound.unit}".removesuffix(" -")
    if not math.isfinite(bound.value):
        raise InputError(
            "is not a number.", Fault(field=bound.field, value=str(bound.value), allowed=allowed)
        )
    hint = _hint(bound, bound.value)
    message = f"{bound.value:g} is out of range."
    raise InputError(
        message, Fault(field=bound.field, value=f"{bound.value:g}", allowed=allowed, remedy=hint)
    )


def _hint(bound: _Bound, value: float) -> str | None:
    """Return what the value looks like in another unit."""
    if bound.field == "cloud" and 1.0 < value <= 8.0:
        return f"That looks like eighths of the sky: {value / 8.0:.2g}?"
    for unit in bound.mistaken:
        if bound.low <= convert(value, unit, bound.unit) <= bound.high:
            return _looks_like(value, unit, bound.unit)
    if bound.mistaken:
        return None
    other = likely_unit(value, bound.unit, bound.low, bound.high)
    return _looks_like(value, other, bound.unit) if other else None


def _looks_like(value: float, other: str, unit: str) -> str:
    """Return a question with the value turned from the other unit."""
    turned = convert(value, other, unit)
    name = {"-": "a share of 1", "%": "per cent"}.get(other, other)
    shown = f"{turned:.0f}" if unit in {"degC", "%", "m"} else f"{turned:.2g}"
    return f"That looks like {name}: {shown} {unit}".removesuffix(" -") + "?"


def _check_place(latitude_deg: float | None, longitude_deg: float | None) -> None:
    """Refuse half a place, and one that is not on the globe."""
    if latitude_deg is None and longitude_deg is None:
        return
    if latitude_deg is None or longitude_deg is None:
        missing = "latitude_deg" if latitude_deg is None else "longitude_deg"
        raise InputError("half of the place is missing.", Fault(field=missing, remedy="Give both."))
    if abs(latitude_deg) <= 90.0 and abs(longitude_deg) <= 180.0:
        return
    swapped = abs(longitude_deg) <= 90.0 < abs(latitude_deg) <= 180.0
    field = "longitude_deg" if abs(latitude_deg) <= 90.0 else "latitude_deg"
    raise InputError(
        f"{latitude_deg:g}, {longitude_deg:g} is no place on the globe.",
        Fault(
            field=field,
            value=f"{latitude_deg:g},{longitude_deg:g}",
            allowed="latitude -90 to 90, longitude -180 to 180 degrees",
            remedy="Latitude comes first." if swapped else "Give decimal degrees.",
        ),
    )


def _check_time(at: datetime | None) -> None:
    """Refuse a time without its offset, and one beyond the almanac."""
    if at is None:
        return
    if at.tzinfo is None or at.utcoffset() is None:
        raise InputError(
            "has no offset from UTC.",
            Fault(
                field="at",
                value=at.isoformat(),
                allowed="ISO 8601 with offset",
                remedy=f"Write {at.isoformat()}+02:00, with the offset of the place.",
            ),
        )
    if not _YEARS[0] <= at.year < _YEARS[1]:
        allowed = f"years {_YEARS[0]} to {_YEARS[1]}"
        raise InputError("is out of range.", Fault(field="at", value=at.isoformat(), allowed=allowed))


def _check_dew(air_c: float, humidity_pct: float) -> None:
    """Refuse air that would hold more water than any has: a cool and damp morning in degF."""
    dew_c = float(dew_point_c(air_c, humidity_pct / 100.0))
    if dew_c <= _DAMPEST_C:
        return
    turned = convert(air_c, "degF", "degC")
    raise InputError(
        f"{air_c:g} degC does not go with {humidity_pct:g} % humidity: no air holds that much water.",
        Fault(
            field="air_c",
            value=f"{air_c:g}",
            allowed=f"a dew point of {_DAMPEST_C:g} degC at most",
            remedy=f"Is it in degF? That would be {turned:.0f} degC.",
        ),
    )


def _check_track(air_c: float, track_c: float) -> None:
    """Refuse a track too far from the air for both to be in degC."""
    low, high = air_c + _TRACK_ABOVE_AIR_K[0], air_c + _TRACK_ABOVE_AIR_K[1]
    if low <= track_c <= high:
        return
    turned = convert(track_c, "degF", "degC")
    remedy = f"That looks like degF: {turned:.0f} degC?" if low <= turned <= high else "Measure both again."
    raise InputError(
        f"{track_c:g} degC does not go with air at {air_c:g} degC.",
        Fault(field="track_c", value=f"{track_c:g}", allowed=f"{low:g} to {high:g} degC here", remedy=remedy),
    )
