"""`leanladder circuit`: the corners that a circuit's file holds."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leanladder.cli.common import JsonFlag, emit, emit_json
from leanladder.cli.table import plank

if TYPE_CHECKING:
    from leanladder.domain.circuit import Circuit, Corner

_HEAD = ("turn", "name", "start m", "apex m", "end m", "radius m", "turns deg", "since same side m")
_NAME_WIDTH = 16


def circuit(
    file: Annotated[Path, typer.Argument(help="The circuit: GPX, GeoJSON or CSV.", show_default=False)],
    notes: Annotated[
        Path | None, typer.Option(help="What the school knows of it (circuit-notes/1).", show_default=False)
    ] = None,
    reverse: Annotated[
        bool, typer.Option("--reverse", help="The file's points run against the riding direction.")
    ] = False,
    as_json: JsonFlag = False,
) -> None:
    """Print a circuit's corners: side, place, radius and turn."""
    from leanladder.importers import read_outline  # noqa: PLC0415  # numpy: only when needed
    from leanladder.interchange.circuit import circuit_object  # noqa: PLC0415  # the same
    from leanladder.interchange.notes import read_notes  # noqa: PLC0415  # the same
    from leanladder.planning.circuits import build  # noqa: PLC0415  # the same

    known = None if notes is None else read_notes(notes)
    found = build(read_outline(file), known, reverse=reverse)
    if as_json:
        asked = {"file": file.name, "notes": None if notes is None else notes.name, "reverse": reverse}
        emit_json(circuit_object(found, inputs=asked))
        return
    emit(circuit_text(found))


def circuit_text(found: Circuit) -> str:
    """Return a circuit as plain text: a line a corner, its plank round on the side leaned to."""
    names = max((len(corner.name) for corner in found.corners), default=0)
    width = min(max(names, len(_HEAD[1])), _NAME_WIDTH) if names else 0
    parts = [_title(found)]
    if found.corners:
        rows = [_row(_HEAD, width), *(_row(_cells(corner), width) for corner in found.corners)]
        parts.append("\n".join(rows))
        parts.append("Shape: (   | left, |   ) right. Distances run from the start line.")
    parts += [f"- {remark}" for remark in found.remarks]
    return "\n\n".join(parts)


def _title(found: Circuit) -> str:
    """Return name, length, turns by side and direction in one line."""
    left = sum(corner.side == "left" for corner in found.corners)
    right = len(found.corners) - left
    way = {1: "anticlockwise", -1: "clockwise"}.get(found.net_turns, f"{found.net_turns:+d} turns in all")
    return f"{found.name}: {found.length_m:.0f} m, {left} left, {right} right, {way}."


def _cells(corner: Corner) -> tuple[str, ...]:
    """Return a corner's figures, whole metres and degrees."""
    shape = plank(corner.side, str(corner.number))
    figures = (
        corner.start_m,
        corner.apex_m,
        corner.end_m,
        corner.radius_m,
        corner.turn_deg,
        corner.same_side_gap_m,
    )
    return (shape, corner.name, *(f"{figure:.0f}" for figure in figures))


def _row(cells: tuple[str, ...], name_width: int) -> str:
    """Return cells under their heads, the name's left out where no corner has one."""
    shape, name, *figures = cells
    named = f"  {name[:_NAME_WIDTH]:<{name_width}}" if name_width else ""
    columns = (f"{figure:>{max(len(head), 6)}}" for figure, head in zip(figures, _HEAD[2:], strict=True))
    return f"{shape:<5}{named}  {'  '.join(columns)}"
