"""The road's surface against published formulae: film, steady balance, design maxima."""

from __future__ import annotations

from math import log10

import numpy as np
import pytest

from leanladder.catalogue import parameters
from leanladder.engine.constants import KELVIN, STEFAN_BOLTZMANN
from leanladder.engine.road import Drive, Layer, grounded, plate_film, road_film, surface_course
from leanladder.engine.road_day import Moment, RoadDay, road_day, road_ground
from leanladder.planning.morning import road_parameters

FIRST_OF_JULY_NOON = 1782907200.0  # 2026-07-01T12:00Z


def test_film_of_the_nchrp_report() -> None:
    # National Academies Press 14410, p. 34: 323 K over 298 K at 3 m/s gives 13.91 W/m2K.
    found = road_film(np.array(323 - KELVIN), np.array(298 - KELVIN), np.array(3.0))
    assert found == pytest.approx(13.91, abs=0.01)


@pytest.mark.parametrize(("wind", "low", "high"), [(1.0, 0.6, 1.1), (3.0, 0.6, 1.1), (4.5, 0.6, 1.1)])
def test_film_agrees_with_the_older_plate_form(wind: float, low: float, high: float) -> None:
    # 5.7 + 3.8 U (Juerges/McAdams, from memory) is known to be high; both within a factor.
    at = np.array(40.0), np.array(20.0), np.array(wind)
    assert plate_film(*at) == pytest.approx(5.7 + 3.8 * wind)
    assert low < road_film(*at) / plate_film(*at) < high


@pytest.mark.parametrize(
    ("sun", "air_c", "sky_c", "wind", "deep_c", "surface_c"),
    [
        (900.0, 25.0, 11.03, 3.0, 28.0, 49.80),
        (900.0, 25.0, 11.03, 1.0, 28.0, 57.62),
        (900.0, 25.0, 11.03, 3.0, None, 56.56),
        (200.0, 15.0, 13.0, 3.0, 15.0, 20.75),
        (200.0, 10.0, -10.15, 1.0, 11.0, 14.76),
        (0.0, 10.0, -10.15, 1.0, 14.0, 7.50),
    ],
)
def test_steady_balance(
    sun: float, air_c: float, sky_c: float, wind: float, deep_c: float | None, surface_c: float
) -> None:
    # The equilibrium form of Solaimanian and Kennedy, TRR 1417, 1993, with a = e = 0.9,
    # 5.7 + 3.8 U, 0.2 m of k = 1.5: what the transient balance must come to when nothing changes.
    ground = grounded([Layer(0.2, 1.5, 2.0e6)], insulated=deep_c is None)
    days = 400
    column = np.ones((days, 1))
    drive = Drive(
        86400.0,
        sun * column,
        STEFAN_BOLTZMANN * (sky_c + KELVIN) ** 4 * column,
        air_c * column,
        wind * column,
    )
    start = np.full((len(ground.depth_m), 1), air_c)
    course = surface_course(
        ground, drive, start, [deep_c or 0.0], albedo=0.1, emissivity=0.9, film=plate_film
    )
    assert course.surface_c[-1, 0] == pytest.approx(surface_c, abs=0.01)


def hot_day(air_c: float, latitude: float, wind: float) -> RoadDay:
    moment = Moment(FIRST_OF_JULY_NOON + 7200.0, latitude, 0.0, 0.0, air_c, None, wind, 0.0)
    return road_day(road_parameters(parameters("road")), moment, almanac=False)


def shrp_c(air_c: float, latitude: float) -> float:
    """Superpave's design maximum of the surface (from memory); its film is about 20 W/m2K, 4.5 m/s."""
    return air_c - 0.00618 * latitude**2 + 0.2289 * latitude + 24.4


def ltpp_20mm_c(air_c: float, latitude: float, sure: float = 0.0) -> float:
    """Mohseni's regression at 20 mm, FHWA-RD-97-103, 1998 (from memory); sure in standard errors."""
    return 54.32 + 0.78 * air_c - 0.0025 * latitude**2 - 15.14 * log10(45.0) + sure * 3.0


HOT = [(30.0, 45.0), (25.0, 52.0), (35.0, 40.0), (15.0, 50.0)]


@pytest.mark.parametrize(
    ("place", "shrp", "ltpp"),
    list(zip(HOT, [52.186, 44.592, 58.668, 35.395], [47.628, 42.030, 52.590, 34.740], strict=True)),
)
def test_design_formulae_check_values(place: tuple[float, float], shrp: float, ltpp: float) -> None:
    assert shrp_c(*place) == pytest.approx(shrp, abs=1e-3)
    assert ltpp_20mm_c(*place) == pytest.approx(ltpp, abs=1e-3)


@pytest.mark.parametrize(("air_c", "latitude"), HOT)
def test_computed_midday_stays_under_the_design_maxima(air_c: float, latitude: float) -> None:
    day = hot_day(air_c, latitude, wind=4.5)
    bound = shrp_c(air_c, latitude)
    assert bound - 8.0 < np.max(day.open_c) <= bound
    depth = road_ground(road_parameters(parameters("road"))).depth_m
    at_20mm = np.interp(0.02, depth, day.course.profile_c[:, 0])
    assert at_20mm <= ltpp_20mm_c(air_c, latitude, sure=2.0)


@pytest.mark.parametrize(("air_c", "latitude"), HOT)
def test_in_light_wind_the_midday_maximum_is_within_5_k_of_the_design(air_c: float, latitude: float) -> None:
    # At 2 m/s the film is half of SHRP's, so its "maximum" is passed by up to 4 K: stated, not hidden.
    assert np.max(hot_day(air_c, latitude, wind=2.0).open_c) <= shrp_c(air_c, latitude) + 5.0


@pytest.mark.parametrize(("air_c", "latitude"), HOT)
def test_a_calm_counts_as_a_breath_of_wind(air_c: float, latitude: float) -> None:
    # Without the least wind a calm noon would pass SHRP by 14 K.
    assert np.max(hot_day(air_c, latitude, wind=0.0).open_c) <= shrp_c(air_c, latitude) + 9.0
