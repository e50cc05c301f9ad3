"""The figures of data/paper.toml, as plain numbers."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from leanladder import catalogue


@cache
def paper_figures() -> Mapping[str, float]:
    """Return what sheets and cards count on, by name; temperatures in degC, other units in the names."""
    return MappingProxyType({name: figure.value for name, figure in catalogue.parameters("paper").items()})


def count_of(name: str) -> int:
    """Return a figure that counts things."""
    return int(paper_figures()[name])
