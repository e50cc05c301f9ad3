"""TOML that people write: read, checked by a model, each fault with its line and a remedy."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.explain import explain
from leanladder.interchange.nearest import nearest
from leanladder.interchange.upgrades import NONE, Upgraders, upgraded
from leanladder.interchange.written import ParameterIn, Written

__all__ = ["ParameterIn", "Written", "read_text", "read_toml", "toml_of"]

M = TypeVar("M", bound=BaseModel)
_LARGEST_BYTES = 1_000_000
_QUOTED = re.compile(r"""["](?:\\.|[^"\\\n])*+["]?|'[^'\n]*+'?""")
# Keys within keys: what a library keeps of them grows with their square, up to all memory there is.
_DEEP_KEY = re.compile(r"(?<![\w-])(?:[\w-]++[ \t]*+\.[ \t]*+){32}")
_AT_LINE = re.compile(r"\(at line (\d+), column \d+\)|\(at end of document\)")


def read_toml(path: Path, model: type[M], schema: str, upgraders: Upgraders = NONE) -> M:
    """Return the file at path as a model; its first line names the schema, such as "tyre/1".

    upgraders bring a file of an earlier version to this schema. Numbers are finite, unknown keys
    errors. Raises InputError with the file, line, field,
    value, allowed range and remedy of the first fault.
    """
    text = read_text(path)
    data = dict(upgraded(_parsed(path, text), schema, upgraders))
    _check_schema(path, data.pop("schema", None), schema)
    try:
        # By way of JSON, whose arrays may fill tuples while text and truth stay no numbers.
        return model.model_validate_json(json.dumps(data, default=str))
    except ValidationError as error:
        raise explain(error, model, path, text) from None


def read_text(path: Path) -> str:
    """Return a text file's content (UTF-8, at most 1 MB); raises InputError for anything else."""
    name = str(path)
    try:
        with path.open("rb") as file:
            content = file.read(_LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise InputError("there is no such file.", Fault(file=name, remedy=_beside(path))) from None
    except IsADirectoryError:
        raise InputError("this is a folder.", Fault(file=name, remedy="Name a file within it.")) from None
    except OSError as error:
        fault = Fault(file=name, remedy="Check that you may read it.")
        raise InputError(f"it cannot be read ({error.strerror}).", fault) from None
    return _decoded(name, content)


def _beside(path: Path) -> str:
    """Return a remedy for a missing file: the nearest name in its folder."""
    try:
        names = [item.name for item in path.parent.iterdir() if item.is_file()]
    except OSError:
        return f"There is no folder {path.parent} either."
    close = nearest(path.name, names)
    return f"Did you mean {path.parent / close}?" if close else "Check the name and the folder."


def _decoded(name: str, content: bytes) -> str:
    if len(content) > _LARGEST_BYTES:
        raise InputError(
            "it is too large.", Fault(file=name, allowed="at most 1 MB", remedy="Is it the right file?")
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        fault = Fault(file=name, remedy="Save it as plain text in UTF-8.")
        raise InputError("this is not a text file.", fault)
    if not text.strip():
        fault = Fault(file=name, remedy="`leanladder example --out FOLDER` writes one to start from.")
        raise InputError("the file is empty.", fault)
    return text


def toml_of(text: str) -> dict[str, Any]:
    """Return the tables of a TOML text; raises as `tomllib.loads` does, also for keys deep within keys."""
    if _DEEP_KEY.search(_QUOTED.sub("q", text)):
        raise tomllib.TOMLDecodeError("Keys are nested too deeply")
    return tomllib.loads(text)


def _parsed(path: Path, text: str) -> dict[str, Any]:
    try:
        return toml_of(text)
    except ValueError as error:  # TOML's own, or a number of more digits than Python reads
        place = _AT_LINE.search(str(error))
        last = len(text.splitlines())
        line = (int(place[1]) if place[1] else last) if place else None
        what = _AT_LINE.sub("", str(error)).strip()
        if not isinstance(error, tomllib.TOMLDecodeError):
            what = "a number has too many digits"
        remedy = "A line reads `key = value`; texts stand in double quotes."
        raise InputError(f"this is not TOML: {what}.", Fault(str(path), line, remedy=remedy)) from None
    except RecursionError:
        raise InputError("this is not TOML: nested too deeply.", Fault(file=str(path))) from None


def _check_schema(path: Path, found: object, schema: str) -> None:
    if found == schema:
        return
    remedy = f'Begin the file with `schema = "{schema}"`.'
    shown = None if found is None else str(found)
    fault = Fault(str(path), 1, "schema", shown, f'"{schema}"', remedy)
    if found is None:
        raise InputError("the file does not say what it is.", fault)
    raise InputError(f"this is a file of another kind or version, {shown!r}.", fault)
