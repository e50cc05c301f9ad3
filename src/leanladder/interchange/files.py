"""Writing files so that nothing half-written is ever found."""

from __future__ import annotations

import contextlib
import os
import secrets
from collections.abc import Mapping
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

    A name may lead through folders of its own, as in "set-a/01.pdf". Existing files are never replaced:
    raises InputError naming the first before any is written. If one cannot be written, those written and
    folders made before are taken away again.
    """
    paths = tuple(folder / name for name in contents)
    try:
        taken = next((path for path in paths if path.exists()), None)
    except OSError as error:
        raise _unwritable(folder, error) from None
    if taken is not None:
        remedy = "Name another folder, or move the file away."
        raise InputError("this file is there already; nothing was written.", Fault(str(taken), remedy=remedy))
    made: list[Path] = []
    written: list[Path] = []
    try:
        for place in dict.fromkeys((folder, *(path.parent for path in paths))):
            _make_folder(place, made)
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


def _make_folder(folder: Path, made: list[Path]) -> None:
    """Make a folder where missing, and add those that were made to the list, outer ones first."""
    try:
        missing = [each for each in (folder, *folder.parents) if not each.exists()]
        for each in reversed(missing):
            each.mkdir()
            made.append(each)
        folder.mkdir(exist_ok=True)  # an error where a file stands in its place
    except OSError as error:
        raise _unwritable(folder, error) from None


def _unwritable(path: Path, error: OSError) -> InputError:
    fault = Fault(file=str(path), remedy="Name a folder that you may write to.")
    return InputError(f"it cannot be written ({error.strerror}).", fault)
