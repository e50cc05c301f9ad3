"""A circuit on record read and built: checked before it is kept, then held in memory."""

from __future__ import annotations

import hashlib
import tempfile
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from leanladder.domain.circuit import Circuit, Outline
from leanladder.domain.errors import Fault, InputError, OutsideModelError
from leanladder.drawing import SCREEN, MapWords, circuit_map
from leanladder.interchange.notes import read_notes
from leanladder.planning.circuits import build
from leanladder.records import models
from leanladder.web.circuits.reading import Line, outline_of

LARGEST_BYTES = 8 * 1024 * 1024
_KEPT = 16
_MAP_SIZE = (640.0, 540.0)  # [px]


def circuit_of(record: models.Circuit) -> Circuit:
    """Return the circuit on record; raises InputError or OutsideModelError."""
    return read(record.line_name, bytes(record.line), record.notes)


def read(line_name: str, line: bytes, notes_text: str) -> Circuit:
    """Return the circuit of a line's file and notes; raises InputError or OutsideModelError."""
    if len(line) > LARGEST_BYTES:
        allowed = f"{LARGEST_BYTES // 1024 // 1024} MB at most"
        remedy = "Keep one lap of the circuit, a point every 5 m or so."
        raise InputError("the file is too large.", Fault(field="line", allowed=allowed, remedy=remedy))
    return _circuit(Line(Path(line_name).name, line), notes_text)


@lru_cache(_KEPT)
def _circuit(line: Line, notes_text: str) -> Circuit:
    with tempfile.TemporaryDirectory() as folder:
        notes = Path(folder) / "circuit-notes.toml"
        notes.write_text(notes_text, encoding="utf-8")
        try:
            known = read_notes(notes) if notes_text.strip() else None
            return build(_outline(line), known)
        except (InputError, OutsideModelError) as error:
            # Where it lay for a moment is nobody's business.
            error.fault = replace(error.fault, file=None)
            raise


@lru_cache(_KEPT)
def _outline(line: Line) -> Outline:
    return outline_of(line)


def picture(record: models.Circuit, start: str) -> str:
    """Return the circuit's map as SVG; start is the word at the start line."""
    key = hashlib.sha256(bytes(record.line) + record.notes.encode()).hexdigest()
    found = _pictures.get((key, start))
    if found is None:
        found = circuit_map(circuit_of(record), size=_MAP_SIZE, words=MapWords(start=start), inks=SCREEN)
        while len(_pictures) >= _KEPT:
            _pictures.pop(next(iter(_pictures), (key, start)), None)
        _pictures[key, start] = found
    return found


_pictures: dict[tuple[str, str], str] = {}
