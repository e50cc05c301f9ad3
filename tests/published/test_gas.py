"""Inflation gas: constant volume, dry.

p_abs2 = p_abs1 T2/T1, gauge = absolute - atmosphere; figures computed by hand from the law.
"""

from __future__ import annotations

import pytest

from leanladder.engine import gas

SEA_BAR = 1.01325
PSI_BAR = 0.0689476  # exact to its digits: 1 lbf/in2


def degf(value: float) -> float:
    return (value - 32.0) / 1.8


@pytest.mark.parametrize(
    ("set_bar", "set_c", "now_c", "now_bar"),
    [
        (2.1, 20.0, 80.0, 2.7372),
        (1.7, 20.0, 80.0, 2.2553),
        (2.1, 20.0, 30.0, 2.2062),
        (2.5, 15.0, 60.0, 3.0487),
        (2.9, 20.0, 60.0, 3.4340),
        (2.35, 80.0, 20.0, 1.7786),
    ],
)
def test_gauge(set_bar: float, set_c: float, now_c: float, now_bar: float) -> None:
    assert gas.gauge_bar(set_bar, set_c, now_c, SEA_BAR) == pytest.approx(now_bar, abs=5e-5)
    assert gas.gas_c(set_bar, set_c, now_bar, SEA_BAR) == pytest.approx(now_c, abs=0.01)


@pytest.mark.parametrize(
    ("set_psi", "rise_psi"), [(25, 0.764), (30, 0.860), (36, 0.976), (42, 1.091), (37.27, 1.0)]
)
def test_the_rule_of_1_psi_in_10_degf(set_psi: float, rise_psi: float) -> None:
    # Exactly p_abs 10/519.67 at 60 degF: the rule holds at 37.27 psi.
    now = gas.gauge_bar(set_psi * PSI_BAR, degf(60.0), degf(70.0), SEA_BAR)
    assert now / PSI_BAR - set_psi == pytest.approx(rise_psi, abs=6e-4)


def test_a_warm_day() -> None:
    # 20 psi at 70 degF is 23.93 psi at 130 degF, atmosphere taken as 14.7 psi (from memory).
    now = gas.gauge_bar(20.0 * PSI_BAR, degf(70.0), degf(130.0), 14.7 * PSI_BAR)
    assert now / PSI_BAR == pytest.approx(23.93, abs=6e-3)


def test_standard_atmosphere() -> None:
    # ISO 2533: 89.87 kPa at 1000 m (computed from its formula), 1013.25 hPa at sea level.
    assert gas.atmosphere_bar(1000.0) * 100.0 == pytest.approx(89.87, abs=6e-3)
    assert gas.atmosphere_bar(0.0) == pytest.approx(SEA_BAR, abs=1e-12)


def test_a_gauge_reads_more_in_the_hills() -> None:
    # The same gas: a gauge at 1000 m shows 0.11 bar more.
    assert gas.atmosphere_bar(0.0) - gas.atmosphere_bar(1000.0) == pytest.approx(0.1146, abs=5e-4)


def test_what_an_error_of_the_gauge_is_worth() -> None:
    # 0.02 bar is about 2 K: 293 x 0.02 / 3.1.
    one = gas.gas_c(2.1, 20.0, 2.50, SEA_BAR)
    other = gas.gas_c(2.1, 20.0, 2.52, SEA_BAR)
    assert other - one == pytest.approx(293.15 * 0.02 / 3.11325, rel=1e-6)
