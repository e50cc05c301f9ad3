"""JSON Schemas of the files people write, made from their models: shipped as schemas/NAME.json."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel

from leanladder.interchange import day_file, machine, notes, tyre

# name: model, schema and what the file is.
_FILES: Mapping[str, tuple[type[BaseModel], str, str]] = {
    "tyre": (tyre.TyreFile, tyre.SCHEMA, "a tyre family as people write it, in TOML"),
    "machine": (
        machine.MachineFile,
        machine.SCHEMA,
        "a motorcycle with its rider as people write it, in TOML",
    ),
    "circuit-notes": (notes.NotesFile, notes.SCHEMA, "what a school knows of a circuit beyond its line"),
    "day": (day_file.DayFile, day_file.SCHEMA, "a day at the circuit as a school writes it, in TOML"),
}
_FIGURE = "#/$defs/ParameterIn"


def file_schema_names() -> tuple[str, ...]:
    """Return the names that `file_schema_text` knows."""
    return tuple(_FILES)


def file_schema_text(name: str) -> str:
    """Return the JSON Schema of a written file, as text, from the model that reads it."""
    model, schema, describes = _FILES[name]
    made = _exact(model.model_json_schema())
    made["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    made["title"] = f"{schema}: {describes}"
    made["properties"] = {"schema": {"const": schema, "description": "the file's first line"}} | made[
        "properties"
    ]
    made["required"] = ["schema", *made.get("required", [])]
    return json.dumps(made, indent=2, ensure_ascii=False, sort_keys=True) + "\n"


def _exact(node: Any) -> Any:  # noqa: ANN401  # JSON of any shape
    """Return a schema's node with each figure's range spelt out and no null: TOML has none."""
    if isinstance(node, list):
        return [_exact(item) for item in node if item != {"type": "null"}]
    if not isinstance(node, dict):
        return node
    if {"unit", "low", "high"} <= node.keys() and "anyOf" in node:
        return _figure(node)
    made = {key: _exact(value) for key, value in node.items() if not (key == "default" and value is None)}
    if len(made.get("anyOf", ())) == 1:
        made |= made.pop("anyOf")[0]
    return made


def _figure(node: Mapping[str, Any]) -> dict[str, Any]:
    """Return the schema of a figure: a plain number in its unit, or a table that says more."""
    limits = {"minimum": node["low"], "maximum": node["high"]}
    table = {"properties": {"value": limits, "unit": {"const": node["unit"]}}}
    return {
        "description": f"in {node['unit']}",
        "anyOf": [{"type": "number"} | limits, {"allOf": [{"$ref": _FIGURE}, table]}],
    }
