"""The sky over the track: where the sun stands, and what sun, cloud and air send down.

A function a published model. Times are seconds since 1970-01-01 UTC; arrays broadcast. Only
`almanac_zenith_deg` needs a library beyond numpy, and imports it when called: starting a plan
with a measured track must not pay for it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from leanladder.engine.constants import KELVIN, SEA_LEVEL_BAR, STEFAN_BOLTZMANN

Floats = NDArray[np.float64]

DAY_S = 86400.0
SOLAR_CONSTANT_W_M2 = 1366.1  # ASTM E490-00a, from memory


def day_angle(unix_s: ArrayLike) -> Floats:
    """Return the angle of the year [rad] that Spencer's series take, 0 on 1 January."""
    year_s = 365.2425 * DAY_S
    return np.asarray(2 * np.pi * np.mod(np.asarray(unix_s, dtype=float), year_s) / year_s)


def declination(angle: Floats) -> Floats:
    """Return the sun's declination [rad] at day_angle [rad]; Spencer 1971, from memory, +-0.01 rad."""
    a = angle
    return np.asarray(
        0.006918 - 0.399912 * np.cos(a) + 0.070257 * np.sin(a) - 0.006758 * np.cos(2 * a)
        + 0.000907 * np.sin(2 * a) - 0.002697 * np.cos(3 * a) + 0.00148 * np.sin(3 * a)
    )  # fmt: skip


def solar_hour(unix_s: ArrayLike, longitude_deg: float) -> Floats:
    """Return true solar time [h], 12 when the sun is due south or north.

    Equation of time of Spencer 1971 (from memory), good to about a minute.
    """
    a = day_angle(unix_s)
    minutes = 229.18 * (
        0.000075 + 0.001868 * np.cos(a) - 0.032077 * np.sin(a)
        - 0.014615 * np.cos(2 * a) - 0.040849 * np.sin(2 * a)
    )  # fmt: skip
    utc_h = np.mod(np.asarray(unix_s, dtype=float), DAY_S) / 3600.0
    return np.asarray(np.mod(utc_h + longitude_deg / 15.0 + minutes / 60.0, 24.0))


def zenith_deg(unix_s: ArrayLike, latitude_deg: float, longitude_deg: float) -> Floats:
    """Return the sun's zenith angle [deg] without refraction; within 0.6 deg from 1980 to 2060."""
    tilt = declination(day_angle(unix_s))
    hour_angle = np.radians(15.0 * (solar_hour(unix_s, longitude_deg) - 12.0))
    north = np.radians(latitude_deg)
    height = np.sin(north) * np.sin(tilt) + np.cos(north) * np.cos(tilt) * np.cos(hour_angle)
    return np.asarray(np.degrees(np.arccos(np.clip(height, -1.0, 1.0))))


def almanac_zenith_deg(
    unix_s: Floats, latitude_deg: float, longitude_deg: float, altitude_m: float
) -> Floats:
    """Return the sun's apparent zenith angle [deg], refraction included, 1950 to 2100.

    The solar position algorithm of Reda and Andreas 2004 as pvlib has it; slower to load than
    `zenith_deg` by about a second.
    """
    import pandas as pd  # noqa: PLC0415 - only a computed track needs it
    from pvlib.solarposition import get_solarposition  # noqa: PLC0415 - the same

    times = pd.to_datetime(np.asarray(unix_s, dtype=float), unit="s", utc=True)
    where = get_solarposition(times, latitude_deg, longitude_deg, altitude=altitude_m)
    return np.asarray(where["apparent_zenith"], dtype=float)


def daylight_h(unix_s: ArrayLike, latitude_deg: float) -> Floats:
    """Return the length of the day [h], sun's centre on a flat horizon; 0 and 24 beyond the circles."""
    tilt = declination(day_angle(unix_s))
    cosine = -np.tan(np.radians(latitude_deg)) * np.tan(tilt)
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))) * 2.0 / 15.0)


def clear_sun(zenith: ArrayLike) -> Floats:
    """Return clear-sky global radiation [W/m2] on the level at zenith [deg].

    Haurwitz, J. Meteorol. 2:154, 1945, with the constants pvlib uses. Sea level and middling
    haze: low by some 5 % at 1500 m.
    """
    height = np.cos(np.radians(np.asarray(zenith, dtype=float)))
    up = np.maximum(height, 1e-4)
    return np.asarray(np.where(height > 0, 1098.0 * up * np.exp(-0.059 / up), 0.0))


def cloud_share(cloud: ArrayLike) -> Floats:
    """Return the share [-] of clear-sky global radiation left under cloud [0..1].

    Kasten and Czeplak, Solar Energy 24:177, 1980 (Hamburg; from memory): 1 - 0.75 n^3.4. A mean
    over many hours: the moment's value scatters widely at half cover.
    """
    return np.asarray(1.0 - 0.75 * np.asarray(cloud, dtype=float) ** 3.4)


def cloud_from_share(share: ArrayLike) -> Floats:
    """Return the cloud [0..1] that leaves share [-] of the clear sky: `cloud_share` turned round."""
    return np.asarray(((1.0 - np.clip(np.asarray(share, dtype=float), 0.25, 1.0)) / 0.75) ** (1 / 3.4))


def diffuse_share(global_w_m2: ArrayLike, zenith: ArrayLike, unix_s: ArrayLike) -> Floats:
    """Return the diffuse share [-] of global radiation [W/m2] with the sun at zenith [deg].

    Erbs, Klein and Duffie, Solar Energy 28:293, 1982, eq. 1, by the hourly clearness index.
    """
    height = np.maximum(np.cos(np.radians(np.asarray(zenith, dtype=float))), 0.065)
    above = SOLAR_CONSTANT_W_M2 * (1.0 + 0.033 * np.cos(day_angle(unix_s)))
    k = np.clip(np.asarray(global_w_m2, dtype=float) / (above * height), 0.0, 1.0)
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return np.asarray(np.select([k <= 0.22, k <= 0.80], [1.0 - 0.09 * k, middle], 0.165))


def vapour_hpa(dew_c: ArrayLike) -> Floats:
    """Return the saturation vapour pressure [hPa] over water at dew_c [degC], -40..50.

    Magnus form with the constants of Sonntag 1990 (from memory).
    """
    t = np.asarray(dew_c, dtype=float)
    return np.asarray(6.112 * np.exp(17.62 * t / (243.12 + t)))


def dew_point_c(air_c: ArrayLike, humidity: ArrayLike) -> Floats:
    """Return the dew point [degC] of air at air_c [degC] and relative humidity [0..1, above 0]."""
    log = np.log(vapour_hpa(air_c) * np.asarray(humidity, dtype=float) / 6.112)
    return np.asarray(243.12 * log / (17.62 - log))


def clear_emissivity(dew_c: ArrayLike, altitude_m: float = 0.0) -> Floats:
    """Return the clear sky's emissivity [-] from the dew point [degC], -20..30.

    Berdahl and Martin, Solar Energy 32:663, 1984: 0.711 + 0.56 d + 0.73 d^2, d = dew / 100, and
    their 0.00012 per hPa of pressure below 1000 hPa; their small daily term is left out.
    """
    d = np.asarray(dew_c, dtype=float) / 100.0
    return np.asarray(0.711 + 0.56 * d + 0.73 * d**2 + 0.00012 * (pressure_hpa(altitude_m) - 1000.0))


def cloudy_emissivity(clear: ArrayLike, cloud: ArrayLike) -> Floats:
    """Return the emissivity [-] of a sky with cloud [0..1]: clear x (1 + 0.17 n^2), at most 1.

    Bras, Hydrology, 1990, eq. 2.43. Other authors have 0.22 (low cloud); the lower is kept, it
    leaves the road colder.
    """
    return np.minimum(np.asarray(clear) * (1.0 + 0.17 * np.asarray(cloud, dtype=float) ** 2), 1.0)


def sky_w_m2(emissivity: ArrayLike, air_c: ArrayLike) -> Floats:
    """Return the long-wave radiation [W/m2] of a sky of emissivity [-] over air at air_c [degC]."""
    return np.asarray(np.asarray(emissivity) * STEFAN_BOLTZMANN * (np.asarray(air_c) + KELVIN) ** 4)


def pressure_hpa(altitude_m: float) -> float:
    """Return the air pressure [hPa] at altitude_m [m]; ISO 2533 standard atmosphere below 11 km."""
    return float(1000.0 * SEA_LEVEL_BAR * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def air_course(hour: ArrayLike, day_h: float, lag_h: float, night_decay: float) -> Floats:
    """Return how far [0..1] the air stands from the day's least to its greatest at solar hour [h].

    Parton and Logan, Agric. Meteorol. 23:205, 1981: a sine from sunrise that peaks lag_h [h] after
    noon, and an exponential fall at night by night_decay [-]; shifted so that it ends at 0 at
    sunrise, which the original does not quite. day_h [h] of daylight, held within 4..20.
    """
    day = min(max(day_h, 4.0), 20.0)
    since = np.mod(np.asarray(hour, dtype=float) - (12.0 - day / 2.0), 24.0)
    rising = np.sin(np.pi * since / (day + 2.0 * lag_h))
    sunset = np.sin(np.pi * day / (day + 2.0 * lag_h))
    end = np.exp(-night_decay)
    falling = sunset * (np.exp(-night_decay * (since - day) / (24.0 - day)) - end) / (1.0 - end)
    return np.asarray(np.where(since < day, rising, falling))
