"""Sources of figures by kind, so that a reader sees how much of them is judgement."""

from __future__ import annotations

from collections.abc import Iterable

# What a source begins with, and its kind; the first match counts. All others name where they were found.
SAID = (
    ("from memory", "memory"),
    ("judgement", "judgement"),
    ("common practice", "practice"),
    ("design", "rules"),
    ("rule", "rules"),
)
NAMED = "named"
KINDS = (NAMED, "practice", "memory", "judgement", "rules")


def kind_of(source: str) -> str:
    """Return the kind of a source: named, practice, memory, judgement or rules."""
    if "(from memory)" in source:
        return "memory"
    return next((kind for start, kind in SAID if source.startswith(start)), NAMED)


def by_kind(sources: Iterable[str]) -> list[tuple[str, list[str]]]:
    """Return sources by kind in the order of KINDS, kinds without any left out."""
    kept = list(sources)
    groups = [(kind, [each for each in kept if kind_of(each) == kind]) for kind in KINDS]
    return [(kind, some) for kind, some in groups if some]
