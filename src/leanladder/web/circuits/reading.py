"""A line's file read; also in a process of its own, which knows nothing of the records."""

from __future__ import annotations

import multiprocessing
import tempfile
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from leanladder.domain.circuit import Outline
from leanladder.domain.errors import Fault, InputError, LeanladderError, OutsideModelError
from leanladder.importers import read_outline

# Reading a larger file takes so long that other pages would wait for it: a process of its own does it.
_SMALL_BYTES = 1024 * 1024


class Line(NamedTuple):
    """A file with a circuit's line."""

    name: str
    content: bytes


class Told(NamedTuple):
    """An error as it comes out of another process."""

    code: str | None
    message: str
    fault: Fault


def outline_of(line: Line) -> Outline:
    """Return the outline in a line's file; raises InputError or OutsideModelError."""
    if len(line.content) <= _SMALL_BYTES:
        found = read_or_tell(line)
    else:
        with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
            found = pool.submit(read_or_tell, line).result()
    if isinstance(found, Outline):
        return found
    if found.code is not None:
        raise OutsideModelError(found.code, found.message, found.fault)
    raise InputError(found.message, found.fault)


def read_or_tell(line: Line) -> Outline | Told:
    """Return the outline in a line's file, or what is wrong with it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / (line.name or "line")
        path.write_bytes(line.content)
        try:
            return replace(read_outline(path), source=line.name)
        except LeanladderError as error:
            # Where it lay for a moment is nobody's business.
            return Told(getattr(error, "code", None), error.message, replace(error.fault, file=None))
