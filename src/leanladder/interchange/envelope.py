"""The common head of every JSON answer, and writing it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any

from leanladder import ENGINE

if TYPE_CHECKING:  # the domain's ladder loads numpy, which an answer without arrays need not wait for
    from leanladder.domain.ladder import Notice


def envelope(
    schema: str,
    *,
    parameters: str | None,
    inputs: Mapping[str, Any],
    cautions: Iterable[str | Notice],
    warnings: Iterable[Notice],
    body: Mapping[str, Any],
) -> dict[str, Any]:
    """Return one answer: the common head, then the body's own keys.

    schema is "leanladder.NAME/1"; parameters the digest of the data files used, None where
    none were; inputs what was asked, cautions plain texts or notices, warnings notices
    (`code`, `text`). Raises ValueError where the body would replace a key of the head.
    """
    head: dict[str, Any] = {
        "schema": schema,
        "engine": ENGINE,
        "parameters": parameters,
        "inputs": dict(inputs),
        "cautions": [_notice(caution) for caution in cautions],
        "warnings": [_notice(warning) for warning in warnings],
    }
    taken = head.keys() & body.keys()
    if taken:
        raise ValueError(f"a body may not replace {sorted(taken)}")
    return head | dict(body)


def _notice(notice: str | Notice) -> str | dict[str, str]:
    return notice if isinstance(notice, str) else {"code": notice.code, "text": notice.text}


def dump(answer: Mapping[str, Any]) -> str:
    """Return an answer as JSON text, times as ISO 8601 with their offset.

    Raises ValueError for a number that is not finite and for a time without a zone:
    absent is null, never NaN.
    """
    return json.dumps(answer, allow_nan=False, ensure_ascii=False, indent=2, default=_plain)


def _plain(value: object) -> object:
    if isinstance(value, datetime):
        if value.tzinfo is None:
            raise ValueError(f"the time {value} has no zone")
        return value.isoformat()
    to_list = getattr(value, "tolist", None)
    if to_list is not None:
        return to_list()
    raise TypeError(f"{type(value).__name__} has no place in an answer")
