"""`leanladder schema`: the JSON Schemas that ship."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from leanladder.cli.common import emit
from leanladder.interchange.schemas import schema_names, schema_text


def schema(
    name: Annotated[
        str | None, typer.Argument(help="Which one; none lists them.", show_default=False)
    ] = None,
) -> None:
    """Print the JSON Schema of an answer or a file, or list them."""
    if name is not None:
        emit(schema_text(name))
        return
    emit("\n".join(f"{known:<16}{json.loads(schema_text(known))['title']}" for known in schema_names()))
