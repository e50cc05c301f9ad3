"""The fixed speed that geometry looks at a line with."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.geometry.reference_speed import lean_deg, reference_speed

G = 9.80665


@given(radius=st.floats(5.0, 2000.0))
def test_a_circle_is_ridden_at_nine_tenths_of_g_or_sixty(radius: float) -> None:
    speed = reference_speed(np.full(100, 1.0 / radius), 2.0)
    np.testing.assert_allclose(speed, min(60.0, np.sqrt(0.9 * G * radius)), rtol=1e-9)


@given(
    radii=st.lists(st.floats(8.0, 400.0), min_size=1, max_size=8),
    straights=st.lists(st.integers(1, 200), min_size=8, max_size=8),
)
def test_it_stays_within_its_ellipse(radii: list[float], straights: list[int]) -> None:
    step = 2.0
    curvature = np.concatenate(
        [
            np.r_[np.zeros(gap), np.full(15, 1.0 / radius)]
            for gap, radius in zip(straights, radii, strict=False)
        ]
    )
    speed = reference_speed(curvature, step)
    assert speed.max() <= 60.0
    sideways = speed**2 * curvature / (0.9 * G)
    assert sideways.max() <= 1.0 + 1e-9
    along = (np.roll(speed, -1) ** 2 - speed**2) / (2.0 * step) / (0.5 * G)
    # Driving is bound by the node it leaves, braking by the node it reaches.
    bound = np.where(along > 0.0, sideways, np.roll(sideways, -1))
    assert (along**2 + bound**2).max() <= 1.0 + 1e-9


def test_ridden_backwards_or_mirrored_it_is_the_same() -> None:
    rng = np.random.default_rng(2)
    curvature = np.repeat(rng.normal(0.0, 0.01, 30), 10)
    speed = reference_speed(curvature, 2.0)
    np.testing.assert_array_equal(reference_speed(-curvature, 2.0), speed)
    np.testing.assert_allclose(reference_speed(curvature[::-1], 2.0)[::-1], speed, rtol=1e-12)


def test_lean_of_handbook_cases() -> None:
    # tan(lean) = v^2 / (g R), Cossalter, Motorcycle Dynamics, 2nd ed., ch. 4, from memory; worked
    # figures of the shared physics reference, 1.1.
    for speed, radius, lean in ((15, 30, 37.408), (20, 40, 45.559), (30, 100, 42.544), (40, 200, 39.207)):
        assert lean_deg(speed, radius) == pytest.approx(lean, abs=1e-3)
