"""Names of the catalogue in the reader's words; what is the school's own goes by its own name."""

from __future__ import annotations

from leanladder import catalogue, wording
from leanladder.records import stable
from leanladder.web.stable.form import Choices


def model_words(name: str, language: str) -> str:
    """Return a machine of the catalogue, or an own file, in words."""
    return _words("stable_model", name, language)


def tyre_words(name: str, language: str) -> str:
    """Return a tyre family of the catalogue, or an own file, in words."""
    return _words("stable_tyre", name, language)


def level_words(name: str, language: str) -> str:
    """Return a level in words."""
    return _words("level", name, language)


def model_choices(language: str) -> Choices:
    """Return the machines to choose from: the school's own first."""
    return [
        *_own("machine"),
        *((name, model_words(name, language)) for name in catalogue.motorcycle_names()),
    ]


def tyre_choices(language: str) -> Choices:
    """Return the tyres to choose from: the school's own first."""
    return [*_own("tyre"), *((name, tyre_words(name, language)) for name in catalogue.tyre_names())]


def level_choices(language: str) -> Choices:
    """Return the levels, the most careful first."""
    return [(name, level_words(name, language)) for name in catalogue.level_names()]


def _own(kind: stable.Kind) -> Choices:
    return [(each.path, each.name) for each in stable.own_files(kind)]


def _words(group: str, name: str, language: str) -> str:
    try:
        return wording.text(f"{group}.{name}", language)
    except wording.WordingError:
        return name.rpartition("/")[2].removesuffix(".toml")
