"""Write schemas/circuit-notes.json from the model that reads the file. Run it from the checkout."""

from __future__ import annotations

import json
from pathlib import Path

from leanladder.interchange.notes import NotesDocument

OUT = Path(__file__).resolve().parent.parent / "src/leanladder/schemas/circuit-notes.json"


def text() -> str:
    """Return the schema as it ships (JSON Schema 2020-12)."""
    generated = NotesDocument.model_json_schema(by_alias=True)
    title = "circuit-notes/1: what a school writes of a circuit beyond its line"
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title}
    rest = {key: value for key, value in generated.items() if key not in head}
    return json.dumps(head | rest, indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    OUT.write_text(text(), encoding="utf-8")
