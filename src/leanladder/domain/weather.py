"""The morning: air, sky, place and time, and the road's temperature that follows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Origin = Literal["measured", "computed", "assumed"]


@dataclass(frozen=True, slots=True)
class Weather:
    """What is known of the weather before the wheels roll.

    air_c [degC]; track_c [degC] if measured; humidity_pct [%]; wind_mps [m/s] at 2 m;
    cloud [0..1]; latitude_deg, longitude_deg [deg]; at, an aware time; altitude_m [m].
    seen_dry: someone has looked at the road and found it dry.
    """

    air_c: float
    track_c: float | None = None
    humidity_pct: float | None = None
    wind_mps: float = 2.0
    cloud: float = 0.5
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    at: datetime | None = None
    altitude_m: float = 0.0
    seen_dry: bool = False


@dataclass(frozen=True, slots=True)
class Road:
    """The road as the plan uses it.

    open_c and shaded_c [degC] of its surface in the open and in the coldest shade; origin says
    whether open_c was measured, computed or assumed; spread_k [K] its standard deviation;
    sun_w_m2 [W/m2], what a level surface in the open absorbs from (before its albedo).
    """

    open_c: float
    shaded_c: float
    origin: Origin
    spread_k: float
    sun_w_m2: float
