"""Motorcycles: those that ship and those users write."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from leanladder.catalogue.written import Shelf
from leanladder.domain.motorcycle import Motorcycle
from leanladder.interchange import machine
from leanladder.interchange.reading import read_toml


def _read(path: Path, source: str, shipped: Callable[[str], Motorcycle]) -> Motorcycle:
    written = read_toml(path, machine.MachineFile, machine.SCHEMA, machine.UPGRADERS)
    base = shipped(written.base) if written.base is not None else None
    return machine.motorcycle(written, base, source)


_MACHINES = Shelf("machines", "machine", _read)


def motorcycle_names() -> tuple[str, ...]:
    """Return the names of the machines that ship."""
    return _MACHINES.names()


def motorcycle(name_or_path: str) -> Motorcycle:
    """Return a motorcycle by its name, or a user's own by the path of its machine/1 file.

    Raises InputError for an unknown name, naming the nearest, and for a file that cannot be used.
    """
    return _MACHINES.get(name_or_path)
