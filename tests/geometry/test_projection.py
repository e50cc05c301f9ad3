"""Degrees to metres: against geodesics on the ellipsoid (Karney 2013, through pyproj.Geod)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod

from leanladder.geometry.projection import to_metres

GEOD = Geod(ellps="WGS84")


@given(
    latitude=st.floats(-75.0, 75.0),
    longitude=st.floats(-180.0, 180.0),
    bearing=st.floats(0.0, 360.0),
    reach=st.floats(50.0, 4000.0),
)
def test_distances_are_those_on_the_ellipsoid(
    latitude: float, longitude: float, bearing: float, reach: float
) -> None:
    far_lon, far_lat, _ = GEOD.fwd(longitude, latitude, bearing, reach)
    points, centre_latitude, _ = to_metres(np.array([[latitude, longitude], [far_lat, far_lon]]))
    assert np.hypot(*(points[1] - points[0])) == pytest.approx(reach, rel=3e-7)
    assert centre_latitude == pytest.approx((latitude + far_lat) / 2.0)


def test_east_is_right_and_north_is_up() -> None:
    points, _, _ = to_metres(np.array([[52.0, -1.0], [52.0, -0.99], [52.01, -1.0]]))
    assert points[1, 0] > points[0, 0]
    assert points[2, 1] > points[0, 1]


def test_a_circuit_across_the_date_line_stays_whole() -> None:
    points, _, longitude = to_metres(np.array([[-17.0, 179.99], [-17.0, -179.99], [-17.01, 180.0]]))
    assert np.hypot(*(points[1] - points[0])) == pytest.approx(2130.0, abs=10.0)
    assert abs(longitude) == pytest.approx(180.0, abs=0.02)


def test_mirrored_longitudes_are_a_mirrored_plane() -> None:
    degrees = np.array([[52.0, 0.30], [52.01, 0.31], [52.02, 0.28]])
    plain, mirrored = to_metres(degrees)[0], to_metres(degrees * [1.0, -1.0])[0]
    np.testing.assert_allclose(mirrored, plain * [-1.0, 1.0], atol=1e-8)
