"""The figures of data/why.toml, as plain numbers."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from leanladder import catalogue
from leanladder.domain.session import Start


@cache
def why_figures() -> Mapping[str, float]:
    """Return what a rung is compared with, by name; units in the names."""
    return MappingProxyType({name: figure.value for name, figure in catalogue.parameters("why").items()})


def warmers() -> Start:
    """Return the start off warmers that a rung is compared with."""
    figures = why_figures()
    return Start(
        "warmers", warmers_c=figures["warmers_c"], on_min=figures["on_min"], off_min=figures["off_min"]
    )
