"""Between units of one kind."""

from __future__ import annotations

# Each unit as (factor, offset) to the first of its kind: first = factor * value + offset.
_KINDS: tuple[dict[str, tuple[float, float]], ...] = (
    {"degC": (1.0, 0.0), "degF": (5.0 / 9.0, -160.0 / 9.0), "K": (1.0, -273.15)},
    {
        "bar": (1.0, 0.0),
        "psi": (4.4482216152605 / 0.0254**2 / 1e5, 0.0),
        "kPa": (0.01, 0.0),
        "Pa": (1e-5, 0.0),
    },
    {"m/s": (1.0, 0.0), "km/h": (1.0 / 3.6, 0.0), "mph": (0.44704, 0.0), "kn": (1852.0 / 3600.0, 0.0)},
    {
        "m": (1.0, 0.0),
        "mm": (0.001, 0.0),
        "cm": (0.01, 0.0),
        "km": (1000.0, 0.0),
        "in": (0.0254, 0.0),
        "ft": (0.3048, 0.0),
        "mi": (1609.344, 0.0),
    },
    {"kg": (1.0, 0.0), "lb": (0.45359237, 0.0), "t": (1000.0, 0.0), "g": (0.001, 0.0)},
    {"W": (1.0, 0.0), "kW": (1000.0, 0.0), "hp": (735.49875, 0.0)},
    {"deg": (1.0, 0.0), "rad": (57.29577951308232, 0.0)},
    {"-": (1.0, 0.0), "%": (0.01, 0.0)},
    {"1/K": (1.0, 0.0), "%/K": (0.01, 0.0)},
    {"m/s2": (1.0, 0.0), "g": (9.80665, 0.0)},
    {"kg/m3": (1.0, 0.0), "g/cm3": (1000.0, 0.0)},
    {"J/(kg K)": (1.0, 0.0), "kJ/(kg K)": (1000.0, 0.0)},
    {"min": (1.0, 0.0), "s": (1.0 / 60.0, 0.0), "h": (60.0, 0.0)},
    {"m3": (1.0, 0.0), "l": (0.001, 0.0), "cm3": (1e-6, 0.0)},
    {"m2": (1.0, 0.0), "cm2": (1e-4, 0.0)},
)


def units_like(unit: str) -> tuple[str, ...]:
    """Return the units of the same kind as unit, itself included; empty for an unknown one."""
    return next((tuple(kind) for kind in _KINDS if unit in kind), ())


def convert(value: float, unit: str, to: str) -> float:
    """Return value [unit] in the unit to.

    Raises ValueError where either is unknown or the two are of different kinds.
    """
    for kind in _KINDS:
        if unit in kind and to in kind:
            factor, offset = kind[unit]
            to_factor, to_offset = kind[to]
            return (factor * value + offset - to_offset) / to_factor
    raise ValueError(f"no conversion from {unit!r} to {to!r}")


def celsius(fahrenheit: float) -> float:
    """Return a temperature given in degF as degC: (F - 32) * 5/9, exact by definition."""
    return convert(fahrenheit, "degF", "degC")
