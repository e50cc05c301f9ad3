"""Conversions at the edges; inside everything is SI, temperatures in degC.

Factors are exact by definition: inch and pound by the international yard and pound agreement
of 1959, pound-force with standard gravity 9.80665 m/s2 (CGPM 1901), mile 1609.344 m (NIST
SP 811, 2008, appendix B). Horsepower is the metric one, 75 kgf m/s.
"""

from leanladder.units.convert import celsius, convert, units_like
from leanladder.units.likely import likely_unit, unit_of_field

__all__ = ["celsius", "convert", "likely_unit", "unit_of_field", "units_like"]
