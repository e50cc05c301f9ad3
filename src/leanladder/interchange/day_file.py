"""day/1: what a day's file may hold, key by key."""

from __future__ import annotations

import re
from datetime import date
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError

from leanladder.domain import day as domain
from leanladder.domain.condition import Condition, Crown
from leanladder.domain.session import Start
from leanladder.interchange.upgrades import Upgraders
from leanladder.interchange.written import Written

SCHEMA = "day/1"
# day/1 is the first version: there is nothing to bring up to it yet.
UPGRADERS: Upgraders = {}
_CLOCK = r"^(?:[01]?[0-9]|2[0-3]):[0-5][0-9](?::00)?$"


def _time(text: str) -> str:
    if re.match(_CLOCK, text):
        return text
    raise PydanticCustomError(
        "clock",
        "this is no time of day.",
        {"allowed": '"HH:MM", 24 hours, local time', "remedy": 'For example "09:40".'},
    )


def _date(text: str) -> str:
    try:
        date.fromisoformat(text)
    except ValueError:
        parts = {"allowed": '"YYYY-MM-DD"', "remedy": 'For example "2026-04-12".'}
        raise PydanticCustomError("date", "this is no date.", parts) from None
    return text


def _date_code(text: str) -> str:
    if re.match(r"^(?:0[1-9]|[1-4][0-9]|5[0-3])[0-9]{2}$", text):
        return text
    parts = {"allowed": '"WWYY", week and year', "remedy": 'For example "1025", week 10 of 2025.'}
    raise PydanticCustomError("date_code", "this is no date code.", parts)


Name = Annotated[str, Field(min_length=1, max_length=60)]
Clock = Annotated[str, AfterValidator(_time), WithJsonSchema({"type": "string", "pattern": _CLOCK})]
CalendarDate = Annotated[str, AfterValidator(_date), WithJsonSchema({"type": "string", "format": "date"})]
Language = Annotated[str, Field(pattern=r"^[a-z]{2}$")]
Celsius = Annotated[float, Field(ge=-30.0, le=48.0)]
Bar = Annotated[float, Field(ge=0.8, le=4.0)]
HotBar = Annotated[float, Field(ge=1.0, le=4.5)]


class HourIn(Written):
    """[[weather]]: the weather at a time; between two times along straight lines."""

    at: Clock
    air_c: Celsius = Field(description="air, most likely [degC]")
    air_cold_c: Celsius | None = Field(default=None, description="air, if the day turns out cold [degC]")
    air_mild_c: Celsius | None = Field(default=None, description="air, if the day turns out mild [degC]")
    track_c: Annotated[float, Field(ge=-30.0, le=80.0)] | None = Field(
        default=None, description="track in the open, if measured then [degC]"
    )
    cloud: Annotated[float, Field(ge=0.0, le=1.0)] | None = Field(
        default=None, description="0 clear to 1 overcast"
    )
    wind_mps: Annotated[float, Field(ge=0.0, le=20.0)] | None = Field(
        default=None, description="at 2 m [m/s]"
    )
    humidity_pct: Annotated[float, Field(ge=2.0, le=100.0)] | None = Field(
        default=None, description="relative humidity [%]"
    )
    road: domain.RoadState | None = Field(
        default=None, description="as seen or expected; stands until an hour that says otherwise"
    )

    @model_validator(mode="after")
    def _band_rises(self) -> HourIn:
        band = self.band()
        if not band.cold_c <= band.likely_c <= band.mild_c:
            raise PydanticCustomError(
                "band",
                "the band of the air does not rise.",
                {"allowed": "air_cold_c <= air_c <= air_mild_c", "remedy": "Check the three."},
            )
        return self

    def band(self) -> domain.Band:
        """Return the air's band; an end that is not stated is the likely figure."""
        cold_c = self.air_c if self.air_cold_c is None else self.air_cold_c
        mild_c = self.air_c if self.air_mild_c is None else self.air_mild_c
        return domain.Band(cold_c, self.air_c, mild_c)


class CoachIn(Written):
    """[[coaches]]: someone who leads a group."""

    name: Name
    language: Language = "en"


class GroupIn(Written):
    """[[groups]]: riders who go out together."""

    name: Name
    coaches: tuple[Name, ...] = Field(default=(), description="names of coaches")


class ColdIn(Written):
    """cold: what the gauge read when the pressures were set, and the tyres' temperature then."""

    front_bar: Bar
    rear_bar: Bar
    set_c: Annotated[float, Field(ge=-20.0, le=60.0)]


class PairIn(Written):
    """Two gauge pressures [bar]."""

    front_bar: Bar
    rear_bar: Bar

    def pair(self) -> domain.PressurePair:
        """Return the domain's pair."""
        return domain.PressurePair(self.front_bar, self.rear_bar)


class HotIn(Written):
    """hot: two gauge pressures of hot tyres [bar]."""

    front_bar: HotBar
    rear_bar: HotBar

    def pair(self) -> domain.PressurePair:
        """Return the domain's pair."""
        return domain.PressurePair(self.front_bar, self.rear_bar)


Lean = Annotated[float, Field(ge=0.0, le=65.0)]


class ConditionIn(Written):
    """front_state, rear_state: one tyre as someone looked at it."""

    scrubbed: bool | None = Field(default=None, description="to its edge on both sides, or new")
    scrubbed_left_deg: Lean | None = Field(default=None, description="bike lean reached to the left")
    scrubbed_right_deg: Lean | None = Field(default=None, description="bike lean reached to the right")
    crown: Crown = "round"
    date_code: Annotated[str, AfterValidator(_date_code)] | None = Field(
        default=None, description="week and year on the tyre's wall, four digits"
    )
    heat_cycles: Annotated[int, Field(ge=0, le=200)] | None = None
    plugged: bool = False

    @model_validator(mode="after")
    def _says_how_far(self) -> ConditionIn:
        sides = (self.scrubbed_left_deg, self.scrubbed_right_deg)
        whole = self.scrubbed is not None and sides == (None, None)
        by_side = self.scrubbed is None and None not in sides
        if whole or by_side:
            return self
        remedy = "Give scrubbed = true or false, or scrubbed_left_deg and scrubbed_right_deg."
        raise PydanticCustomError("scrubbed", "it is not said how far it is scrubbed.", {"remedy": remedy})

    def condition(self) -> Condition:
        """Return the domain's condition."""
        left_deg, right_deg = self.scrubbed_left_deg, self.scrubbed_right_deg
        if self.scrubbed is False:
            left_deg = right_deg = 0.0
        return Condition(
            left_deg, right_deg, self.crown, self.date_code, self.heat_cycles, plugged=self.plugged
        )


class StartIn(Written):
    """start: how the tyres are when the wheels roll."""

    kind: Literal["cold", "warmers", "stopped"]
    warmers_c: Annotated[float, Field(ge=30.0, le=120.0)] | None = None
    on_min: Annotated[float, Field(ge=0.0, le=240.0)] | None = None
    off_min: Annotated[float, Field(ge=0.0, le=600.0)] | None = None
    in_sun: bool | None = None

    @model_validator(mode="after")
    def _goes_together(self) -> StartIn:
        wanted = {"cold": (), "warmers": ("warmers_c", "on_min", "off_min"), "stopped": ("off_min",)}
        more = ("in_sun",) if self.kind == "stopped" else ()
        given = {name for name in self.model_fields_set if name != "kind"}
        if set(wanted[self.kind]) <= given <= {*wanted[self.kind], *more}:
            return self
        allowed = ", ".join(("kind", *wanted[self.kind], *more))
        raise PydanticCustomError(
            "start",
            "these keys do not make a start.",
            {"value": self.kind, "allowed": allowed, "remedy": "Give these keys and no others."},
        )

    def start(self) -> Start:
        """Return the domain's start."""
        return Start(self.kind, self.warmers_c, self.on_min or 0.0, self.off_min or 0.0, bool(self.in_sun))


class MachineIn(Written):
    """[[machines]]: one machine of the day."""

    name: Name = Field(description="its name or number")
    machine: Name = Field(description="a machine that ships, or a machine file")
    tyre: Name | None = Field(default=None, description="a tyre family or file, at both ends")
    front: Name | None = Field(default=None, description="the tyre in front, where another")
    rear: Name | None = Field(default=None, description="the tyre at the rear, where another")
    cold: ColdIn | None = None
    gauge_offset_bar: Annotated[float, Field(ge=-0.5, le=0.5)] | None = Field(
        default=None, description="how much too high the gauge reads [bar]"
    )
    front_state: ConditionIn | None = Field(default=None, description="the front tyre, as looked at")
    rear_state: ConditionIn | None = Field(default=None, description="the rear tyre, as looked at")
    start: StartIn | None = Field(
        default=None, description="how its tyres start, where a session does not say"
    )
    minimum: PairIn | None = Field(default=None, description="the tyre maker's least cold pressures")
    hot: HotIn | None = Field(default=None, description="pressures wanted hot")
    home: PairIn | None = Field(default=None, description="pressures for the ride home")

    @model_validator(mode="after")
    def _has_tyres(self) -> MachineIn:
        if self.tyre is None and (self.front is None or self.rear is None):
            raise PydanticCustomError(
                "tyres", "no tyre is named.", {"remedy": "Give tyre for both ends, or front and rear."}
            )
        return self


class RiderIn(Written):
    """[[riders]]: one rider."""

    name: Name = Field(description="name or number, in quotes")
    group: Name
    level: Name = Field(description="new, regular or experienced")
    machine: Name = Field(description="the name of one of the machines")
    usual_lean_deg: Annotated[float, Field(ge=5.0, le=65.0)] | None = Field(
        default=None, description="their own usual bike lean [deg]"
    )
    hang_off: bool = False
    language: Language = "en"
    large_print: bool = False


class SessionIn(Written):
    """[[sessions]]: one run of a group, so many minutes or laps."""

    name: Name
    group: Name
    at: Clock = Field(description="when the wheels roll")
    minutes: Annotated[float, Field(ge=2.0, le=120.0)] | None = None
    laps: Annotated[int, Field(ge=1, le=40)] | None = None
    start: StartIn | None = Field(
        default=None, description="left out: as the machine's session before left the tyres, else cold"
    )

    @model_validator(mode="after")
    def _one_length(self) -> SessionIn:
        if (self.minutes is None) == (self.laps is None):
            raise PydanticCustomError(
                "length", "a session has minutes or laps.", {"remedy": "Give one of the two."}
            )
        return self


class DayFile(Written):
    """A day/1 file: paths are relative to it, times the circuit's own."""

    date: CalendarDate
    school: Name
    circuit: Name = Field(description="the circuit's GPX, GeoJSON or CSV file")
    notes: Name | None = Field(default=None, description="what the school knows of it")
    latitude_deg: Annotated[float, Field(ge=-90.0, le=90.0)] | None = None
    longitude_deg: Annotated[float, Field(ge=-180.0, le=180.0)] | None = None
    altitude_m: Annotated[float, Field(ge=-450.0, le=3500.0)] | None = None
    head: Name | None = Field(default=None, description="the head instructor, who gives the sheets out")
    surface: Name | None = Field(default=None, description="a surface's name, or texture [mm] and polish")
    weather: Annotated[tuple[HourIn, ...], Field(min_length=1)]
    coaches: tuple[CoachIn, ...] = ()
    groups: Annotated[tuple[GroupIn, ...], Field(min_length=1)]
    machines: Annotated[tuple[MachineIn, ...], Field(min_length=1)]
    riders: Annotated[tuple[RiderIn, ...], Field(min_length=1)]
    sessions: Annotated[tuple[SessionIn, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _whole_place(self) -> DayFile:
        if (self.latitude_deg is None) != (self.longitude_deg is None):
            remedy = "Give latitude_deg and longitude_deg."
            raise PydanticCustomError("place", "half of the place is missing.", {"remedy": remedy})
        return self
