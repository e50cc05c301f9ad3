"""The road this morning, or the reason why there is no number for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache

from leanladder.catalogue import parameters
from leanladder.domain.errors import Fault, OutsideModelError
from leanladder.domain.parameter import Parameter
from leanladder.domain.weather import Road, Weather
from leanladder.engine.road_day import Moment, RoadDay, RoadParameters, road_day
from leanladder.engine.sky import dew_point_c
from leanladder.planning.weather_checks import check_weather
from leanladder.wording import text

Figures = Mapping[str, float]


def settle_road(
    weather: Weather,
    figures: Mapping[str, Parameter] | None = None,
    *,
    has_shade: bool = True,
) -> tuple[Road, tuple[str, ...]]:
    """Return the road's temperatures in the open and in the coldest shade, and codes of warnings.

    Measured, else computed where place and time are known, else assumed under the air with the
    warning `track_assumed`. Where the road cannot be trusted to be dry and above frost there is
    none: has_shade says whether the lap has a shaded stretch (or may have), which then counts as
    well. A sun that is not known shines 0 W/m2: it leaves tyres colder. figures replaces
    data/road.toml. Raises InputError for a value that cannot be meant, OutsideModelError for the
    refusals of the design.
    """
    known = {name: figure.value for name, figure in (figures or parameters("road")).items()}
    check_weather(weather)
    road = _road(weather, known)
    _refuse_damp(weather, known)
    _refuse_frost(road, known, has_shade=has_shade)
    _refuse_dew(weather, road, known, has_shade=has_shade)
    return road, ("track_assumed",) if road.origin == "assumed" else ()


def road_parameters(figures: Mapping[str, Parameter]) -> RoadParameters:
    """Return what the engine takes of the figures of data/road.toml."""
    return _picked({name: figure.value for name, figure in figures.items()})


def _picked(known: Figures) -> RoadParameters:
    return RoadParameters(**{field.name: known[field.name] for field in fields(RoadParameters)})


def road_dew_c(weather: Weather) -> float | None:
    """Return the dew point [degC] (Magnus), None where humidity is unknown."""
    if weather.humidity_pct is None:
        return None
    return float(dew_point_c(weather.air_c, weather.humidity_pct / 100.0))


def _road(weather: Weather, known: Figures) -> Road:
    if weather.track_c is not None:
        return _measured(weather, weather.track_c, known)
    day = _day(weather, known, almanac=True)
    return _assumed(weather, known) if day is None else _computed(day, known)


def _day(weather: Weather, known: Figures, *, almanac: bool) -> RoadDay | None:
    """Follow the road through the hours before, None where place or time is unknown."""
    w = weather
    if w.at is None or w.latitude_deg is None or w.longitude_deg is None:
        return None
    moment = Moment(
        unix_s=w.at.timestamp(),
        latitude_deg=w.latitude_deg,
        longitude_deg=w.longitude_deg,
        altitude_m=w.altitude_m,
        air_c=w.air_c,
        dew_c=road_dew_c(w),
        wind_mps=w.wind_mps,
        cloud=w.cloud,
    )
    return _followed(_picked(known), moment, almanac)


@lru_cache(maxsize=64)
def _followed(figures: RoadParameters, moment: Moment, almanac: bool) -> RoadDay:
    """Follow the road through the hours before a moment; a day asks for the same moments many times."""
    return road_day(figures, moment, almanac=almanac)


def _measured(weather: Weather, track_c: float, known: Figures) -> Road:
    """Take the measured track as the open; the shade is estimated, on the cold side.

    Where the measurement was made is not known. With place and time the computed difference of
    open and shade is taken from it, and the computed shade itself is the other estimate: the
    colder counts, but no more than one spread under the computed shade. Without, the shade is
    taken under the air by a judged drop. The closed sun serves: no almanac is loaded.
    """
    coldest = track_c - known["shade_least_drop_k"]
    day = _day(weather, known, almanac=False)
    if day is None:
        clear, cloudy = known["shade_drop_clear_k"], known["shade_drop_cloudy_k"]
        shade_c = weather.air_c - (clear + (cloudy - clear) * weather.cloud)
        sun = 0.0
    else:
        computed_c = float(day.shaded_c[-1])
        by_difference_c = track_c - (float(day.open_c[-1]) - computed_c)
        shade_c = max(min(by_difference_c, computed_c), computed_c - known["computed_spread_k"])
        sun = float(day.sun_w_m2[-1])
    return Road(track_c, min(coldest, shade_c), "measured", known["measured_spread_k"], sun)


def _computed(day: RoadDay, known: Figures) -> Road:
    open_c, shaded_c = float(day.open_c[-1]), float(day.shaded_c[-1])
    return Road(
        open_c, min(open_c, shaded_c), "computed", known["computed_spread_k"], float(day.sun_w_m2[-1])
    )


def _assumed(weather: Weather, known: Figures) -> Road:
    """Assume the road under the air; on a warm day it may be far hotter, so there is no number."""
    if weather.air_c > known["assumed_air_limit_c"]:
        allowed = f"air up to {known['assumed_air_limit_c']:g} degC where the track is unknown"
        raise _outside("track_unknown", "track_c", allowed, value=f"air {weather.air_c:.1f} degC")
    road_c = weather.air_c - known["assumed_drop_k"]
    return Road(road_c, road_c, "assumed", known["assumed_spread_k"], 0.0)


@dataclass(frozen=True, slots=True)
class _Spot:
    """A part of the road that counts: its temperature [degC] and its name."""

    temperature_c: float
    name: str


def _spots(road: Road, *, has_shade: bool) -> tuple[_Spot, ...]:
    """Return the parts of the road that count, the open first."""
    in_open = _Spot(road.open_c, f"the road, {road.origin}")
    shade = _Spot(road.shaded_c, "the coldest shade, estimated")
    return (in_open, shade) if has_shade and road.shaded_c < road.open_c else (in_open,)


def _refuse_damp(weather: Weather, known: Figures) -> None:
    """Refuse a cold morning of unknown humidity, unless someone has looked at the road."""
    if weather.humidity_pct is not None or weather.seen_dry or weather.air_c >= known["damp_air_c"]:
        return
    allowed = f"air of {known['damp_air_c']:g} degC and more where humidity is unknown"
    raise _outside("humidity_unknown", "humidity_pct", allowed, value=f"air {weather.air_c:.1f} degC")


def _refuse_frost(road: Road, known: Figures, *, has_shade: bool) -> None:
    """Refuse a road at or below the frost limit; nobody sees black ice, so no look lifts this."""
    for spot in _spots(road, has_shade=has_shade):
        if spot.temperature_c <= known["frost_limit_c"]:
            allowed = f"above {known['frost_limit_c']:g} degC; {_shown(spot)}"
            raise _outside("road_too_cold", "track_c", allowed, value=_shown(spot))


def _refuse_dew(weather: Weather, road: Road, known: Figures, *, has_shade: bool) -> None:
    """Refuse a road within the margin of its dew point.

    A look lifts this for one thing only: a shade that is estimated, not measured, and still
    above the dew point. The open road stays refused, for dew forms after the look.
    """
    dew = road_dew_c(weather)
    if dew is None:
        return
    wet_below = dew + known["dew_margin_k"]
    in_open, *shade = _spots(road, has_shade=has_shade)
    if in_open.temperature_c <= wet_below:
        raise _near_dew(in_open, wet_below)
    for spot in shade:
        looked = weather.seen_dry and spot.temperature_c > dew
        if spot.temperature_c <= wet_below and not looked:
            look = " Or look at the shaded stretches and give --seen-dry."
            raise _near_dew(spot, wet_below, look if spot.temperature_c > dew else "")


def _near_dew(spot: _Spot, wet_below_c: float, look: str = "") -> OutsideModelError:
    allowed = f"above {wet_below_c:.1f} degC; {_shown(spot)}"
    return _outside("near_dew_point", "track_c", allowed, value=_shown(spot), more=look)


def _shown(spot: _Spot) -> str:
    return f"{spot.name}: {spot.temperature_c:.1f} degC"


def _outside(code: str, field: str, allowed: str, value: str, more: str = "") -> OutsideModelError:
    fault = Fault(field=field, value=value, allowed=allowed, remedy=text(f"remedy.{code}") + more)
    return OutsideModelError(code, text(code), fault)
