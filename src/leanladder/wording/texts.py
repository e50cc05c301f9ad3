"""Texts from the tables beside this file, one a language."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from string import Formatter
from typing import Any

_SUFFIX = ".toml"
# Groups whose codes stand alone; those of the other groups are written `group.code`.
_ALONE = ("reason", "warning", "caution", "refusal", "straights")


class WordingError(LookupError):
    """A code, language or figure that the tables do not know: a fault of ours, never of a user."""


@cache
def languages() -> tuple[str, ...]:
    """Return the languages there are, by their two letters."""
    folder = files("leanladder").joinpath("wording")
    names = (item.name for item in folder.iterdir() if item.name.endswith(_SUFFIX))
    return tuple(sorted(name.removesuffix(_SUFFIX) for name in names))


def text(code: str, language: str = "en", **figures: object) -> str:
    """Return the text of a code with its figures filled in.

    code is one of a reason, warning, caution, refusal or way of riding the straights, or
    `group.code` of any group. A text of a translation nobody has reviewed ends in a mark.
    Raises WordingError for an unknown code or language and for a missing figure; more figures
    than the text asks for do no harm.
    """
    table = _table(language)
    if code not in table:
        raise WordingError(f"no text for {code!r} in {language!r}")
    try:
        filled = table[code].format_map(figures)
    except KeyError as missing:
        raise WordingError(f"the text of {code!r} needs the figure {missing}") from None
    return filled


def codes(language: str = "en") -> Mapping[str, tuple[str, ...]]:
    """Return every code as `group.code`, with the names of the figures that its text needs."""
    full = {code: words for code, words in _table(language).items() if "." in code}
    return {
        code: tuple(name for _, name, _, _ in Formatter().parse(words) if name)
        for code, words in full.items()
    }


@cache
def _table(language: str) -> Mapping[str, str]:
    if language not in languages():
        raise WordingError(f"no language {language!r}")
    place = files("leanladder").joinpath("wording", language + _SUFFIX)
    read: dict[str, Any] = tomllib.loads(place.read_text(encoding="utf-8"))
    mark = "" if read.pop("reviewed") else " *"
    table: dict[str, str] = {}
    for group, texts in read.items():
        for code, words in texts.items():
            table[f"{group}.{code}"] = words + mark
            if group in _ALONE:
                if code in table:
                    raise WordingError(f"the code {code!r} stands in two groups")
                table[code] = words + mark
    return table
