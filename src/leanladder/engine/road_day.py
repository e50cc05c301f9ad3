"""The road now, from the one air temperature known and the hours before it.

What happened in those hours is not known, so it is assumed, and stated here: cloud and wind have
been as they are now, and no calm lasted; the air has followed Parton and Logan's daily course through the
temperature now, with a range that grows with the noon sun and shrinks with cloud; its moisture
has not changed; and the day before was the same. The ground starts at the mean of the air.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leanladder.engine import sky
from leanladder.engine.road import Course, Drive, Ground, Layer, grounded, surface_course

Floats = NDArray[np.float64]

STEP_S = 300.0


@dataclass(frozen=True, slots=True)
class RoadParameters:
    """Figures of a paved road and of the day around it, as data/road.toml has them.

    albedo, emissivity [-]; per layer thickness [m], conductivity [W/mK] and heat capacity [J/m3K];
    deep_offset_k [K] of the deep ground against the day's mean air; spin_up_h [h] of the past
    that is followed; least_wind_mps [m/s], what a calm counts as; air_range_clear_k,
    air_range_cloudy_k [K], the air's daily range with the sun high; air_lag_h [h] of its peak
    after noon; night_decay [-].
    """

    albedo: float
    emissivity: float
    asphalt_m: float
    asphalt_conductivity_w_mk: float
    asphalt_capacity_j_m3k: float
    base_m: float
    base_conductivity_w_mk: float
    base_capacity_j_m3k: float
    soil_m: float
    soil_conductivity_w_mk: float
    soil_capacity_j_m3k: float
    deep_offset_k: float
    spin_up_h: float
    least_wind_mps: float
    air_range_clear_k: float
    air_range_cloudy_k: float
    air_lag_h: float
    night_decay: float


@dataclass(frozen=True, slots=True)
class Moment:
    """Weather at one moment and place: unix_s [s, UTC]; latitude_deg, longitude_deg; altitude_m [m].

    air_c [degC]; dew_c [degC], None where humidity is unknown; wind_mps [m/s]; cloud [0..1].
    """

    unix_s: float
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    air_c: float
    dew_c: float | None
    wind_mps: float
    cloud: float


@dataclass(frozen=True, slots=True)
class RoadDay:
    """The road over the hours before a moment, the last entry being now.

    unix_s (n,) [s]; open_c, shaded_c (n,) [degC]; air_c (n,) [degC]; sun_w_m2, diffuse_w_m2 (n,)
    [W/m2] on the level; course is the ground's answer with its heat account.
    """

    unix_s: Floats
    open_c: Floats
    shaded_c: Floats
    air_c: Floats
    sun_w_m2: Floats
    diffuse_w_m2: Floats
    course: Course


def road_ground(figures: RoadParameters) -> Ground:
    """Return the layered ground of a paved road."""
    p = figures
    return grounded(
        [
            Layer(p.asphalt_m, p.asphalt_conductivity_w_mk, p.asphalt_capacity_j_m3k),
            Layer(p.base_m, p.base_conductivity_w_mk, p.base_capacity_j_m3k),
            Layer(p.soil_m, p.soil_conductivity_w_mk, p.soil_capacity_j_m3k),
        ]
    )


def air_range_k(figures: RoadParameters, latitude_deg: float, unix_s: float, cloud: float) -> float:
    """Return the air's daily range [K]: the clear-sky surplus by the root of the noon sun's height.

    Judgement, its spread in the data file; arid inland days have more, coasts less.
    """
    tilt = float(sky.declination(sky.day_angle(unix_s)))
    noon = max(float(np.cos(np.radians(latitude_deg) - tilt)), 0.0)
    surplus = figures.air_range_clear_k - figures.air_range_cloudy_k
    return float(figures.air_range_cloudy_k + surplus * np.sqrt(noon) * sky.cloud_share(cloud))


def air_before_c(figures: RoadParameters, moment: Moment, unix_s: Floats) -> Floats:
    """Return the assumed air temperature [degC] at unix_s (n,), through moment.air_c now."""
    p, m = figures, moment
    daylight = float(sky.daylight_h(m.unix_s, m.latitude_deg))
    times = np.append(unix_s, m.unix_s)
    hours = sky.solar_hour(times, m.longitude_deg)
    course = sky.air_course(hours, daylight, p.air_lag_h, p.night_decay)
    spread = air_range_k(p, m.latitude_deg, m.unix_s, m.cloud)
    return np.asarray(m.air_c + spread * (course[:-1] - course[-1]))


def drive_before(figures: RoadParameters, moment: Moment, *, almanac: bool) -> tuple[Floats, Drive]:
    """Return unix_s (n,) [s] of the steps up to moment, and what acts on the road through them.

    Column 0 of the drive's sun is the open, column 1 the coldest shade, which sees the whole sky
    and never the sun's disc. almanac takes the sun from the almanac library, else from the
    closed series (no further import; within 0.6 deg).
    """
    m = moment
    steps = round(figures.spin_up_h * 3600.0 / STEP_S)
    unix_s: Floats = np.asarray(m.unix_s - STEP_S * np.arange(steps - 1, -1, -1), dtype=np.float64)
    if almanac:
        zenith = sky.almanac_zenith_deg(unix_s, m.latitude_deg, m.longitude_deg, m.altitude_m)
    else:
        zenith = sky.zenith_deg(unix_s, m.latitude_deg, m.longitude_deg)
    sun = sky.clear_sun(zenith) * sky.cloud_share(m.cloud)
    diffuse = sun * sky.diffuse_share(sun, zenith, unix_s)
    air = air_before_c(figures, m, unix_s)
    both = np.column_stack([sun, diffuse])
    wind = np.full((steps, 1), max(m.wind_mps, figures.least_wind_mps))
    return unix_s, Drive(STEP_S, both, _sky_before(m, air)[:, None], air[:, None], wind)


def follow(figures: RoadParameters, drive: Drive) -> Course:
    """Follow the road through drive (n, m) from ground at each column's mean air of the last day."""
    p = figures
    ground = road_ground(p)
    columns = drive.sun_w_m2.shape[1]
    mean_c = np.mean(drive.air_c[-round(sky.DAY_S / drive.step_s) :], axis=0)
    start = np.tile(mean_c, (len(ground.depth_m), columns // len(mean_c)))
    deep = start[-1] + p.deep_offset_k
    return surface_course(ground, drive, start, deep, albedo=p.albedo, emissivity=p.emissivity)


def road_day(figures: RoadParameters, moment: Moment, *, almanac: bool) -> RoadDay:
    """Return the road in the open and in the coldest shade over figures.spin_up_h up to moment.

    almanac: see `drive_before`.
    """
    unix_s, drive = drive_before(figures, moment, almanac=almanac)
    course = follow(figures, drive)
    surface, sun = course.surface_c, drive.sun_w_m2
    return RoadDay(unix_s, surface[:, 0], surface[:, 1], drive.air_c[:, 0], sun[:, 0], sun[:, 1], course)


def _sky_before(moment: Moment, air_c: Floats) -> Floats:
    """Return the sky's long-wave radiation [W/m2] over air_c (n,) [degC].

    Unknown moisture: the dew point is the least air temperature of the day, as FAO-56 advises
    (Allen and others 1998, eq. 48, from memory). Air that falls below its dew point sheds it.
    """
    dew = float(np.min(air_c)) if moment.dew_c is None else moment.dew_c
    clear = sky.clear_emissivity(np.minimum(dew, air_c), moment.altitude_m)
    return sky.sky_w_m2(sky.cloudy_emissivity(clear, moment.cloud), air_c)
