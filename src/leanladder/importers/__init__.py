"""Circuit files as outlines: a folder a format, found by walking this package.

Each format is a package that says NAME, SUFFIXES and `confidence(head)`, 0 to 1, how sure it is
of a file by its first 4 KiB; and has `read(path)`, which returns the `Outline`.
"""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from pathlib import Path
from typing import Protocol, cast

from leanladder.domain.circuit import Outline
from leanladder.domain.errors import Fault, InputError
from leanladder.importers.source import head

SUFFIX_BONUS = 0.3
LEAST_CONFIDENCE = 0.2


class Format(Protocol):
    """What a format's package offers."""

    NAME: str
    SUFFIXES: tuple[str, ...]

    def confidence(self, head: bytes) -> float:
        """Return how sure the format is of a file's first 4 KiB, from 0 to 1."""

    def read(self, path: Path) -> Outline:
        """Return the outline of a file; raises InputError."""


@cache
def formats() -> tuple[Format, ...]:
    """Return the formats in this package, by name."""
    names = sorted(item.name for item in pkgutil.iter_modules(__path__) if item.ispkg)
    return tuple(cast("Format", importlib.import_module(f"{__name__}.{name}")) for name in names)


def read_outline(path: Path) -> Outline:
    """Return the outline in a circuit file, in whichever format knows it.

    Raises InputError for anything that is no text file of a known format with one usable line:
    missing, empty, binary, a folder, over 20 MB or 50,000 points, figures out of range.
    """
    start = head(path)
    suffix = path.suffix.lower()
    sure = [(_sureness(form, start, suffix), form) for form in formats()]
    best, form = max(sure, key=lambda pair: pair[0])
    if best < LEAST_CONFIDENCE:
        known = ", ".join(item.NAME for item in formats())
        raise InputError("the format is not known.", Fault(file=str(path), allowed=known))
    return form.read(path)


def _sureness(form: Format, start: bytes, suffix: str) -> float:
    """Return a format's confidence, raised where the file's suffix is one of its own."""
    return form.confidence(start) + (SUFFIX_BONUS if suffix in form.SUFFIXES else 0.0)
