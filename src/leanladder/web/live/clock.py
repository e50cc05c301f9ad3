"""The circuit's own clock: what the laptop's says, in the zone of the circuit's notes."""

from __future__ import annotations

import tomllib
from datetime import datetime, time
from functools import lru_cache
from zoneinfo import ZoneInfo

from leanladder.records.history import utc_now
from leanladder.records.models import Day

UTC = ZoneInfo("UTC")


@lru_cache(maxsize=64)
def _zone(notes: str) -> ZoneInfo:
    """Return the zone that a circuit's notes state; UTC where they state none, as plans take it."""
    stated = tomllib.loads(notes).get("zone") if notes else None
    return UTC if stated is None else ZoneInfo(str(stated))


def zone_of(day: Day) -> ZoneInfo:
    """Return the time zone of a day's circuit."""
    return _zone(day.circuit.notes)


def local(at: datetime, day: Day) -> str:
    """Return an aware time as the circuit's clock shows it, HH:MM."""
    return f"{at.astimezone(zone_of(day)):%H:%M}"


def local_now(day: Day) -> datetime:
    """Return the time now by the circuit's clock."""
    return utc_now().astimezone(zone_of(day))


def rolls_at(day: Day, at: str) -> datetime:
    """Return when a run of a day rolls, given its time as the day's file writes it."""
    hour, minute, *_ = (int(part) for part in at.split(":"))
    return datetime.combine(day.date, time(hour, minute), tzinfo=zone_of(day))


def stopwatch(seconds: float) -> str:
    """Return seconds as m:ss, rounded down."""
    whole = max(int(seconds), 0)
    return f"{whole // 60}:{whole % 60:02d}"
