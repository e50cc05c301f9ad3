"""What comes in is checked by the models of the files that people write, and kept as they write it."""

from __future__ import annotations

import json
import re
import tempfile
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from django.db import IntegrityError
from pydantic import BaseModel, ValidationError

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.explain import explain
from leanladder.interchange.nearest import nearest
from leanladder.interchange.reading import read_toml

M = TypeVar("M", bound=BaseModel)
Written = dict[str, Any]
# With its folder and ending still no longer than a name in a day's file may be.
_LONGEST_STEM = 40


def bare(value: Any) -> Any:  # noqa: ANN401  # whatever JSON holds
    """Return a JSON value without keys that are None: a file has no word for "not stated"."""
    if isinstance(value, Mapping):
        return {key: bare(part) for key, part in value.items() if part is not None}
    if isinstance(value, list | tuple):
        return [bare(part) for part in value]
    return value


def checked(model: type[M], written: Mapping[str, Any], what: str) -> M:
    """Return an entry as the model that a file is read by; raises InputError, its field beginning with what.

    Keys that are None count as not stated.
    """
    stripped = bare(written)
    text = json.dumps(stripped, default=str)
    if r"\u0000" in text:
        raise InputError("a text holds a character that is none.", Fault(field=what, remedy="Type it anew."))
    try:
        return model.model_validate_json(text)
    except ValidationError as error:
        told = explain(error, model, Path(what), "")
        place = ", ".join(part for part in (what, told.fault.field) if part)
        raise InputError(told.message, replace(told.fault, file=None, line=None, field=place)) from None


def ordered(model: type[BaseModel], written: Mapping[str, Any]) -> Written:
    """Return an entry's keys in the order that the model has them: a database may keep none."""
    return {key: written[key] for key in model.model_fields if key in written}


def dumped(model: BaseModel, *leave_out: str) -> Written:
    """Return an entry as a file would write it: only keys that are set, without those left out."""
    return model.model_dump(mode="json", exclude_unset=True, exclude=set(leave_out))


def check_text(text: str, model: type[BaseModel], schema: str, what: str) -> None:
    """Check the text of a file by its model; raises InputError with what in place of the file."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "written.toml"
        path.write_text(text, encoding="utf-8", errors="replace")
        with named(path, what):
            read_toml(path, model, schema)


@contextmanager
def within(folder: Path) -> Iterator[None]:
    """Let an InputError about a file within folder name it as it is called there."""
    try:
        yield
    except InputError as error:
        found = error.fault.file
        if found is None or not Path(found).is_relative_to(folder):
            raise
        name = Path(found).relative_to(folder).as_posix()
        raise InputError(error.message, replace(error.fault, file=name)) from None


@contextmanager
def named(path: Path, what: str) -> Iterator[None]:
    """Let an InputError about path name what instead."""
    try:
        yield
    except InputError as error:
        if error.fault.file != str(path):
            raise
        raise InputError(error.message, replace(error.fault, file=what)) from None


def unknown(what: str, name: str, names: list[str]) -> InputError:
    """Return the error for a name that is not on record, with the nearest that is."""
    close = nearest(name, names)
    remedy = f"Did you mean {close}?" if close else "Add it first."
    return InputError(f"there is no {what} called {name!r}.", Fault(field=what, value=name, remedy=remedy))


def stem(text: str) -> str:
    """Return a name made safe as that of a file: small letters, figures and hyphens, 40 at most."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    letters = re.sub(r"[\W_]+", "-", plain).strip("-")[:_LONGEST_STEM].strip("-")
    return letters or "file"


def file_name(name: str) -> str:
    """Return a file's name made safe, with its ending."""
    path = Path(name)
    ending = re.sub(r"[^a-z0-9]", "", path.suffix.lower())[:10]
    return f"{stem(path.stem)}.{ending}" if ending else stem(path.stem)


@contextmanager
def by_one_only() -> Iterator[None]:
    """Let someone hear in plain words that somebody else saved the same at this moment.

    Servers of databases let several write at once, each after it has looked whether a name is free.
    """
    try:
        yield
    except IntegrityError:
        remedy = "Look at what stands there now, then do it again."
        raise InputError("someone else saved the same at this moment.", Fault(remedy=remedy)) from None
