"""One figure from a file: a number, finite, within its range, or an InputError that says where."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from leanladder.domain.errors import Fault, InputError

LATITUDE_DEG = 90.0
LONGITUDE_DEG = 180.0
FARTHEST_M = 1.0e7
HIGHEST_M = 9000.0
WIDEST_M = 100.0


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a file a figure stands."""

    file: Path
    line: int | None = None
    field: str | None = None

    def error(
        self, message: str, value: object = None, allowed: str | None = None, remedy: str | None = None
    ) -> InputError:
        """Return the error at this place."""
        shown = None if value is None else str(value)[:80]
        return InputError(message, Fault(str(self.file), self.line, self.field, shown, allowed, remedy))

    def at(self, field: str) -> Place:
        """Return the place of a field on the same line."""
        return Place(self.file, self.line, field)


def number(place: Place, written: object) -> float:
    """Return what is written as a finite number."""
    value = _as_float(written)
    if value is None:
        raise place.error(f"{_shown(written)} is not a number.", written, "a number")
    if not math.isfinite(value):
        raise place.error(
            f"{_shown(written)} is not a finite number.", written, "a number", "Leave the point out."
        )
    return value


def within(place: Place, value: float, low: float, high: float, unit: str) -> float:
    """Return a value [unit] that lies within low..high."""
    if not low <= value <= high:
        raise place.error(f"{value:g} is out of range.", f"{value:g}", f"{low:g} to {high:g} {unit}")
    return value


def position(place: Place, latitude: object, longitude: object) -> tuple[float, float]:
    """Return latitude, longitude [deg, WGS84] of two written figures, each within the globe."""
    lat, lon = number(place.at("latitude"), latitude), number(place.at("longitude"), longitude)
    if abs(lat) > LATITUDE_DEG:
        swapped = abs(lat) <= LONGITUDE_DEG and abs(lon) <= LATITUDE_DEG
        remedy = "Latitude and longitude look swapped." if swapped else "Degrees of WGS84 are needed."
        message = "the latitude is out of range."
        raise place.at("latitude").error(message, f"{lat:g}", "-90 to 90 deg", remedy)
    if abs(lon) > LONGITUDE_DEG:
        message = "the longitude is out of range."
        remedy = "Degrees of WGS84 are needed."
        raise place.at("longitude").error(message, f"{lon:g}", "-180 to 180 deg", remedy)
    return lat, lon


def _as_float(written: object) -> float | None:
    """Return text or a number as a float, None for anything else."""
    if isinstance(written, bool) or not isinstance(written, str | int | float):
        return None
    try:
        return float(written)
    except (ValueError, OverflowError):
        return None


def _shown(written: object) -> str:
    """Return what is written as it may stand in a message."""
    return repr(str(written)[:40])
