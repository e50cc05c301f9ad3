"""Motorcycles: those that ship and those users write."""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files
from pathlib import Path

from leanladder.catalogue.shipped import SUFFIX, names_in, unknown
from leanladder.catalogue.written import as_path, located
from leanladder.domain.motorcycle import Motorcycle
from leanladder.interchange import machine
from leanladder.interchange.reading import read_toml

_FOLDER = "machines"


def motorcycle_names() -> tuple[str, ...]:
    """Return the names of the machines that ship."""
    return names_in(_FOLDER)


def motorcycle(name_or_path: str) -> Motorcycle:
    """Return a motorcycle by its name, or a user's own by the path of its machine/1 file.

    Raises InputError for an unknown name, naming the nearest, and for a file that cannot be used.
    """
    path = as_path(name_or_path)
    if path is None:
        return _shipped(name_or_path)
    return _read(path, source=path.name)


@cache
def _shipped(name: str) -> Motorcycle:
    if name not in motorcycle_names():
        raise unknown("machine", name, motorcycle_names())
    with as_file(files("leanladder").joinpath("data", _FOLDER, name + SUFFIX)) as path:
        return _read(path, source=f"{_FOLDER}/{name}")


def _read(path: Path, source: str) -> Motorcycle:
    written = read_toml(path, machine.MachineFile, machine.SCHEMA)
    with located(path):
        base = _shipped(written.base) if written.base is not None else None
        return machine.motorcycle(written, base, source)
