"""Rider levels, from data/levels.toml."""

from __future__ import annotations

from functools import cache

from leanladder.catalogue.shipped import content, parameter, unknown
from leanladder.domain.rider import Level
from leanladder.interchange.figures import parameter_names

_FILE = "levels"


def level_names() -> tuple[str, ...]:
    """Return the names of the levels, in the file's order: the most careful first."""
    return tuple(content(_FILE))


@cache
def level(name: str) -> Level:
    """Return a rider level by its name; raises InputError naming the nearest for an unknown one."""
    if name not in level_names():
        raise unknown("rider level", name, level_names())
    table = content(_FILE)[name]
    figures = {item: parameter(table[item]) for item in parameter_names(Level)}
    return Level(name=name, coach_laps=int(table["coach_laps"]), warming=bool(table["warming"]), **figures)
