"""Changes of a circuit's notes: text in, text out, so that the file and the page are one."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Mapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from leanladder.domain.circuit import Circuit, Corner
from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.notes import SCHEMA
from leanladder.interchange.reading import toml_of

Table = dict[str, Any]
STRETCHES = ("merges", "banks", "shaded", "patches")
_PLACES = ("names", "elevation")


def plain(text: str) -> Table:
    """Return what notes hold, as plain values; nothing for notes that cannot be read."""
    try:
        return toml_of(text)
    except tomllib.TOMLDecodeError:
        return {}


def with_keys(text: str, keys: Mapping[str, Any]) -> str:
    """Return notes with some keys set; a key of None, or an empty list, is taken out. Comments stay.

    Raises InputError for notes that are no TOML.
    """
    try:
        document = tomlkit.parse(text or f'schema = "{SCHEMA}"\n')
    except TOMLKitError:
        fault = Fault(field="notes", remedy="Mend the notes as a file first.")
        raise InputError("the notes cannot be read.", fault) from None
    for key, value in keys.items():
        if value is None or value == []:
            document.pop(key, None)
        else:
            document[key] = value
    return tomlkit.dumps(document)


def named(text: str, circuit: Circuit, names: Mapping[int, str]) -> str:
    """Return notes with names for the turns of a circuit, by number; an empty one is none."""
    return with_keys(text, {"names": name_rows(circuit, names)})


def name_rows(circuit: Circuit, names: Mapping[int, str]) -> list[Table]:
    """Return the rows of [[names]] for names by turn number."""
    by_turn = ((corner.apex_m, names.get(corner.number, "").strip()) for corner in circuit.corners)
    return [{"at_m": _tenths(at_m), "name": name} for at_m, name in by_turn if name]


def joined(text: str, circuit: Circuit, number: int) -> str:
    """Return notes in which a turn and the next are one; raises InputError where they turn to two sides."""
    first, second = _turn(circuit, number), _turn(circuit, number % len(circuit.corners) + 1)
    if first.number == second.number or first.side != second.side:
        remedy = "A turn leans one way: join turns of one side."
        raise InputError("these two are not one turn.", Fault(field=f"turn {number}", remedy=remedy))
    row = {"from_m": _tenths(first.start_m), "to_m": _tenths(second.end_m)}
    return with_keys(text, {"merges": [*plain(text).get("merges", ()), row]})


def split(text: str, at_m: float) -> str:
    """Return notes in which the turn found at a distance [m] is two."""
    return with_keys(text, {"splits_m": [*plain(text).get("splits_m", ()), at_m]})


def without(text: str, key: str, row: int) -> str:
    """Return notes without a row of "merges" or "splits_m"; raises InputError where there is none."""
    rows = list(plain(text).get(key, ())) if key in {"merges", "splits_m"} else []
    if not 0 <= row < len(rows):
        raise InputError("this is not there any more.", Fault(field=key, remedy="Load the page again."))
    return with_keys(text, {key: rows[:row] + rows[row + 1 :]})


def turned_round(text: str, length_m: float) -> str:
    """Return notes for the other direction: every distance keeps its place on the road.

    The pit lane's ways in and out change places; a bank stays one into the turn.
    """
    was = plain(text)
    keys = _moved(was, lambda at_m: (length_m - at_m) % length_m, length_m)
    for rows in (keys[key] for key in STRETCHES if key in keys):
        for row in rows:
            row["from_m"], row["to_m"] = row["to_m"], row["from_m"]
    exit_m, entry_m = keys.get("pit_exit_m"), keys.get("pit_entry_m")
    start_m = float(was.get("start_at_m", 0.0))
    return with_keys(
        text,
        {
            **keys,
            "pit_exit_m": entry_m,
            "pit_entry_m": exit_m,
            "start_at_m": _on_lap(length_m - start_m, length_m) if start_m else None,
            "reverse": not was.get("reverse", False),
        },
    )


def start_moved(text: str, start_m: float, length_m: float) -> str:
    """Return notes with the start line elsewhere along the file's line [m]; all else keeps its place."""
    was = plain(text)
    by_m = start_m - float(was.get("start_at_m", 0.0))
    return with_keys(text, {**_moved(was, lambda at_m: at_m - by_m, length_m), "start_at_m": start_m or None})


def _moved(was: Table, where: Callable[[float], float], length_m: float) -> Table:
    """Return every distance of the notes at its new place on the lap."""

    def there(at_m: float) -> float:
        return _on_lap(where(float(at_m)), length_m)

    keys: Table = {key: there(was[key]) for key in ("pit_exit_m", "pit_entry_m") if key in was}
    if "splits_m" in was:
        keys["splits_m"] = [there(at_m) for at_m in was["splits_m"]]
    for key in _PLACES:
        if key in was:
            keys[key] = [{**row, "at_m": there(row["at_m"])} for row in was[key]]
    for key in STRETCHES:
        if key in was:
            keys[key] = [
                {**row, "from_m": there(row["from_m"]), "to_m": there(row["to_m"])} for row in was[key]
            ]
    return keys


def _on_lap(at_m: float, length_m: float) -> float:
    return _tenths(at_m % length_m)


def _tenths(metres: float) -> float:
    """Return a distance to a tenth, never beyond the lap that it was found on."""
    return math.floor(metres * 10.0 + 1e-6) / 10.0


def _turn(circuit: Circuit, number: int) -> Corner:
    found = next((corner for corner in circuit.corners if corner.number == number), None)
    if found is None:
        fault = Fault(field="turn", value=str(number), remedy="Load the page again.")
        raise InputError("there is no such turn.", fault)
    return found
