"""What a user typed, as domain values: starts, pressures, places, times, figures within range."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from leanladder.domain.chance import LEAST_CHANCE, MOST_CHANCE, Chance
from leanladder.domain.errors import Fault, InputError, LeanladderError
from leanladder.domain.session import ColdPressure, Start
from leanladder.interchange.ranges import Allowed

LAPS = Allowed("laps", 1.0, 40.0)
_WARMERS = Allowed("degC", 30.0, 120.0)
_WARMERS_ON = Allowed("min", 0.0, 240.0)
_OFF = Allowed("min", 0.0, 600.0)
_PRESSURE = Allowed("bar", 0.8, 4.0)
_SET = Allowed("degC", -20.0, 60.0)
_HOT = Allowed("bar", 1.0, 4.5)  # the range of planning.pressure
_CHANCE = Allowed("in 100", LEAST_CHANCE, MOST_CHANCE)
_DATE_LENGTH = len("2026-04-12")

_OPTION_OF = {
    "air_c": "--air",
    "track_c": "--track",
    "humidity_pct": "--humidity",
    "wind_mps": "--wind",
    "cloud": "--cloud",
    "altitude_m": "--altitude",
    "latitude_deg": "--place",
    "longitude_deg": "--place",
    "at": "--at",
    "lap": "--lap",
    "corner": "--corner",
    "chance": "--chance",
    "seed": "--seed",
}
_START_FORMS = "cold, warmers:DEGC:MIN_ON:MIN_OFF, stopped:MIN:shade or stopped:MIN:sun"
_SKIES = ("shade", "sun")


@contextmanager
def in_options() -> Iterator[None]:
    """Name the option in place of the field that it fills in every error raised within."""
    try:
        yield
    except LeanladderError as error:
        if error.fault.field in _OPTION_OF:
            error.fault = replace(error.fault, field=_OPTION_OF[error.fault.field])
        raise


def within(option: str, value: float, allowed: Allowed) -> float:
    """Return value if it is within the range; raises InputError naming the likely unit otherwise."""
    if allowed.holds(value):
        return value
    fault = Fault(field=option, value=f"{value:g}", allowed=allowed.text(), remedy=allowed.remedy(value))
    raise InputError("the value is out of range.", fault)


def chance(of_100: float, seed: int) -> Chance:
    """Return a chance [in 100] with the seed of its draws; raises InputError for what no plan is made for."""
    from leanladder.planning.odds.counting import check_chance  # noqa: PLC0415  # the compiled kernel

    if not math.isfinite(of_100) or _CHANCE.holds(100.0 * of_100):
        share = f"{of_100:g} looks like a share of 1; give {100.0 * of_100:g}."
        remedy = share if math.isfinite(of_100) else "Give a number."
        fault = Fault(None, None, "--chance", f"{of_100:g}", _CHANCE.text(), remedy)
        raise InputError("this is no chance in 100.", fault)
    made = Chance(of_100, seed)
    with in_options():
        check_chance(made)
    return made


def start(text: str) -> Start:
    """Return the start state of `cold`, `warmers:80:60:5` or `stopped:15:shade`.

    Raises InputError for any other form and for figures out of range.
    """
    match text.split(":"):
        case ["cold"]:
            return Start("cold")
        case ["warmers", warmers_c, on_min, off_min]:
            return Start(
                "warmers",
                warmers_c=_figure("--start", text, warmers_c, _WARMERS, _START_FORMS),
                on_min=_figure("--start", text, on_min, _WARMERS_ON, _START_FORMS),
                off_min=_figure("--start", text, off_min, _OFF, _START_FORMS),
            )
        case ["stopped", off_min, sky] if sky in _SKIES:
            stood_min = _figure("--start", text, off_min, _OFF, _START_FORMS)
            return Start("stopped", off_min=stood_min, in_sun=sky == "sun")
    raise _malformed("--start", text, _START_FORMS, "For example warmers:80:60:5.")


def cold_pressure(text: str) -> ColdPressure:
    """Return the pressures of `2.1,1.9@15`: front, rear [bar] and the temperature they were set at [degC].

    Raises InputError for any other form and for figures out of range.
    """
    form = "FRONT_BAR,REAR_BAR@DEGC"
    bars, at, set_c = text.partition("@")
    parts = bars.split(",")
    if not at or len(parts) != 2:
        raise _malformed("--cold-pressure", text, form, "For example 2.1,1.9@15.")
    front_bar, rear_bar = (_figure("--cold-pressure", text, part, _PRESSURE, form) for part in parts)
    return ColdPressure(front_bar, rear_bar, _figure("--cold-pressure", text, set_c, _SET, form))


def hot_pressure(text: str) -> tuple[float, float]:
    """Return the wanted hot pressures of `2.5,2.4`: front, rear [bar]; raises InputError otherwise."""
    form = "FRONT_BAR,REAR_BAR"
    parts = text.split(",")
    if len(parts) != 2:
        raise _malformed("--hot-pressure", text, form, "For example 2.5,2.4.")
    front_bar, rear_bar = (_figure("--hot-pressure", text, part, _HOT, form) for part in parts)
    return front_bar, rear_bar


def place(text: str) -> tuple[float, float]:
    """Return latitude and longitude [deg] of `52.1,-1.0`; raises InputError for any other form.

    Whether they lie on the globe is checked with the rest of the weather.
    """
    form = "LATITUDE,LONGITUDE in degrees"
    parts = text.split(",")
    if len(parts) != 2:
        raise _malformed("--place", text, form, "For example 52.1,-1.0.")
    latitude_deg, longitude_deg = (_number("--place", text, part, form) for part in parts)
    return latitude_deg, longitude_deg


def moment(text: str, zone: str | None) -> datetime:
    """Return the aware time of an ISO 8601 text; one without an offset is local time in the zone.

    Raises InputError for any other form, for a date without a time of day, for a time without an
    offset where no zone is known, and for a local time that the clocks skip.
    """
    form, remedy = "ISO 8601, as in 2026-04-12T09:40", "Give date and time, 24 hours."
    if len(text) <= _DATE_LENGTH:  # a date alone would mean midnight
        raise _malformed("--at", text, form, remedy)
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise _malformed("--at", text, form, remedy) from None
    if found.tzinfo is not None:
        return found
    if zone is None:
        remedy = f"Give it with its offset, as in {text}+01:00, or put zone in the circuit's notes."
        raise InputError(
            "the time has no offset and the circuit no zone.", Fault(None, None, "--at", text, None, remedy)
        )
    return _local(found, text, zone)


def _local(found: datetime, text: str, zone: str) -> datetime:
    try:
        place_in = ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        remedy = "Name one of the tz database, as in Europe/London."
        raise InputError(
            "the circuit's time zone is unknown.", Fault(None, None, "zone", zone, None, remedy)
        ) from None
    local = found.replace(tzinfo=place_in)
    try:
        there_and_back = local.astimezone(UTC).astimezone(place_in)
    except OverflowError:
        raise InputError("the time is out of range.", Fault(None, None, "--at", text)) from None
    if there_and_back.replace(tzinfo=None) != found:
        remedy = "Give it with its offset."
        raise InputError("the clocks skip this time.", Fault(None, None, "--at", text, None, remedy))
    return local


def _figure(option: str, text: str, part: str, allowed: Allowed, form: str) -> float:
    return within(option, _number(option, text, part, form), allowed)


def _number(option: str, text: str, part: str, form: str) -> float:
    try:
        return float(part)
    except ValueError:
        raise _malformed(option, text, form, f"{part!r} is not a number.") from None


def _malformed(option: str, text: str, form: str, remedy: str) -> InputError:
    return InputError("this cannot be read.", Fault(None, None, option, text, form, remedy))
