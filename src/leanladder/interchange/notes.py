"""circuit-notes/1: what a school writes of a circuit beyond its line."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated
from zoneinfo import ZoneInfo

from pydantic import Field, field_validator
from pydantic_core import PydanticCustomError

from leanladder.domain.circuit import Bank, CircuitNotes, CornerName, Patch, Stretch
from leanladder.interchange.nearest import nearest
from leanladder.interchange.reading import read_toml
from leanladder.interchange.upgrades import Upgraders
from leanladder.interchange.written import Written

SCHEMA = "circuit-notes/1"
UPGRADERS: Upgraders = {}

Distance = Annotated[float, Field(ge=0.0, le=30_000.0)]
Name = Annotated[str, Field(min_length=1, max_length=60)]


class StretchIn(Written):
    """A stretch of the lap, over the start line if to_m is less than from_m."""

    from_m: Distance = Field(description="start of the stretch [m]")
    to_m: Distance = Field(description="end of the stretch [m]")

    def stretch(self) -> Stretch:
        """Return the domain's stretch."""
        return Stretch(self.from_m, self.to_m)


class NameIn(Written):
    """[[names]]: the name of the corner whose apex lies nearest."""

    at_m: Distance = Field(description="a distance near the apex [m]")
    name: Name


class BankIn(StretchIn):
    """[[banks]]: the bank of a stretch."""

    bank_deg: Annotated[float, Field(ge=-20.0, le=20.0)] = Field(
        description="positive where the road tilts into the turn [deg]"
    )


class ElevationIn(Written):
    """[[elevation]]: a height along the lap."""

    at_m: Distance
    height_m: Annotated[float, Field(ge=-500.0, le=6000.0)]


class PatchIn(StretchIn):
    """[[patches]]: a stretch with another surface."""

    surface: Name = Field(description="a surface's name, or texture [mm] and polish as in 0.8:0.3")


class NotesFile(Written):
    """What the school knows of a circuit beyond its line; distances along the lap from the start line [m]."""

    name: Name | None = Field(default=None, description="the circuit's name")
    source: Annotated[str, Field(max_length=300)] = Field(default="", description="where the notes come from")
    reverse: bool = Field(default=False, description="the file's points run against the riding direction")
    start_at_m: Distance = Field(
        default=0.0, description="the start line along the file's line, in riding direction [m]"
    )
    pit_exit_m: Distance | None = Field(default=None, description="where the pit lane joins the lap [m]")
    pit_entry_m: Distance | None = Field(default=None, description="where the pit lane leaves the lap [m]")
    zone: str | None = Field(default=None, description="time zone by its name in the tz database")
    hard_upright_allowed: bool = Field(
        default=False, description="hard drive and braking while upright are allowed here"
    )
    closed_course: bool | None = Field(default=None, description="no other traffic while you ride")
    splits_m: tuple[Distance, ...] = Field(default=(), description="where one found corner is two [m]")
    merges: tuple[StretchIn, ...] = Field(default=(), description="where the found corners are one")
    names: tuple[NameIn, ...] = ()
    banks: tuple[BankIn, ...] = ()
    elevation: tuple[ElevationIn, ...] = ()
    shaded: tuple[StretchIn, ...] = Field(default=(), description="stretches in shade")
    patches: tuple[PatchIn, ...] = ()

    @field_validator("zone")
    @classmethod
    def _known_zone(cls, zone: str | None) -> str | None:
        if zone is None:
            return None
        try:
            ZoneInfo(zone)
        except (OSError, ValueError):  # ZoneInfoNotFoundError is a KeyError: see below
            raise _unknown_zone(zone) from None
        except KeyError:
            raise _unknown_zone(zone) from None
        return zone


def _unknown_zone(zone: str) -> PydanticCustomError:
    from zoneinfo import available_timezones  # noqa: PLC0415 (reads some hundred files)

    near = nearest(zone, sorted(available_timezones()))
    allowed = f"a name of the tz database, such as {near or 'Europe/London'}"
    return PydanticCustomError("zone", "the time zone is unknown.", {"allowed": allowed})


def read_notes(path: Path) -> CircuitNotes:
    """Return the notes in a circuit-notes/1 file; raises InputError."""
    written = read_toml(path, NotesFile, SCHEMA, UPGRADERS)
    return CircuitNotes(
        name=written.name,
        names=tuple(CornerName(item.at_m, item.name) for item in written.names),
        merges=tuple(item.stretch() for item in written.merges),
        splits_m=written.splits_m,
        reverse=written.reverse,
        start_at_m=written.start_at_m,
        pit_exit_m=written.pit_exit_m,
        pit_entry_m=written.pit_entry_m,
        zone=written.zone,
        banks=tuple(Bank(item.stretch(), item.bank_deg) for item in written.banks),
        elevation=tuple((item.at_m, item.height_m) for item in written.elevation),
        shaded=tuple(item.stretch() for item in written.shaded),
        patches=tuple(Patch(item.stretch(), item.surface) for item in written.patches),
        hard_upright_allowed=written.hard_upright_allowed,
        closed_course=written.closed_course,
        source=written.source,
        file=str(path),
    )
