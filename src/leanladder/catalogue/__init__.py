"""Reads and checks the data files: tyre families, motorcycles, levels, surfaces, parameters."""

from leanladder.catalogue.day_words import day_words
from leanladder.catalogue.levels import level, level_names
from leanladder.catalogue.machines import motorcycle, motorcycle_names
from leanladder.catalogue.provenance import digest, sources
from leanladder.catalogue.spreads import spreads
from leanladder.catalogue.surfaces import surface, surface_names
from leanladder.catalogue.tables import parameters, table_names
from leanladder.catalogue.tyres import tyre_family, tyre_names

__all__ = [
    "day_words",
    "digest",
    "level",
    "level_names",
    "motorcycle",
    "motorcycle_names",
    "parameters",
    "sources",
    "spreads",
    "surface",
    "surface_names",
    "table_names",
    "tyre_family",
    "tyre_names",
]
