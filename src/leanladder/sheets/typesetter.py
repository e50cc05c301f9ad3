"""Pages from templates: the only place that knows the typesetter.

A template is a file of `templates`; it reads what it is handed from data.json and its drawings from
the folder pictures. Only the font that ships with us is used, nothing is fetched, and no page bears a
time of making, so the same data gives the same bytes.
"""

from __future__ import annotations

import json
import logging
import shutil
from collections.abc import Mapping
from functools import cache
from importlib.resources import as_file, files
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType
from typing import Any, Literal

import typst

from leanladder.domain.errors import LeanladderError

_NONE: Mapping[str, str] = MappingProxyType({})
# The package holds each style twice; which of the two a search finds first is the file system's choice.
_STYLES = ("SourceSansPro-Regular.ttf", "SourceSansPro-Bold.ttf")

_log = logging.getLogger(__name__)


def typeset(template: str, data: Mapping[str, object], pictures: Mapping[str, str] = _NONE) -> bytes:
    """Return a PDF from a template's name, what it is handed as JSON, and SVG drawings by file name.

    Raises FileNotFoundError for a template that does not ship, and LeanladderError where what it was handed
    does not fit its page.
    """
    made = _compile(template, data, pictures, "pdf")
    if isinstance(made, bytes):
        return made
    raise TypeError("the typesetter gave more than one PDF")


def pages_png(
    template: str, data: Mapping[str, object], pictures: Mapping[str, str] = _NONE, *, ppi: float = 150.0
) -> list[bytes]:
    """Return the pages of `typeset` as PNG pictures, for looking at them."""
    made = _compile(template, data, pictures, "png", ppi)
    return [made] if isinstance(made, bytes) else list(made)


def _compile(
    template: str,
    data: Mapping[str, object],
    pictures: Mapping[str, str],
    form: Literal["pdf", "png"],
    ppi: float | None = None,
) -> bytes | list[bytes]:
    # The typesetter takes a document in memory too; its published types do not say so.
    project: Any = _project(template, data, pictures)
    try:
        made, warnings = typst.compile_with_warnings(
            project,
            format=form,
            ppi=ppi,
            font_paths=_fonts(),
            ignore_system_fonts=True,
        )
    except typst.TypstError as fault:  # a template says so where what it was handed does not fit
        raise LeanladderError(f"{template} cannot be set: {fault}") from fault
    for warning in warnings:
        _log.warning("%s: %s", template, warning.message)
    return made


def _project(template: str, data: Mapping[str, object], pictures: Mapping[str, str]) -> dict[str, bytes]:
    """Return every file of a document by its path: the typesetter sees these and nothing else."""
    project = dict(_templates())
    if template not in project:
        raise FileNotFoundError(f"no template {template!r}")
    project["main.typ"] = project[template]
    project["data.json"] = json.dumps(data, ensure_ascii=False, sort_keys=True).encode()
    return project | {f"pictures/{name}": svg.encode() for name, svg in pictures.items()}


@cache
def _templates() -> Mapping[str, bytes]:
    folder = files("leanladder").joinpath("sheets", "templates")
    return {item.name: item.read_bytes() for item in folder.iterdir() if item.name.endswith(".typ")}


@cache
def _font_folder() -> TemporaryDirectory[str]:
    folder = TemporaryDirectory(prefix="leanladder-font-")
    for style in _STYLES:
        with as_file(files("font_source_sans_pro").joinpath("files", style)) as font:
            shutil.copy(font, Path(folder.name, style))
    return folder


@cache
def _fonts() -> typst.Fonts:
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=True, font_paths=[_font_folder().name]
    )
