"""Texts by code, figures in the units of who reads: tags of every page."""

from __future__ import annotations

from typing import Any

from django import template
from django.template.context import Context

from leanladder import wording
from leanladder.domain.sentence import Sentence

register = template.Library()


@register.simple_tag(takes_context=True)
def say(context: Context, code: str, **figures: Any) -> str:  # noqa: ANN401  # whatever the text names
    """Return a text by its code in the reader's language."""
    return wording.text(code, str(context.get("language", "en")), **figures)


@register.simple_tag(takes_context=True)
def tell(context: Context, sentence: Sentence) -> str:
    """Return a sentence chosen by the planner in the reader's language."""
    return wording.text(sentence.code, str(context.get("language", "en")), **sentence.figures)
