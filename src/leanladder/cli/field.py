"""A session's field in words, for the terminal and for JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import Any

from leanladder.cli.table import WIDTH
from leanladder.domain.day import DayLadder
from leanladder.domain.ladder import Notice
from leanladder.domain.sentence import Sentence
from leanladder.interchange.field import field_object
from leanladder.planning.field import field_plan
from leanladder.wording import text


def field_text(entries: Sequence[DayLadder], language: str) -> str:
    """Return a paragraph on the field of one session's entries, empty where it does not mix."""
    field = field_plan(entries)
    if not field.mixed:
        return ""
    said = _said((*field.warnings, *field.order), language)
    lines = (textwrap.fill(f"- {notice.text}", WIDTH, subsequent_indent="  ") for notice in said)
    return "\n".join((f"{text('field.title', language)}:", *lines))


def fields_object(sessions: Iterable[Sequence[DayLadder]], language: str) -> list[dict[str, Any]]:
    """Return the fields of some sessions, each by its entries, for leanladder.day-plan/1."""
    fields = (field_plan(entries) for entries in sessions)
    return [
        field_object(
            field,
            warnings=_said(field.warnings, language),
            order=_said(field.order, language),
            rules=_said(field.rules, language),
        )
        for field in fields
    ]


def _said(sentences: Iterable[Sentence], language: str) -> list[Notice]:
    return [Notice(each.code, text(each.code, language, **each.figures)) for each in sentences]
