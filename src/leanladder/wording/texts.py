"""Texts from the tables beside this file: a folder a language, a file a subject."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from string import Formatter
from typing import Any

# Groups whose codes stand alone; those of the other groups are written `group.code`.
_ALONE = ("reason", "warning", "caution", "refusal", "straights")

# What a sentence that nobody has reviewed ends in; `page.unreviewed` says what it means.
UNREVIEWED = "*"
_ENDS = (".", "?", "!")


class WordingError(LookupError):
    """A code, language or figure that the tables do not know: a fault of ours, never of a user."""


@cache
def languages() -> tuple[str, ...]:
    """Return the languages there are, by their two letters."""
    return tuple(sorted(folder.name for folder in _folders()))


def _folders() -> Iterator[Traversable]:
    for item in files("leanladder").joinpath("wording").iterdir():
        if item.is_dir() and any(part.name.endswith(".toml") for part in item.iterdir()):
            yield item


def reviewed(language: str) -> bool:
    """Return whether someone who speaks it has reviewed all the texts of a language."""
    return all(table["reviewed"] for table in _tables(language))


def text(code: str, language: str = "en", **figures: object) -> str:
    """Return the text of a code with its figures filled in.

    code is one of a reason, warning, caution, refusal or way of riding the straights, or
    `group.code` of any group. A sentence of a translation nobody has reviewed ends in a mark; a
    piece of one, such as a side, a label or a mark in a table, bears none: it stands within others.
    Raises WordingError for an unknown code or language and for a missing figure; more figures
    than the text asks for do no harm.
    """
    words = unmarked(code, language, **figures)
    return words if reviewed(language) or not words.endswith(_ENDS) else f"{words} {UNREVIEWED}"


def unmarked(code: str, language: str = "en", **figures: object) -> str:
    """Return the text of a code as `text` does, without a mark: for pages that say it once for all.

    Raises WordingError as `text` does.
    """
    table = _table(language)
    if code not in table:
        raise WordingError(f"no text for {code!r} in {language!r}")
    try:
        return table[code].format_map(figures)
    except KeyError as missing:
        raise WordingError(f"the text of {code!r} needs the figure {missing}") from None


def codes(language: str = "en") -> Mapping[str, tuple[str, ...]]:
    """Return every code as `group.code`, with the names of the figures that its text needs."""
    full = {code: words for code, words in _table(language).items() if "." in code}
    return {
        code: tuple(name for _, name, _, _ in Formatter().parse(words) if name)
        for code, words in full.items()
    }


@cache
def _tables(language: str) -> tuple[Mapping[str, Any], ...]:
    if language not in languages():
        raise WordingError(f"no language {language!r}")
    folder = files("leanladder").joinpath("wording", language)
    found = sorted((item for item in folder.iterdir() if item.name.endswith(".toml")), key=lambda i: i.name)
    return tuple(tomllib.loads(item.read_text(encoding="utf-8")) for item in found)


@cache
def _table(language: str) -> Mapping[str, str]:
    table: dict[str, str] = {}
    for read in _tables(language):
        for group, texts in read.items():
            for code, words in texts.items() if isinstance(texts, Mapping) else ():
                _put(table, f"{group}.{code}", words)
                if group in _ALONE:
                    _put(table, code, words)
    return table


def _put(table: dict[str, str], code: str, words: str) -> None:
    if code in table:
        raise WordingError(f"the code {code!r} stands in two groups")
    table[code] = words
