"""Reading a user's file in pieces, no further than the limits."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from pathlib import Path

from leanladder.domain.errors import Fault, InputError

HEAD_BYTES = 4096
PIECE_BYTES = 65536
MOST_BYTES = 20_000_000
MOST_POINTS = 50_000


def head(path: Path) -> bytes:
    """Return the first 4 KiB of a text file; raises InputError for what can be none."""
    _check_kind(path)
    start = next(pieces(path), b"")[:HEAD_BYTES]
    if not start.strip(b"\xef\xbb\xbf \t\r\n"):
        raise InputError("the file is empty.", Fault(str(path), remedy="Export the circuit again."))
    if _is_binary(start):
        fault = Fault(str(path), remedy="Export the circuit as GPX, GeoJSON or CSV; unpack an archive first.")
        raise InputError("this is a binary file, not text.", fault)
    return start


def _check_kind(path: Path) -> None:
    """Raise InputError for a folder, a device, and a path that cannot even be looked up."""
    try:
        folder, special = path.is_dir(), path.exists() and not path.is_file()
    except OSError as error:  # a name that is too long, a folder that may not be entered
        raise InputError(_reason(error), Fault(str(path), remedy="Check the name and the folder.")) from None
    if folder:
        fault = Fault(str(path), remedy="Name the circuit's file within it.")
        raise InputError("this is a folder, not a file.", fault)
    if special:
        fault = Fault(str(path), remedy="Save the circuit as a file and name that.")
        raise InputError("this is no ordinary file.", fault)


def pieces(path: Path) -> Iterator[bytes]:
    """Yield the file in pieces; raises InputError if it cannot be read or once it is over 20 MB."""
    total = 0
    try:
        with path.open("rb") as file:
            while piece := file.read(PIECE_BYTES):
                total += len(piece)
                if total > MOST_BYTES:
                    raise InputError("the file is too large.", _too_large(path))
                yield piece
    except OSError as error:
        raise InputError(_reason(error), Fault(str(path), remedy=_nearest_file(path))) from None


def check_count(path: Path, count: int, line: int | None = None) -> None:
    """Raise InputError once a file holds more than 50,000 points."""
    if count > MOST_POINTS:
        remedy = "Keep one lap of the circuit, a point every 5 m or so."
        fault = Fault(str(path), line, value=f"over {MOST_POINTS}", allowed="50,000 points", remedy=remedy)
        raise InputError("the file holds too many points.", fault)


def _is_binary(start: bytes) -> bool:
    """Return whether the bytes are no text; UTF-16 announces itself with its mark."""
    if start.startswith((b"\xff\xfe", b"\xfe\xff")):
        return False
    odd = sum(byte < 32 and byte not in b"\t\r\n\f\x1a" for byte in start)
    return b"\0" in start or odd > len(start) // 20


def _too_large(path: Path) -> Fault:
    remedy = "Keep one lap of the circuit, a point every 5 m or so."
    return Fault(str(path), value="over 20 MB", allowed="20 MB", remedy=remedy)


def _reason(error: OSError) -> str:
    """Return why a file cannot be read, in plain words."""
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        return "there is no such file."
    if isinstance(error, PermissionError):
        return "the file may not be read."
    return f"the file cannot be read ({error.strerror})."


def _nearest_file(path: Path) -> str | None:
    """Return a remedy that names the file beside it with the nearest name, if there is one."""
    try:
        if path.exists():
            return None
        beside = [item.name for item in path.parent.iterdir() if item.is_file()]
    except OSError:
        return "Check the folder's name."
    near = difflib.get_close_matches(path.name, beside, n=1)
    return f"Did you mean {path.with_name(near[0])}?" if near else "Check the name."
