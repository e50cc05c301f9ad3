"""`leanladder example`: the example days' files, annotated, to copy and change."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Annotated

import typer

from leanladder.cli.common import emit
from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.files import write_folder
from leanladder.interchange.nearest import nearest

# The days by the names they are asked for, and their folders among the data.
DAYS = {"road": "example", "kart": "example-kart", "mini": "example-mini", "cruiser": "example-cruiser"}


def example(
    out: Annotated[Path, typer.Option(help="Folder to write them into; made where missing.")],
    day: Annotated[str, typer.Option(help=f"Which day: {', '.join(DAYS)}.")] = "road",
) -> None:
    """Write an invented school's files (circuit, notes, day, tyre, machine), annotated, to change."""
    paths = write_folder(out, example_files(day))
    listed = "\n".join(f"  {path}" for path in paths)
    emit(f"Written:\n{listed}\nEach says in its comments what may be changed.")


def example_files(day: str = "road") -> dict[str, bytes]:
    """Return the files of an example day by name; raises InputError for a day that does not ship."""
    if day not in DAYS:
        close = nearest(day, list(DAYS))
        remedy = f"Did you mean {close}?" if close else None
        raise InputError(
            "no example day has this name.", Fault(None, None, "--day", day, ", ".join(DAYS), remedy)
        )
    folder = files("leanladder").joinpath("data", DAYS[day])
    found = sorted((item for item in folder.iterdir() if item.is_file()), key=lambda item: item.name)
    return {item.name: item.read_bytes() for item in found}
