"""`leanladder example`: the demo's files, annotated, to copy and change."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Annotated

import typer

from leanladder.cli.common import emit
from leanladder.interchange.files import write_folder


def example(
    out: Annotated[Path, typer.Option(help="Folder to write them into; made where missing.")],
) -> None:
    """Write an invented school's files (circuit, notes, day, tyre, machine), annotated, to change."""
    paths = write_folder(out, example_files())
    listed = "\n".join(f"  {path}" for path in paths)
    emit(f"Written:\n{listed}\nEach says in its comments what may be changed.")


def example_files() -> dict[str, bytes]:
    """Return the example's files by name."""
    folder = files("leanladder").joinpath("data", "example")
    found = sorted((item for item in folder.iterdir() if item.is_file()), key=lambda item: item.name)
    return {item.name: item.read_bytes() for item in found}
