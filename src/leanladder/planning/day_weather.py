"""The weather of a day at the time of a session."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time
from zoneinfo import ZoneInfo

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Band, BandEnd, Day, HourWeather, RoadState
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.domain.weather import Weather
from leanladder.wording import text

MOST_AWAY_MIN = 60.0  # judgement: how long the first or last hour's weather stands for times beyond it
# Road states from the best to the worst, and the refusal of each that has no number.
_STATES: tuple[RoadState, ...] = ("dry", "drying", "damp", "wet")
_REFUSALS = {"drying": "drying", "damp": "wet_or_damp", "wet": "wet_or_damp"}
STILL = Weather(air_c=0.0)  # holds what counts where wind and cloud are not stated


def weather_at(day: Day, circuit: Circuit, at: time, *, band: BandEnd = "likely") -> Weather:
    """Return the weather at a local time of the day, along straight lines between the hours.

    band says which end of the air's band counts. Its ends are made from the forecast alone: a track counts
    as measured only where the likely air does, and only at its own time or between two measured ones.
    A road stated to be dry counts as looked at.
    Beyond the first and last hour theirs stands for an hour. Place and time are there where the day or the
    circuit knows them. Raises InputError for a time that the weather does not reach.
    """
    before, after, share = hours_around(day, at)
    air_c = between((_air_c(before.air, band), _air_c(after.air, band)), share)
    cloud, wind_mps = (
        between((getattr(before, name), getattr(after, name)), share) for name in ("cloud", "wind_mps")
    )
    latitude_deg, longitude_deg = circuit.latitude_deg, circuit.longitude_deg
    if day.latitude_deg is not None:
        latitude_deg, longitude_deg = day.latitude_deg, day.longitude_deg
    return Weather(
        air_c=_air_c(day.weather[0].air, band) if air_c is None else air_c,
        track_c=_measured_c(day, at) if band == "likely" else None,
        humidity_pct=between((before.humidity_pct, after.humidity_pct), share),
        wind_mps=STILL.wind_mps if wind_mps is None else wind_mps,
        cloud=STILL.cloud if cloud is None else cloud,
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        at=moment(day, circuit, at),
        altitude_m=day.altitude_m or 0.0,
        seen_dry=road_state(day, at) == "dry",
    )


def road_state(day: Day, at: time, until_min: float | None = None) -> RoadState | None:
    """Return the road's state at a local time, None where nobody stated it.

    A state stands until an hour that says otherwise; before the first hour its own stands, unless it is
    dry: nobody had looked yet. With until_min [min of the day], the worst of all until then.
    """
    stated = [(minute_of(hour.at), hour.road) for hour in day.weather if hour.road is not None]
    at_min = minute_of(at)
    earlier = [state for since_min, state in stated if since_min <= at_min]
    first = day.weather[0]
    if at < first.at and first.road != "dry" and first.road is not None:
        earlier = [first.road]
    later = [state for since_min, state in stated if at_min < since_min < (until_min or 0.0)]
    return max((*earlier[-1:], *later), key=_STATES.index, default=None)


def was_wet(day: Day, since_min: float, at_min: float) -> bool:
    """Return whether a road other than dry was stated between two minutes of the day, both included.

    What stood at the first of them counts too.
    """
    stated = [(minute_of(hour.at), hour.road) for hour in day.weather if hour.road is not None]
    standing = [state for from_min, state in stated if from_min <= since_min][-1:]
    between_them = [state for from_min, state in stated if since_min < from_min <= at_min]
    return any(state != "dry" for state in (*standing, *between_them))


def check_road(day: Day, at: time, until_min: float, *, looked: bool = False) -> None:
    """Check the road's state from a local time until a minute of the day; raises OutsideModelError.

    looked: someone saw it dry at that time, which overrules what was stated for then, not for later.
    """
    state = road_state(day, at, until_min)
    if looked:
        later = (hour.road for hour in day.weather if minute_of(at) < minute_of(hour.at) < until_min)
        state = max((road for road in later if road is not None), key=_STATES.index, default=None)
    if state is None or state not in _REFUSALS:
        return
    code = _REFUSALS[state]
    fault = Fault(field="road", value=state, allowed="dry", remedy=text(f"remedy.{code}"))
    raise OutsideModelError(code, text(code), fault)


def moment(day: Day, circuit: Circuit, at: time) -> datetime | None:
    """Return a local time of the day with its offset, None where the circuit's zone is not known."""
    return None if circuit.zone is None else datetime.combine(day.date, at, ZoneInfo(circuit.zone))


def minute_of(at: time) -> float:
    """Return a time as minutes since midnight [min]."""
    return at.hour * 60.0 + at.minute


def between(ends: Sequence[float | None], share: float) -> float | None:
    """Return the value a share of the way between two ends, None where an end that counts is None."""
    first, last = ends
    if share in {0.0, 1.0}:
        return last if share else first
    return None if first is None or last is None else first + share * (last - first)


def is_beyond(day: Day, at: time) -> bool:
    """Return whether a time lies before the first or after the last hour of the weather."""
    return not day.weather[0].at <= at <= day.weather[-1].at


def hours_around(day: Day, at: time) -> tuple[HourWeather, HourWeather, float]:
    """Return the hours around a time, and how far it lies between them [0..1]."""
    hours = day.weather
    if is_beyond(day, at):
        near = hours[0] if at < hours[0].at else hours[-1]
        if abs(minute_of(at) - minute_of(near.at)) > MOST_AWAY_MIN:
            raise _unreached(day, at)
        return near, near, 0.0
    after = next(hour for hour in hours if hour.at >= at)
    before = [hour for hour in hours if hour.at <= at][-1]
    span_min = minute_of(after.at) - minute_of(before.at)
    return before, after, (minute_of(at) - minute_of(before.at)) / span_min if span_min else 0.0


def _air_c(air: Band, band: BandEnd) -> float:
    return {"cold": air.cold_c, "likely": air.likely_c, "mild": air.mild_c}[band]


def _measured_c(day: Day, at: time) -> float | None:
    if is_beyond(day, at):
        return None
    before, after, share = hours_around(day, at)
    return between((before.track_c, after.track_c), share)


def _unreached(day: Day, at: time) -> InputError:
    first, last = day.weather[0].at, day.weather[-1].at
    fault = Fault(
        file=day.file,
        field="weather",
        value=f"{at:%H:%M}",
        allowed=f"an hour before {first:%H:%M} to an hour after {last:%H:%M}",
        remedy=f"Add the weather around {at:%H:%M}.",
    )
    return InputError("there is no weather for this session.", fault)
