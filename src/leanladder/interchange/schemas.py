"""The JSON Schemas that ship with the package."""

from __future__ import annotations

from importlib.resources import files

from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.nearest import nearest

_SUFFIX = ".json"


def schema_names() -> tuple[str, ...]:
    """Return the names that `schema_text` knows, in order."""
    folder = files("leanladder").joinpath("schemas")
    found = (item.name for item in folder.iterdir() if item.name.endswith(_SUFFIX))
    return tuple(sorted(name.removesuffix(_SUFFIX) for name in found))


def schema_text(name: str) -> str:
    """Return the JSON Schema of an answer or a file, as text.

    Raises InputError naming the nearest schema where there is none of that name.
    """
    names = schema_names()
    if name not in names:
        close = nearest(name, names)
        remedy = f"Did you mean {close}?" if close else "`leanladder schema` lists them."
        fault = Fault(field="schema", value=name, allowed=", ".join(names), remedy=remedy)
        raise InputError(f"there is no schema called {name!r}.", fault)
    return files("leanladder").joinpath("schemas", name + _SUFFIX).read_text(encoding="utf-8")
