"""Sentences, dates and times in the language of a sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, time

from leanladder import wording
from leanladder.domain.sentence import Sentence

# Figures that hold a code of ours, by the last part of their name, and the group that words it.
_CODED: Mapping[str, str] = {"side": "side", "end": "end", "level": "level"}
# A figure and its unit, which no line's end may part.
_UNIT = re.compile(r"(\d) (°C|km/h|km|m|min|s|bar)(?!\w)")
# A month's first day, where a language writes it unlike the others.
_FIRST_DAY: Mapping[str, str] = {"fr": "1er"}


def spoken(language: str) -> str:
    """Return the language itself where there are texts in it, else English."""
    return language if language in wording.languages() else "en"


def said(sentence: Sentence, language: str) -> str:
    """Return a sentence in a language, its sides and ends in that language too.

    A figure named `side`, `end` or `level`, or ending in one of them as in `_side`, may hold a code such as
    "left".
    Raises WordingError for an unknown code or a missing figure.
    """
    tongue = spoken(language)
    figures = {name: _worded(name, value, tongue) for name, value in sentence.figures.items()}
    return _UNIT.sub("\\1\N{NO-BREAK SPACE}\\2", wording.unmarked(sentence.code, tongue, **figures))


def all_said(sentences: Iterable[Sentence], language: str) -> list[str]:
    """Return some sentences in a language, in their order."""
    return [said(sentence, language) for sentence in sentences]


def label(code: str, language: str, **figures: object) -> str:
    """Return a text of ours for a sheet by its code; the same as `said` of a Sentence."""
    return said(Sentence(code, figures), language)


def dated(day: date, language: str) -> str:
    """Return a date with its weekday, as a sheet's head gives it."""
    return label(
        "calendar.date",
        language,
        weekday=label(f"calendar.weekday_{day.isoweekday()}", language),
        day=_FIRST_DAY.get(spoken(language), 1) if day.day == 1 else day.day,
        month=label(f"calendar.month_{day.month}", language),
    )


def clock(at: time) -> str:
    """Return a local time, as in 09:40."""
    return f"{at:%H:%M}"


def translation_mark(language: str) -> str | None:
    """Return the sentence for a page's foot where nobody has reviewed the language's texts, else None."""
    tongue = spoken(language)
    return None if wording.reviewed(tongue) else label("page.unreviewed", tongue)


def _worded(name: str, value: object, language: str) -> object:
    group = _CODED.get(name.rpartition("_")[2])
    code = f"{group}.{value}"
    if group is None or code not in wording.codes(language):
        return value
    return wording.unmarked(code, language)
