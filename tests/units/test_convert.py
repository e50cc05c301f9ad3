"""Conversions against published definitions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leanladder.units import celsius, convert, units_like


@pytest.mark.parametrize(
    ("value", "unit", "to", "expected"),
    [
        # NIST SP 811 (2008), appendix B.8, from memory; factors in bold there are exact.
        (1.0, "in", "m", 0.0254),
        (1.0, "ft", "m", 0.3048),
        (1.0, "mi", "m", 1609.344),
        (1.0, "mph", "m/s", 0.44704),
        (1.0, "lb", "kg", 0.45359237),
        (1.0, "kn", "km/h", 1.852),
        # 1 psi = 6894.757293168... Pa: pound-force over a square inch, each exact (same appendix).
        (1.0, "psi", "Pa", 6894.757293168361),
        (36.0, "km/h", "m/s", 10.0),
        # Metric horsepower 735.49875 W: 75 kgf m/s with standard gravity (CGPM 1901).
        (1.0, "hp", "W", 75 * 9.80665),
        (180.0, "deg", "rad", 3.141592653589793),
    ],
)
def test_published_factors(value: float, unit: str, to: str, expected: float) -> None:
    assert convert(value, unit, to) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize(
    # The fixed points of the two scales: ice 32 and 0, steam 212 and 100, and where they meet.
    ("fahrenheit", "expected"),
    [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0), (98.6, 37.0)],
)
def test_fahrenheit(fahrenheit: float, expected: float) -> None:
    assert celsius(fahrenheit) == pytest.approx(expected, abs=1e-12)


def test_kelvin_is_offset_exactly() -> None:
    # SI brochure, 9th edition: t/degC = T/K - 273.15.
    assert convert(0.0, "K", "degC") == -273.15


@given(st.floats(-1e6, 1e6), st.sampled_from(["degC", "bar", "m/s", "m", "kg", "W", "min", "m3"]), st.data())
def test_there_and_back(value: float, unit: str, data: st.DataObject) -> None:
    other = data.draw(st.sampled_from(units_like(unit)))
    there = convert(value, unit, other)
    scale = max(abs(value), 500.0)  # degC and degF differ by an offset, which costs digits near zero
    assert convert(there, other, unit) == pytest.approx(value, abs=1e-12 * scale)


@pytest.mark.parametrize(("unit", "to"), [("bar", "degC"), ("furlong", "m"), ("m", "furlong")])
def test_kinds_do_not_mix(unit: str, to: str) -> None:
    with pytest.raises(ValueError, match="no conversion"):
        convert(1.0, unit, to)
