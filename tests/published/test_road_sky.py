"""Sun and sky against published values and against pvlib (BSD-3-Clause), an independent code."""

from __future__ import annotations

import numpy as np
import pytest

from leanladder.engine import sky
from leanladder.engine.constants import KELVIN, STEFAN_BOLTZMANN

YEAR_2026 = 1767225600.0  # 2026-01-01T00:00Z
PLACES = [(50.0, 10.0), (0.0, 100.0), (-37.0, 145.0), (65.0, -20.0), (35.0, -80.0)]


def year_of_hours() -> np.ndarray:
    return YEAR_2026 + 3600.0 * np.arange(0.0, 365.0 * 24.0, 5.0)


@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
def test_the_closed_sun_stands_where_pvlib_has_it(latitude: float, longitude: float) -> None:
    import pandas as pd
    from pvlib.solarposition import get_solarposition

    hours = year_of_hours()
    theirs = get_solarposition(pd.to_datetime(hours, unit="s", utc=True), latitude, longitude)["zenith"]
    assert np.max(np.abs(sky.zenith_deg(hours, latitude, longitude) - theirs.to_numpy())) < 0.6


def test_the_almanac_sun_is_the_closed_one_but_for_refraction() -> None:
    hours = year_of_hours()
    almanac = sky.almanac_zenith_deg(hours, 50.0, 10.0, 300.0)
    closed = sky.zenith_deg(hours, 50.0, 10.0)
    high = closed < 80.0
    assert np.max(np.abs(almanac - closed)[high]) < 0.7
    rising = np.abs(closed - 90.0) < 1.0
    assert np.all((closed - almanac)[rising] > -0.6)  # refraction lifts the sun by about 0.5 deg


@pytest.mark.parametrize(
    ("day", "declination_deg"),
    [(78.6, 0.0), (171.35, 23.44), (265.0, 0.0), (354.9, -23.44)],
)
def test_declination_at_equinoxes_and_solstices(day: float, declination_deg: float) -> None:
    # 2026: 20 March 14:46, 21 June 08:25, 23 September 00:05, 21 December 20:50 UTC (from memory).
    angle = sky.day_angle(YEAR_2026 + day * sky.DAY_S)
    assert np.degrees(sky.declination(angle)) == pytest.approx(declination_deg, abs=0.6)


@pytest.mark.parametrize(("day", "minutes"), [(41, -14.2), (133, 3.7), (206, -6.5), (306, 16.4)])
def test_equation_of_time_at_its_extremes(day: int, minutes: float) -> None:
    # Almanac extremes of 11 February, 14 May, 26 July, 3 November (from memory).
    noon = YEAR_2026 + day * sky.DAY_S + sky.DAY_S / 2.0
    assert (sky.solar_hour(noon, 0.0) - 12.0) * 60.0 == pytest.approx(minutes, abs=1.0)


def test_daylight_at_50_north() -> None:
    # Geometric day lengths 16.1 h and 7.9 h at the solstices, 12 h at the equinox.
    days = [sky.daylight_h(YEAR_2026 + day * sky.DAY_S, 50.0) for day in (171, 354, 79)]
    assert np.array(days) == pytest.approx([16.15, 7.85, 12.0], abs=0.1)
    assert sky.daylight_h(YEAR_2026 + 171 * sky.DAY_S, 80.0) == 24.0


def test_haurwitz_check_values() -> None:
    # 1098 cos z exp(-0.059 / cos z) at z = 0, 30, 60 deg.
    assert sky.clear_sun([0.0, 30.0, 60.0]) == pytest.approx([1035.09, 888.27, 487.89], abs=0.01)


def test_haurwitz_is_pvlibs() -> None:
    import pandas as pd
    from pvlib.clearsky import haurwitz

    zenith = np.linspace(0.0, 120.0, 241)
    theirs = haurwitz(pd.Series(zenith))["ghi"].to_numpy()
    assert sky.clear_sun(zenith) == pytest.approx(theirs, abs=1e-6)


def test_diffuse_share_is_pvlibs_erbs() -> None:
    from pvlib.irradiance import erbs

    at = YEAR_2026 + 104.0 * sky.DAY_S
    zenith = np.linspace(5.0, 80.0, 16)[:, None]
    level = sky.clear_sun(zenith) * np.linspace(0.05, 1.0, 20)
    theirs = erbs(level, np.broadcast_to(zenith, level.shape), 105)["dhi"]
    assert sky.diffuse_share(level, zenith, at) * level == pytest.approx(theirs, abs=6.0)


def test_cloud_after_kasten_and_czeplak() -> None:
    # 1 - 0.75 n^3.4: overcast leaves a quarter, half cover 93 % (Solar Energy 24:177, from memory).
    assert sky.cloud_share([0.0, 0.5, 0.75, 1.0]) == pytest.approx([1.0, 0.9290, 0.7180, 0.25], abs=1e-4)


def test_clear_emissivity_after_berdahl_and_martin() -> None:
    # 0.711 + 0.56 d + 0.73 d^2 at 1000 hPa; d = dew point / 100 (Solar Energy 32:663, 1984).
    by_1000_hpa = 0.00012 * (1013.25 - 1000.0)
    found = sky.clear_emissivity([-10.0, 0.0, 10.0, 20.0]) - by_1000_hpa
    assert found == pytest.approx([0.6623, 0.7110, 0.7743, 0.8522], abs=1e-4)


@pytest.mark.parametrize(("air_c", "swinbank_c"), [(10, -10.15), (20, 3.91), (25, 11.03), (30, 18.21)])
def test_clear_sky_temperature_is_near_swinbanks(air_c: float, swinbank_c: float) -> None:
    # Swinbank 1963 (from memory): Tsky = 0.0552 Ta^1.5, made for middling humidity.
    assert 0.0552 * (air_c + KELVIN) ** 1.5 - KELVIN == pytest.approx(swinbank_c, abs=0.01)
    dew = sky.dew_point_c(air_c, 0.5)
    sky_k = (sky.sky_w_m2(sky.clear_emissivity(dew), air_c) / STEFAN_BOLTZMANN) ** 0.25
    assert sky_k - KELVIN == pytest.approx(swinbank_c, abs=4.5)


def test_cloud_adds_long_wave_after_bras() -> None:
    # 1 + 0.17 n^2 (Bras 1990, eq. 2.43).
    assert sky.cloudy_emissivity(0.75, [0.0, 0.5, 1.0]) == pytest.approx([0.75, 0.781875, 0.8775])


@pytest.mark.parametrize(("at_c", "kpa"), [(10, 1.226), (20, 2.333), (40, 7.37)])
def test_vapour_pressure_check_values(at_c: float, kpa: float) -> None:
    # Magnus, as tabulated in steam tables to 0.3 %.
    assert sky.vapour_hpa(at_c) / 10.0 == pytest.approx(kpa, rel=3e-3)


@pytest.mark.parametrize(
    ("air_c", "humidity", "dew_c"), [(20, 0.5, 9.3), (10, 0.8, 6.7), (30, 0.4, 14.9), (0, 0.9, -1.4)]
)
def test_dew_point_as_on_a_psychrometric_chart(air_c: float, humidity: float, dew_c: float) -> None:
    # Chart readings (from memory), to 0.2 K.
    assert sky.dew_point_c(air_c, humidity) == pytest.approx(dew_c, abs=0.2)


def test_pressure_at_1000_m() -> None:
    # ISO 2533: 898.7 hPa.
    assert sky.pressure_hpa(1000.0) == pytest.approx(898.7, abs=0.2)
