"""Figures of air, gas, sky, road, the road of a day, and the constants."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray
from scripts.plot import Axis, Band, Dots, Line, Panel, figure

from leanladder import catalogue
from leanladder.engine import air, constants, cornering, gas, road, sky
from leanladder.engine.road import Drive, surface_course
from leanladder.engine.road_day import Moment, RoadParameters, road_day, road_ground
from leanladder.planning.morning import road_parameters

Floats = NDArray[np.float64]

NORTH_DEG = 50.0
NOON = datetime(2026, 4, 15, 12, tzinfo=UTC).timestamp()
WHEELS_M = {"front, 0.60 x 0.12 m": (0.60, 0.12), "rear, 0.64 x 0.18 m": (0.64, 0.18)}
DAYS = {"June": 172, "March": 80, "December": 355}


def air_figures() -> dict[str, str]:
    """Return the coefficient of a rolling and of a standing wheel."""
    speeds = np.linspace(5.0, 60.0, 111)
    rolling = Panel(
        "Rolling, free air",
        Axis("speed, m/s", 0, 60, 10),
        Axis("W/m²K", 0, 200, 50),
        [Line(name, speeds, air.rolling_convection(speeds, *size)) for name, size in WHEELS_M.items()],
    )
    over = np.linspace(1.0, 80.0, 80)
    winds = (0.0, 1.0, 2.0)
    standing = Panel(
        "Standing in 15 °C, by wind at the wheel",
        Axis("rubber above the air, K", 0, 80, 20),
        Axis("W/m²K", 0, 20, 5),
        [
            Line(
                f"{wind:g} m/s",
                over,
                [
                    float(
                        air.joined(
                            air.rolling_convection(np.array([wind]), 0.64, 0.18),
                            air.standing_convection(15.0 + more, 15.0, 0.64),
                        )[0]
                    )
                    for more in over
                ],
            )
            for wind in winds
        ],
    )
    return {"air-convection.svg": figure("Convection of a wheel, rolling and standing", [rolling, standing])}


def gas_figures() -> dict[str, str]:
    """Return gauge pressure against the gas's temperature, and the atmosphere against height."""
    gas_c = np.linspace(0.0, 100.0, 51)
    sea = gas.atmosphere_bar(0.0)
    hot = Panel(
        "Set at 15 °C",
        Axis("gas, °C", 0, 100, 20),
        Axis("gauge pressure, bar", 1.5, 4, 0.5),
        [
            Line(f"{bar:g} bar cold", gas_c, [gas.gauge_bar(bar, 15.0, float(one), sea) for one in gas_c])
            for bar in (2.0, 2.4, 2.9)
        ],
    )
    heights = np.linspace(0.0, 2000.0, 41)
    high = Panel(
        "Standard atmosphere",
        Axis("altitude, m", 0, 2000, 500),
        Axis("bar", 0.7, 1.1, 0.1),
        [Line("ISO 2533", heights, [gas.atmosphere_bar(float(one)) for one in heights])],
    )
    return {
        "gas-pressure.svg": figure("Gauge pressure against gas temperature, and the atmosphere", [hot, high])
    }


def sky_figures() -> dict[str, str]:
    """Return the sun through three days, cloud, the diffuse share, and the air's course."""
    hours = np.linspace(0.0, 24.0, 145)
    day = Axis("hour UTC at 0° east", 0, 24, 6)
    start = datetime(2026, 1, 1, tzinfo=UTC).timestamp()
    suns = []
    for name, number in DAYS.items():
        unix = start + (number - 1) * sky.DAY_S + hours * 3600.0
        suns.append(Line(name, hours, sky.clear_sun(sky.zenith_deg(unix, NORTH_DEG, 0.0))))
    sun = Panel("Sun on the level at 50° north, clear", day, Axis("W/m²", 0, 1000, 250), suns)
    cloud = np.linspace(0.0, 1.0, 51)
    left = Panel(
        "What cloud leaves and sends back",
        Axis("cloud cover", 0, 1, 0.2),
        Axis("share", 0, 1.2, 0.2),
        [
            Line("sun left", cloud, sky.cloud_share(cloud)),
            Line(
                "sky's emissivity, dew 5 °C", cloud, sky.cloudy_emissivity(sky.clear_emissivity(5.0), cloud)
            ),
        ],
    )
    level = np.linspace(20.0, 760.0, 75)
    diffuse = Panel(
        "Diffuse share, sun 45° high",
        Axis("sun on the level, W/m²", 0, 800, 200),
        Axis("share diffuse", 0, 1, 0.2),
        [Line("Erbs, Klein and Duffie", level, sky.diffuse_share(level, np.full_like(level, 45.0), NOON))],
    )
    solar = np.linspace(0.0, 24.0, 145)
    course = Panel(
        "The air's daily course",
        Axis("solar hour", 0, 24, 6),
        Axis("from least (0) to greatest (1)", 0, 1, 0.2),
        [
            Line(f"{long:g} h of daylight", solar, sky.air_course(solar, long, 1.86, 2.20))
            for long in (8.0, 12.0, 16.0)
        ],
    )
    return {
        "sky-sun.svg": figure("Clear sun through three days, and what cloud does", [sun, left]),
        "sky-air.svg": figure("Diffuse share of the sun, and the air's course over a day", [diffuse, course]),
    }


def shipped_road() -> RoadParameters:
    """Return the road's figures as shipped."""
    return road_parameters(catalogue.parameters("road"))


def _moment(cloud: float, hour: float, air_c: float = 8.0) -> Moment:
    midnight = datetime(2026, 4, 15, tzinfo=UTC).timestamp()
    return Moment(midnight + hour * 3600.0, NORTH_DEG, 0.0, 100.0, air_c, 3.0, 2.0, cloud)


def road_figures() -> dict[str, str]:
    """Return the film against wind, and temperature with depth over a day of sun."""
    winds = np.linspace(0.0, 8.0, 81)
    film = Panel(
        "Convection of a road at 35 °C in air at 20 °C",
        Axis("wind, m/s", 0, 8, 2),
        Axis("W/m²K", 0, 40, 10),
        [
            Line(
                "as NCHRP quotes it (used)",
                winds,
                road.road_film(np.full(81, 35.0), np.full(81, 20.0), winds),
            ),
            Line(
                "plate form (beside it)", winds, road.plate_film(np.full(81, 35.0), np.full(81, 20.0), winds)
            ),
        ],
    )
    ground = road_ground(shipped_road())
    cm = 100.0 * ground.depth_m
    seen = cm <= 50.0
    profiles = []
    whole = road_day(shipped_road(), _moment(0.0, 20.0), almanac=False)
    for hour in (6, 14, 20):
        then_c = float(np.interp(whole.unix_s[-1] + 3600.0 * (hour - 20), whole.unix_s, whole.air_c))
        course = road_day(shipped_road(), _moment(0.0, float(hour), then_c), almanac=False).course
        profiles.append(Line(f"{hour} h", cm[seen], course.profile_c[seen, 0]))
    deep = Panel("Under a clear April day", Axis("depth, cm", 0, 50, 10), Axis("°C", 0, 40, 10), profiles)
    return {
        "road-depth.svg": figure("Convection of a road, and its temperature with depth", [film, deep]),
        "road-response.svg": figure("A road that is lit for six hours", [_lit()], columns=1),
    }


def _lit() -> Panel:
    """Ground at 15 degC throughout, 500 W/m2 from hour 2 to hour 8, under three winds."""
    steps = 12 * 12
    hours = np.arange(1, steps + 1) / 12.0
    sun = np.where((hours > 2.0) & (hours <= 8.0), 500.0, 0.0)[:, None] * np.ones((1, 3))
    even = constants.STEFAN_BOLTZMANN * (15.0 + constants.KELVIN) ** 4
    wind = np.tile([0.5, 2.0, 5.0], (steps, 1))
    drive = Drive(300.0, sun, np.full((steps, 1), even), np.full((steps, 1), 15.0), wind)
    ground, figures = road_ground(shipped_road()), shipped_road()
    start = np.full((len(ground.depth_m), 3), 15.0)
    course = surface_course(ground, drive, start, 15.0, albedo=figures.albedo, emissivity=figures.emissivity)
    return Panel(
        "500 W/m² from hour 2 to hour 8, air 15 °C",
        Axis("hours", 0, 12, 2),
        Axis("surface, °C", 10, 40, 10),
        [
            Line(f"wind {speed:g} m/s", hours, course.surface_c[:, place])
            for place, speed in enumerate((0.5, 2.0, 5.0))
        ],
        wide=420.0,
    )


def road_day_figures() -> dict[str, str]:
    """Return the road in the open and in the shade over the day before, clear and overcast."""
    panels = []
    for name, cloud in (("Clear", 0.0), ("Overcast", 1.0)):
        day = road_day(shipped_road(), _moment(cloud, 20.0), almanac=False)
        hours = (day.unix_s - day.unix_s[-1]) / 3600.0 + 20.0
        seen = hours >= 0.0
        panels.append(
            Panel(
                f"{name}, 15 April, 50° north, 8 °C at 20 h",
                Axis("hour UTC", 0, 20, 4),
                Axis("°C", 0, 40, 10),
                [
                    Line("road in the open", hours[seen], day.open_c[seen]),
                    Line("coldest shade", hours[seen], day.shaded_c[seen]),
                    Line("air", hours[seen], day.air_c[seen]),
                ],
                notes=[(6.5, 15.5, "open and shade as one")] if cloud == 1.0 else [],
            )
        )
    return {
        "road-day.svg": figure("The road in the open and in the shade through a day", panels),
        **_spread(),
    }


def _spread() -> dict[str, str]:
    """The road at noon against the wind, with the spread of the albedo."""
    winds = np.array([1.0, 2.0, 4.0, 6.0])
    base = shipped_road()

    def at_noon(figures: RoadParameters) -> list[float]:
        return [
            float(
                road_day(figures, replace(_moment(0.0, 12.0), wind_mps=float(wind)), almanac=False).open_c[-1]
            )
            for wind in winds
        ]

    albedo = catalogue.parameters("road")["albedo"]
    dark, shipped, light = (
        at_noon(replace(base, albedo=base.albedo + sign * albedo.spread)) for sign in (-1.0, 0.0, 1.0)
    )
    panel = Panel(
        "Clear noon, 8 °C air",
        Axis("wind, m/s", 0, 6, 2),
        Axis("road in the open, °C", 10, 40, 10),
        [
            Band("albedo, one spread either way", winds, light, dark),
            Line("as shipped", winds, shipped),
            Dots("computed at", winds, shipped),
        ],
        wide=420.0,
    )
    return {"road-day-wind.svg": figure("The road at a clear noon against wind", [panel])}


def constant_figures() -> dict[str, str]:
    """Return what gravity and the radiation constant mean here."""
    across = np.linspace(0.0, 1.2, 61)
    speed = np.sqrt(across * constants.GRAVITY_MPS2 * 50.0)
    lean = Panel(
        "Lean by acceleration across",
        Axis("acceleration across, g", 0, 1.2, 0.2),
        Axis("lean, °", 0, 60, 10),
        [
            Line(
                "tan lean = a / g",
                across,
                np.degrees(cornering.leans_of_speeds(speed, np.full(61, 1.0 / 50.0))),
            )
        ],
    )
    rubber_c = np.linspace(-10.0, 120.0, 66)
    kelvin = rubber_c + constants.KELVIN
    glow = Panel(
        "What a black surface radiates",
        Axis("°C", 0, 120, 20),
        Axis("W/m²", 0, 1400, 200),
        [Line("sigma T^4", rubber_c[rubber_c >= 0], (constants.STEFAN_BOLTZMANN * kelvin**4)[rubber_c >= 0])],
    )
    return {
        "constants.svg": figure("Lean against acceleration, and radiation against temperature", [lean, glow])
    }
