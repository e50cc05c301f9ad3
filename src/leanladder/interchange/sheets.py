"""leanladder.sheets/1: which pages of a day were written, and for whom there is none with a number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from leanladder.domain.circuit import Circuit
from leanladder.domain.day import Day, DayLadder, SetName
from leanladder.interchange.day_plan import day_inputs
from leanladder.interchange.envelope import envelope

SCHEMA = "leanladder.sheets/1"


@dataclass(frozen=True, slots=True)
class SheetSet:
    """A set of sheets as written: its folder, its letter where it is one of the evening's, its day word."""

    folder: str
    name: SetName | None
    word: str
    entries: tuple[DayLadder, ...]


def sheets_object(
    day: Day, circuit: Circuit, sets: Sequence[SheetSet], files: Sequence[str], *, parameters: str
) -> dict[str, Any]:
    """Return the leanladder.sheets/1 object; files are paths within the folder that was asked for."""
    return envelope(
        SCHEMA,
        parameters=parameters,
        inputs=day_inputs(day, circuit),
        cautions=(),
        warnings=(),
        body={"sets": [_set(each) for each in sets], "files": list(files)},
    )


def _set(each: SheetSet) -> dict[str, Any]:
    refused = [
        {
            "session": entry.session.name,
            "riders": list(entry.riders),
            "machines": list(entry.machines),
            "code": entry.refusal.code,
            "text": entry.refusal.message,
        }
        for entry in each.entries
        if entry.refusal is not None
    ]
    return {"folder": each.folder, "set": each.name, "day_word": each.word, "without_number": refused}
