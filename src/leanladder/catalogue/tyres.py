"""Tyre families: those that ship and those users write."""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files
from pathlib import Path

from leanladder.catalogue.shipped import SUFFIX, names_in, unknown
from leanladder.catalogue.written import as_path, located
from leanladder.domain.tyre import TyreFamily
from leanladder.interchange import tyre
from leanladder.interchange.reading import read_toml

_FOLDER = "tyres"


def tyre_names() -> tuple[str, ...]:
    """Return the names of the families that ship."""
    return names_in(_FOLDER)


def tyre_family(name_or_path: str) -> TyreFamily:
    """Return a family by its name, or a user's own by the path of its tyre/1 file.

    Raises InputError for an unknown name, naming the nearest, and for a file that cannot be used.
    """
    path = as_path(name_or_path)
    if path is None:
        return _shipped(name_or_path)
    return _read(path, source=path.name)


@cache
def _shipped(name: str) -> TyreFamily:
    if name not in tyre_names():
        raise unknown("tyre", name, tyre_names())
    with as_file(files("leanladder").joinpath("data", _FOLDER, name + SUFFIX)) as path:
        return _read(path, source=f"{_FOLDER}/{name}")


def _read(path: Path, source: str) -> TyreFamily:
    written = read_toml(path, tyre.TyreFile, tyre.SCHEMA)
    with located(path):
        base = _shipped(written.base) if written.base is not None else None
        return tyre.tyre_family(written, base, source)
