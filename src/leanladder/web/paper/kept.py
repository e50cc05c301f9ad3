"""Where a day's papers are kept: written beside and renamed, by the day and what went into them."""

from __future__ import annotations

import hashlib
import io
import json
import os
import secrets
import shutil
import time
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from leanladder import settings
from leanladder.domain.paper import DayList
from leanladder.interchange.files import write_file, write_folder
from leanladder.records import days, stored
from leanladder.web import plans
from leanladder.web.today import catalogue_digest

KINDS = ("evening", "today")
EVENING_LIST = "evening-list.json"
WORDS = "words.json"
_TOLD = "made.json"
_USED = "words-used.json"
# Letters of a digest that make a folder's name: as good as all of them for one day.
_NAME = 24
# Sets of papers of a day that are kept; those before are taken away.
MOST_KEPT = 6
# How long papers may say nothing of how far they are before they are asked for anew.
STALE_S = 900.0
# The first time that a zip knows: the same papers are the same bytes.
_NO_TIME = (1980, 1, 1, 0, 0, 0)


class Told(NamedTuple):
    """How far a day's papers are: waiting, running, done, failed or none; pages done of how many; why not."""

    state: str = "none"
    done: int = 0
    of: int = 0
    error: str = ""


def name_of(day_pk: int, kind: str, language: str, host: str) -> str:
    """Return the folder's name of a day's papers as records stand; raises InputError for a day not whole.

    host: the address that riders' codes lead to; it stands on the sheet of codes.
    """
    digest = days.day_file(day_pk).digest if kind == "evening" else plans.inputs_of(day_pk).digest()
    parts = (kind, language, host, catalogue_digest(), digest)
    return f"{kind}-{hashlib.sha256('|'.join(parts).encode()).hexdigest()[:_NAME]}"


def day_folder(day_pk: int) -> Path:
    """Return the folder of a day's papers, whether or not it is there."""
    return settings.data_folder() / "paper" / str(day_pk)


def folder_of(day_pk: int, name: str) -> Path:
    """Return the folder of one set of papers, whether or not it is there."""
    return day_folder(day_pk) / name


def files_of(day_pk: int, name: str) -> tuple[str, ...]:
    """Return the paths of the papers there are, lists first; none while they are not made."""
    folder = folder_of(day_pk, name)
    found = [path.relative_to(folder).as_posix() for path in folder.rglob("*.pdf")]
    return tuple(sorted(found, key=lambda path: ("/" in path, path)))


def file_of(day_pk: int, name: str, path: str) -> bytes | None:
    """Return a paper's bytes, None for one that there is not; only what was made here is ever read."""
    if path not in files_of(day_pk, name):
        return None
    return (folder_of(day_pk, name) / path).read_bytes()


def words_of(day_pk: int, name: str) -> dict[str, str]:
    """Return the day word of each folder of a set of papers."""
    try:
        found: dict[str, str] = json.loads((folder_of(day_pk, name) / WORDS).read_text())
    except (OSError, ValueError):
        return {}
    return found


def words_on_paper(day_pk: int) -> set[str]:
    """Return every day word that papers of a day were made with, also of those that are no longer kept."""
    try:
        return set(json.loads((day_folder(day_pk) / _USED).read_text()))
    except (OSError, ValueError):
        return set()


def zip_of(day_pk: int, name: str) -> bytes:
    """Return all papers of a set as a zip."""
    kept = io.BytesIO()
    folder = folder_of(day_pk, name)
    with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as packed:
        for path in files_of(day_pk, name):
            packed.writestr(
                zipfile.ZipInfo(path, _NO_TIME), (folder / path).read_bytes(), zipfile.ZIP_DEFLATED
            )
    return kept.getvalue()


def keep(day_pk: int, name: str, files: Mapping[str, bytes]) -> None:
    """Write a set of papers beside and rename it: whoever looks finds all of it or nothing.

    Its words are noted first: no card on a phone takes one that may stand on paper.
    """
    folder = folder_of(day_pk, name)
    beside = folder.with_name(f".{name}.{secrets.token_hex(4)}")
    folder.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    words = {str(word).lower() for word in json.loads(files.get(WORDS, b"{}")).values()}
    write_file(folder.parent / _USED, json.dumps(sorted(words | words_on_paper(day_pk))).encode())
    try:
        write_folder(beside, files)
        if folder.exists():
            folder.rename(folder.with_name(f".{name}.{secrets.token_hex(4)}"))
        beside.rename(folder)
        _sync(folder.parent)
    finally:
        _tidy(folder.parent)


def forget(day_pk: int) -> None:
    """Take away all papers of a day that is removed: riders' names stand on them."""
    shutil.rmtree(day_folder(day_pk), ignore_errors=True)


def _sync(folder: Path) -> None:
    """See to it that a rename outlives a power cut."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _tidy(folder: Path) -> None:
    """Take away what a power cut left half written, and the oldest sets."""
    made = sorted((each for each in folder.iterdir() if each.is_dir()), key=lambda each: each.stat().st_mtime)
    half = [each for each in made if each.name.startswith(".")]
    whole = [each for each in made if not each.name.startswith(".")]
    for each in (*half, *whole[:-MOST_KEPT]):
        shutil.rmtree(each, ignore_errors=True)


def told(day_pk: int, name: str) -> Told:
    """Return how far a set of papers is."""
    if folder_of(day_pk, name).is_dir():
        return Told("done")
    path = day_folder(day_pk) / f"{name}-{_TOLD}"
    try:
        found: dict[str, Any] = json.loads(path.read_text())
        is_old = time.time() - path.stat().st_mtime > STALE_S
        return Told() if is_old and found.get("state") != "failed" else Told(**found)
    except (OSError, ValueError, TypeError):
        return Told()


def tell(day_pk: int, name: str, state: Told) -> None:
    """Keep how far a set of papers is."""
    folder = day_folder(day_pk)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    write_file(folder / f"{name}-{_TOLD}", json.dumps(state._asdict()).encode())


def evening_list_of(day_pk: int, language: str) -> DayList | None:
    """Return the evening's list as on the paper that counts now; None where that is not made."""
    for folder in day_folder(day_pk).glob("evening-*"):
        kept = folder / EVENING_LIST
        if kept.is_file():
            found = stored.from_json(kept.read_text())
            if (
                isinstance(found, tuple)
                and found[0] == _stamp(day_pk, language)
                and isinstance(found[1], DayList)
            ):
                return found[1]
    return None


def evening_list_file(day_pk: int, page: DayList) -> dict[str, bytes]:
    """Return the evening's list as a file beside the papers, with what it is of."""
    kept = stored.to_json((_stamp(day_pk, page.language), page))
    return {EVENING_LIST: kept.encode()}


def _stamp(day_pk: int, language: str) -> str:
    return f"{days.day_file(day_pk).digest} {catalogue_digest()} {language}"
