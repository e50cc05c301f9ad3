"""Shift of rubber's answer with temperature.

Williams, Landel and Ferry, J. Am. Chem. Soc. 77:3701, 1955; universal constants 17.44 and 51.6 K as
in the IUPAC Gold Book (entry read); values computed from the formula.
"""

from __future__ import annotations

import numpy as np
import pytest

from leanladder.engine import grip

ABOVE = [
    (0.0, 0.0),
    (5.0, -1.54064),
    (10.0, -2.83117),
    (20.0, -4.87151),
    (50.0, -8.58268),
    (70.0, -10.03947),
    (100.0, -11.50396),
]
COLD = [
    (0.0, -6.4118),
    (20.0, -8.5827),
    (40.0, -10.0395),
    (60.0, -11.0847),
    (80.0, -11.8713),
    (100.0, -12.4846),
]


@pytest.mark.parametrize(("above_k", "shift"), ABOVE)
def test_shift_above_the_glass_temperature(above_k: float, shift: float) -> None:
    assert float(grip.wlf_shift(-45.0 + above_k, -45.0)) == pytest.approx(shift, abs=5e-6)


def test_published_check_value() -> None:
    # a_T = 1.34e-5 at Tg + 20 (documentation of an open polymer library, read).
    assert 10.0 ** float(grip.wlf_shift(20.0, 0.0)) == pytest.approx(1.34e-5, rel=5e-3)
    assert 10.0 ** float(grip.wlf_shift(20.0, 0.0)) == pytest.approx(1.3443e-5, rel=5e-5)


@pytest.mark.parametrize(("rubber_c", "shift"), COLD)
def test_shift_of_rubber_with_glass_at_minus_30(rubber_c: float, shift: float) -> None:
    assert float(grip.wlf_shift(rubber_c, -30.0)) == pytest.approx(shift, abs=5e-5)


def test_20_to_80_degc_is_worth_three_decades_of_sliding_speed() -> None:
    shift = grip.wlf_shift(np.array([20.0, 80.0]), -30.0)
    assert shift[0] - shift[1] == pytest.approx(3.289, abs=5e-4)


@pytest.mark.parametrize(("above_k", "shift"), [(-20.0, 2.17157), (20.0, -1.45724), (50.0, -2.92216)])
def test_other_form_of_the_same_law(above_k: float, shift: float) -> None:
    # C1 = 8.86, C2 = 101.6 K about Tg + 50 K (from memory): the same curve but for rounded constants,
    # 3 in 10,000.
    found = grip.wlf_shift(50.0 + above_k, 0.0) - grip.wlf_shift(50.0, 0.0)
    assert float(found) == pytest.approx(shift, rel=5e-4)


def test_held_below_the_glass_temperature() -> None:
    assert np.all(grip.wlf_shift(np.array([-60.0, -45.0]), -45.0) == 0.0)


def test_peak_form() -> None:
    # mu = mu_m exp(-(h x)^2), Savkoor's form (from memory): h = 0.35, 2 decades off, 0.61263. For a
    # glass temperature of 0 and full at 70 degC, 2 decades slower is at 44.13 degC.
    slower_c = 8.03947 * 51.6 / (17.44 - 8.03947)
    found = grip.developed(np.array([slower_c, 70.0, 90.0]), 0.0, 70.0, 0.0, 0.35)
    assert found == pytest.approx([0.61263, 1.0, 1.0], abs=5e-6)
