"""Writing files so that nothing half-written is ever found."""

from __future__ import annotations

import contextlib
import os
import secrets
from collections.abc import Iterable, Mapping
from pathlib import Path

from leanladder.domain.errors import Fault, InputError


def write_file(path: Path, content: bytes) -> None:
    """Write content beside path, then rename: whoever reads finds all of it or what was there.

    Raises InputError where the folder is missing or cannot be written.
    """
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with beside.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        raise _unwritable(path, error) from None
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)


def write_folder(folder: Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write some new files into folder, made where missing; returns their paths, in order.

    A name may lead through folders of its own, as in "set-a/01.pdf"; they are made where missing. Existing
    files are never replaced: raises InputError naming the first before any is
    written. If one cannot be written, those written before are taken away again.
    """
    paths = tuple(folder / name for name in contents)
    try:
        taken = next((path for path in paths if path.exists()), None)
    except OSError as error:
        raise _unwritable(folder, error) from None
    if taken is not None:
        remedy = "Name another folder, or move the file away."
        raise InputError("this file is there already; nothing was written.", Fault(str(taken), remedy=remedy))
    made = _made_folders((folder, *(path.parent for path in paths)))
    written: list[Path] = []
    try:
        for path, content in zip(paths, contents.values(), strict=True):
            write_file(path, content)
            written.append(path)
    except BaseException:
        for path in written:
            path.unlink(missing_ok=True)
        for empty in reversed(made):
            with contextlib.suppress(OSError):
                empty.rmdir()
        raise
    return paths


def _made_folders(folders: Iterable[Path]) -> list[Path]:
    """Make folders where missing; returns those that were made, outer ones first."""
    made: list[Path] = []
    for folder in dict.fromkeys(folders):
        missing = [each for each in (folder, *folder.parents) if not each.exists()]
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise _unwritable(folder, error) from None
        made += reversed(missing)
    return made


def _unwritable(path: Path, error: OSError) -> InputError:
    fault = Fault(file=str(path), remedy="Name a folder that you may write to.")
    return InputError(f"it cannot be written ({error.strerror}).", fault)
