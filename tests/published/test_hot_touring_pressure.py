"""A road touring machine's hot pressures, beside figures published in words.

Source: "Hot tire pressures", appendix C, a public web page of 2022 by Crystal Clear Research, as quoted to us
(the page was not read): road touring machine, 4-20 degC air, 41.4/42.0 psi cold (front, rear), 48.0/50.7 psi
after 3 h at 120-140 km/h, most of the rise within 20 min; implied gas about 37 and 47 degC. What it leaves
open, and what the model's band is: tests/published/touring.py. Nothing was tuned on this.
"""

from __future__ import annotations

import numpy as np
import pytest
from tests.published.touring import (
    AIRS_C,
    COLD_PSI,
    FRONT,
    HOT_PSI,
    IMPLIED_GAS_C,
    REAR,
    SET_C,
    SPEEDS_KMH,
    Way,
    members,
    shipped,
)

from leanladder.engine import gas

SEA_PSI = 14.696
BAND = (5.0, 95.0)  # percentiles of the members: nine in ten


def _band(wheel: int) -> tuple[float, float]:
    """The model's band of pressure after 3 h [psi]."""
    low, high = np.percentile([one.psi[-1, wheel] for one in members()], BAND)
    return float(low), float(high)


@pytest.mark.parametrize("wheel", [FRONT, REAR])
def test_the_figures_agree_with_the_gas_that_is_named_beside_them(wheel: int) -> None:
    hot = gas.gas_c(COLD_PSI[wheel], SET_C, HOT_PSI[wheel], SEA_PSI)
    assert hot == pytest.approx(IMPLIED_GAS_C[wheel], abs=1.0)


def test_front_stands_within_the_band() -> None:
    low, high = _band(FRONT)
    assert low <= HOT_PSI[FRONT] <= high


@pytest.mark.xfail(
    strict=True,
    reason="measured: the rear's band ends at 50.3 psi, 0.4 under the published 50.7: decision 0022",
)
def test_rear_stands_within_the_band() -> None:
    low, high = _band(REAR)
    assert low <= HOT_PSI[REAR] <= high


@pytest.mark.parametrize("speed_kmh", SPEEDS_KMH)
@pytest.mark.parametrize("air_c", AIRS_C)
def test_most_of_the_rise_stands_within_20_min(air_c: float, speed_kmh: float) -> None:
    assert np.all(shipped(Way(air_c, speed_kmh)).early(20) > 0.5)


def test_most_of_the_rise_stands_within_20_min_for_every_member() -> None:
    assert np.all(np.array([one.early(20) for one in members()]) > 0.5)


@pytest.mark.parametrize("speed_kmh", SPEEDS_KMH)
@pytest.mark.parametrize("air_c", AIRS_C)
def test_the_rear_runs_warmer_than_the_front(air_c: float, speed_kmh: float) -> None:
    front, rear = shipped(Way(air_c, speed_kmh)).gas_c[-1]
    assert rear > front
