"""Tyre families: those that ship and those users write."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from leanladder.catalogue.written import Shelf
from leanladder.domain.tyre import TyreFamily
from leanladder.interchange import tyre
from leanladder.interchange.reading import read_toml


def _read(path: Path, source: str, shipped: Callable[[str], TyreFamily]) -> TyreFamily:
    written = read_toml(path, tyre.TyreFile, tyre.SCHEMA, tyre.UPGRADERS)
    base = shipped(written.base) if written.base is not None else None
    return tyre.tyre_family(written, base, source)


_FAMILIES = Shelf("tyres", "tyre", _read)


def tyre_names() -> tuple[str, ...]:
    """Return the names of the families that ship."""
    return _FAMILIES.names()


def tyre_family(name_or_path: str) -> TyreFamily:
    """Return a family by its name, or a user's own by the path of its tyre/1 file.

    Raises InputError for an unknown name, naming the nearest, and for a file that cannot be used.
    """
    return _FAMILIES.get(name_or_path)
