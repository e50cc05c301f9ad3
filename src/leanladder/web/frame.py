"""What every page's frame needs: who is there, in which language and units."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest

from leanladder import __version__, wording
from leanladder.engine import ENGINE


def frame(request: HttpRequest) -> dict[str, Any]:
    """Return what base.html shows beside a page's own."""
    return {
        "language": language_of(request),
        "units": getattr(getattr(request, "user", None), "units", "metric"),
        "is_head": getattr(getattr(request, "user", None), "role", None) == "head",
        "version": __version__,
        "engine": ENGINE,
    }


def language_of(request: HttpRequest) -> str:
    """Return the language of who asks: their own, else what their browser wants, else English."""
    user = getattr(request, "user", None)
    chosen = getattr(user, "language", "") if user is not None and user.is_authenticated else ""
    wanted = [
        chosen,
        *(part.strip()[:2].lower() for part in request.headers.get("Accept-Language", "").split(",")),
    ]
    return next((each for each in wanted if each in wording.languages()), "en")
