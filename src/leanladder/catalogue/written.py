"""Finding the file behind a name: one that ships, or one a user wrote."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from importlib.resources import as_file, files
from pathlib import Path
from typing import Generic, TypeVar

from leanladder.catalogue.shipped import SUFFIX, names_in, unknown
from leanladder.domain.errors import InputError


def as_path(name_or_path: str) -> Path | None:
    """Return the path that a text means, None where it is a name of the catalogue.

    A path has a folder in it or ends in .toml, so that a file never hides a shipped name.
    """
    if name_or_path.endswith(SUFFIX) or "/" in name_or_path or "\\" in name_or_path:
        return Path(name_or_path).expanduser()
    return None


@contextmanager
def located(path: Path) -> Iterator[None]:
    """Name the file in every InputError raised within, where it does not name one itself."""
    try:
        yield
    except InputError as error:
        if error.fault.file is not None:
            raise
        raise InputError(error.message, replace(error.fault, file=str(path))) from error


Kept = TypeVar("Kept")
# What a shelf reads a file with: its path, its source and how to get at a base it names.
Reader = Callable[[Path, str, Callable[[str], Kept]], Kept]


class Shelf(Generic[Kept]):
    """One kind of file: those that ship in a folder of the data, read once, and users' own."""

    def __init__(self, folder: str, kind: str, read: Reader[Kept]) -> None:
        self._folder, self._kind, self._read = folder, kind, read
        self._shipped: dict[str, Kept] = {}

    def names(self) -> tuple[str, ...]:
        """Return the names of those that ship."""
        return names_in(self._folder)

    def get(self, name_or_path: str) -> Kept:
        """Return one by its name, or a user's own by the path of its file.

        Raises InputError for an unknown name, naming the nearest, and for a file that cannot be used.
        """
        path = as_path(name_or_path)
        if path is None:
            return self.shipped(name_or_path)
        with located(path):
            return self._read(path, path.name, self.shipped)

    def shipped(self, name: str) -> Kept:
        """Return one that ships; raises InputError for an unknown name, naming the nearest."""
        if name not in self.names():
            raise unknown(self._kind, name, self.names())
        if name not in self._shipped:
            with as_file(files("leanladder").joinpath("data", self._folder, name + SUFFIX)) as path:
                self._shipped[name] = self._read(path, f"{self._folder}/{name}", self.shipped)
        return self._shipped[name]
