"""Cold pressures for hot ones: only with the maker's minimum, and never under it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder import catalogue
from leanladder.domain.errors import InputError
from leanladder.engine import gas
from leanladder.planning.pressure import cold_for_hot

PLAIN = catalogue.tyre_family("sport-road").rear
HOT, GAS, SET, HIGH = (
    st.floats(1.0, 4.5),
    st.floats(20.0, 130.0),
    st.floats(-10.0, 60.0),
    st.floats(-400.0, 3000.0),
)


def test_no_cold_pressure_without_the_makers_minimum() -> None:
    assert cold_for_hot(replace(PLAIN, minimum_cold_bar=None), 2.6, 70.0, 10.0) is None


@given(HOT, GAS, SET, HIGH, st.floats(1.0, 3.0))
def test_never_under_the_minimum_and_else_it_reads_as_wanted(
    hot_bar: float, gas_c: float, set_c: float, altitude_m: float, minimum_bar: float
) -> None:
    tyre = replace(PLAIN, minimum_cold_bar=minimum_bar)
    cold = cold_for_hot(tyre, hot_bar, gas_c, set_c, altitude_m)
    assert cold is not None
    assert cold >= minimum_bar
    reads = gas.gauge_bar(cold, set_c, gas_c, gas.atmosphere_bar(altitude_m))
    if cold > minimum_bar:
        assert reads == pytest.approx(hot_bar, abs=1e-9)
    else:
        assert reads >= hot_bar - 1e-9


@pytest.mark.parametrize(
    ("hot_bar", "gas_c", "set_c", "field"),
    [
        (35.0, 70.0, 10.0, "hot_bar"),
        (2.5, 160.0, 10.0, "gas_c"),
        (2.5, 70.0, 68.0, "set_c"),
        (float("nan"), 70.0, 10.0, "hot_bar"),
    ],
)
def test_figures_that_cannot_be_meant(hot_bar: float, gas_c: float, set_c: float, field: str) -> None:
    with pytest.raises(InputError) as caught:
        cold_for_hot(PLAIN, hot_bar, gas_c, set_c)
    assert caught.value.fault.field == field
    assert caught.value.fault.allowed
