"""Finding the file behind a name: one that ships, or one a user wrote."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from leanladder.catalogue.shipped import SUFFIX
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
