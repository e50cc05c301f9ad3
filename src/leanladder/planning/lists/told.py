"""What the lists share: the language there is, machines' names in a row, each sentence once."""

from __future__ import annotations

from collections.abc import Iterable

from leanladder import wording
from leanladder.domain.sentence import Sentence


def tongue(language: str) -> str:
    """Return a language where there are texts in it, else English."""
    return language if language in wording.languages() else "en"


def joined(names: Iterable[str]) -> str:
    """Return names in a row, each once."""
    return ", ".join(dict.fromkeys(names))


def each_once(sentences: Iterable[Sentence]) -> tuple[Sentence, ...]:
    """Return sentences in their order, each once."""
    found: list[Sentence] = []
    for sentence in sentences:
        if sentence not in found:
            found.append(sentence)
    return tuple(found)
