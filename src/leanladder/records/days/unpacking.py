"""Zips from elsewhere: neither their sizes nor their names are trusted."""

from __future__ import annotations

import zipfile
from pathlib import Path, PurePosixPath

from leanladder.domain.errors import Fault, InputError

# A day's folder holds a circuit's line, and small texts.
MOST_FILES = 200
MOST_BYTES = 40_000_000
_CHUNK_BYTES = 1 << 20


def unpack(path: Path, folder: Path, *, most_files: int = MOST_FILES, most_bytes: int = MOST_BYTES) -> None:
    """Unpack a zip into a folder of ours; raises InputError for a damaged, huge or malicious one.

    What a file really unpacks to counts, never what the zip says. A folder around everything is left out.
    """
    name = path.name
    try:
        with zipfile.ZipFile(path) as packed:
            members = [each for each in packed.infolist() if not each.is_dir()]
            if len(members) > most_files:
                raise _refused(name, "the zip holds too many files.", f"{most_files} files at most")
            around = _around([each.filename for each in members])
            left = most_bytes
            for member in members:
                left -= _one(packed, member, folder / _safe(name, member.filename, around), name, left)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise _refused(name, "the zip is damaged, or packed in a way unknown here.") from None


def _one(packed: zipfile.ZipFile, member: zipfile.ZipInfo, to: Path, name: str, left: int) -> int:
    """Unpack one file of at most left bytes, and return how many it had."""
    to.parent.mkdir(parents=True, exist_ok=True)
    size = 0
    with packed.open(member) as source, to.open("xb") as file:
        while chunk := source.read(_CHUNK_BYTES):
            size += len(chunk)
            if size > left:
                raise _refused(name, "the zip unpacks to too much.")
            file.write(chunk)
    return size


def _around(names: list[str]) -> str:
    """Return the folder that everything lies in, empty where there is none."""
    first = names[0].split("/", 1)[0] + "/" if names else ""
    return first if first != "/" and all(name.startswith(first) for name in names) else ""


def _safe(zip_name: str, member: str, around: str) -> Path:
    within = PurePosixPath(member.removeprefix(around))
    bad = within.is_absolute() or not within.parts or ".." in within.parts or "\\" in member or ":" in member
    if bad:
        raise _refused(zip_name, "the zip holds a file with a path that leads out of it.")
    return Path(*within.parts)


def _refused(name: str, message: str, allowed: str | None = None) -> InputError:
    return InputError(
        message, Fault(file=name, allowed=allowed, remedy="Export the day anew, or zip its folder.")
    )
