"""Shapes that the sky's functions must have whatever the figures."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.engine import sky


@given(st.floats(0.0, 1.0))
def test_cloud_turns_round(cloud: float) -> None:
    assert sky.cloud_from_share(sky.cloud_share(cloud)) == pytest.approx(cloud, abs=1e-4)


def test_a_share_out_of_reach_is_clear_or_overcast() -> None:
    assert sky.cloud_from_share([0.0, 0.25, 1.0, 1.3]) == pytest.approx([1.0, 1.0, 0.0, 0.0])


@given(st.floats(-20.0, 45.0), st.floats(0.05, 1.0))
def test_dew_point_is_never_above_the_air(air_c: float, humidity: float) -> None:
    dew = float(sky.dew_point_c(air_c, humidity))
    assert dew <= air_c + 1e-9
    assert float(sky.vapour_hpa(dew)) == pytest.approx(humidity * float(sky.vapour_hpa(air_c)), rel=1e-9)


@given(st.floats(0.0, 24.0), st.floats(1.0, 2.6), st.floats(1.5, 3.0))
def test_the_airs_course_stays_in_its_range(day_h: float, lag_h: float, decay: float) -> None:
    course = sky.air_course(np.linspace(0.0, 24.0, 289), day_h, lag_h, decay)
    assert np.all((course >= -1e-9) & (course <= 1.0 + 1e-9))
    assert np.max(np.abs(np.diff(course))) < 0.2


def test_the_air_is_coldest_at_sunrise_and_warmest_after_noon() -> None:
    hours = np.arange(0.0, 24.0, 0.05)
    course = sky.air_course(hours, 13.7, 1.86, 2.2)
    assert hours[np.argmax(course)] == pytest.approx(13.86, abs=0.06)
    assert hours[np.argmin(course)] == pytest.approx(12.0 - 13.7 / 2.0, abs=0.06)


@given(st.floats(0.0, 1200.0), st.floats(0.0, 120.0))
def test_diffuse_is_a_share(level: float, zenith: float) -> None:
    assert 0.1 <= float(sky.diffuse_share(level, zenith, 1.7e9)) <= 1.0


def test_no_sun_at_night() -> None:
    assert np.all(sky.clear_sun([90.0, 100.0, 180.0]) < 1e-9)


def test_a_cloudy_sky_is_no_warmer_than_a_black_body() -> None:
    assert sky.cloudy_emissivity(0.95, 1.0) == 1.0
