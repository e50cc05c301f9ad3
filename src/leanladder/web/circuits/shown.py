"""What pages show of a circuit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from django.utils.safestring import SafeString, mark_safe

from leanladder import catalogue, wording
from leanladder.domain.circuit import Circuit
from leanladder.domain.errors import LeanladderError
from leanladder.drawing import SCREEN, plank
from leanladder.records.models import Circuit as Record
from leanladder.web.circuits import notes
from leanladder.web.circuits.lines import circuit_of
from leanladder.web.stable.form import Choices

# What a row of a stretch holds beside from_m and to_m.
MORE = {"shaded": "", "banks": "bank_deg", "patches": "surface"}
_PLANK_PX = 34.0


class Turn(NamedTuple):
    """A turn as a row: its plank, its figures, the next if that is of its side, where it may be parted."""

    number: int
    plank: SafeString
    side: str
    name: str
    start_m: int
    apex_m: int
    end_m: int
    radius_m: int
    turn_deg: int
    joins: int | None
    middle_m: int


class Summary(NamedTuple):
    """A circuit in a line; circuit is None where it cannot be built, and fault says why."""

    record: Record
    circuit: Circuit | None
    left: int
    right: int
    way: str
    fault: str


def summary(record: Record, language: str) -> Summary:
    """Return a circuit in a line; what is wrong with it is told, not raised."""
    try:
        built = circuit_of(record)
    except LeanladderError as error:
        return Summary(record, None, 0, 0, "", str(error))
    left = sum(corner.side == "left" for corner in built.corners)
    return Summary(record, built, left, len(built.corners) - left, way(built, language), "")


def way(circuit: Circuit, language: str) -> str:
    """Return which way round a circuit is ridden, in words."""
    code = {1: "anticlockwise", -1: "clockwise"}.get(circuit.net_turns, "crossing")
    return wording.text(f"circuits.{code}", language)


def turns(circuit: Circuit, language: str) -> list[Turn]:
    """Return the turns as rows."""
    corners = circuit.corners
    following = [*corners[1:], *corners[:1]]
    rows = []
    for corner, after in zip(corners, following, strict=True):
        joins = after.number if after.side == corner.side and after.number != corner.number else None
        over_m = corner.end_m if corner.end_m > corner.start_m else corner.end_m + circuit.length_m
        rows.append(
            Turn(
                corner.number,
                mark_safe(plank(corner.number, corner.side, height=_PLANK_PX, inks=SCREEN)),  # noqa: S308  # ours
                wording.text(f"side.{corner.side}", language),
                corner.name,
                round(corner.start_m),
                round(corner.apex_m),
                round(corner.end_m),
                round(corner.radius_m),
                round(corner.turn_deg),
                joins,
                round((corner.start_m + over_m) / 2.0 % circuit.length_m),
            )
        )
    return rows


def undoable(text: str) -> list[dict[str, Any]]:
    """Return the joins and splits in force, each with what takes it back."""
    known = notes.plain(text)
    joins = [
        {"key": "merges", "row": row, "from_m": round(each["from_m"]), "to_m": round(each["to_m"])}
        for row, each in enumerate(known.get("merges", ()))
    ]
    splits = [
        {"key": "splits_m", "row": row, "at_m": round(at_m)}
        for row, at_m in enumerate(known.get("splits_m", ()))
    ]
    return [*joins, *splits]


def stretches(text: str, key: str, typed: Sequence[dict[str, str]] | None) -> list[dict[str, Any]]:
    """Return the rows of a kind of stretch, those typed before those noted, and an empty one."""
    more = MORE[key]
    kept = notes.plain(text).get(key, ())
    noted = [{"from_m": each["from_m"], "to_m": each["to_m"], "more": each.get(more, "")} for each in kept]
    return [*(noted if typed is None else typed), {"from_m": "", "to_m": "", "more": ""}]


def surfaces(language: str) -> Choices:
    """Return the surfaces to choose from."""
    return [(name, wording.text(f"circuits.surface_{name}", language)) for name in catalogue.surface_names()]
