"""Where figures came from, and a short name for a whole set of them."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from hashlib import sha256

from leanladder.domain.parameter import Parameter

_DIGEST_LENGTH = 12


def digest(*used: object) -> str:
    """Return a short digest of the figures of everything used, the same for the same figures.

    used are domain objects made of figures (families, motorcycles, levels, surfaces) and mappings of
    Parameters. Order counts; sources and descriptions do too, so that a changed source shows.
    """
    text = json.dumps([_plain(item) for item in used], sort_keys=True, ensure_ascii=True, allow_nan=False)
    return sha256(text.encode("ascii")).hexdigest()[:_DIGEST_LENGTH]


def sources(*used: object) -> tuple[str, ...]:
    """Return every source named by the figures of what was used, each once, in order."""
    return tuple(sorted({figure.source for item in used for figure in _figures(item)}))


def _figures(item: object) -> Iterator[Parameter]:
    if isinstance(item, Parameter):
        yield item
    elif isinstance(item, Mapping):
        for value in item.values():
            yield from _figures(value)
    elif isinstance(item, (tuple, list)):
        for value in item:
            yield from _figures(value)
    elif is_dataclass(item):
        for inner in fields(item):
            yield from _figures(getattr(item, inner.name))


def _plain(item: object) -> object:
    if isinstance(item, Mapping):
        return {str(key): _plain(value) for key, value in item.items()}
    if isinstance(item, (tuple, list)):
        return [_plain(value) for value in item]
    if is_dataclass(item):
        return {inner.name: _plain(getattr(item, inner.name)) for inner in fields(item)}
    if item is None or isinstance(item, (str, bool, int, float)):
        return item
    raise TypeError(f"{type(item).__name__} has no figures")
