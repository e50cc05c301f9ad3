"""The app as a WSGI server takes it."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from django.core.wsgi import get_wsgi_application

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
_pages = get_wsgi_application()


def application(environ: dict[str, Any], start_response: StartResponse) -> Iterable[bytes]:
    """Answer a request; where it asks for the head alone, without the body that servers would send on."""
    answer = _pages(environ, start_response)
    if environ["REQUEST_METHOD"] != "HEAD":
        return answer
    answer.close()
    return []
