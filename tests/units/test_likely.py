from __future__ import annotations

import pytest

from leanladder.units import likely_unit, unit_of_field


@pytest.mark.parametrize(
    ("value", "unit", "low", "high", "likely"),
    [
        (34.0, "bar", 1.0, 4.0, "psi"),
        (240.0, "bar", 1.0, 4.0, "kPa"),
        (77.0, "degC", -30.0, 50.0, "degF"),
        (290.0, "degC", -30.0, 50.0, "K"),
        (65.0, "m", 0.03, 0.16, "mm"),
        (60.0, "-", 0.0, 1.0, "%"),
        (1e9, "bar", 1.0, 4.0, None),
        (0.0, "bar", 1.0, 4.0, None),
        (float("nan"), "bar", 1.0, 4.0, None),
        (3.0, "an unknown unit", 1.0, 2.0, None),
    ],
)
def test_the_unit_it_was_likely_written_in(
    value: float, unit: str, low: float, high: float, likely: str | None
) -> None:
    assert likely_unit(value, unit, low, high) == likely


@pytest.mark.parametrize(
    ("field", "unit"),
    [
        ("air_c", "degC"),
        ("cold_bar", "bar"),
        ("wind_mps", "m/s"),
        ("length_m", "m"),
        ("m", None),
        ("laps", None),
    ],
)
def test_a_field_name_ends_in_its_unit(field: str, unit: str | None) -> None:
    assert unit_of_field(field) == unit
