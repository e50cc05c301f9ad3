"""Files handed out by pages."""

from __future__ import annotations

from django.http import HttpResponse
from django.utils.http import content_disposition_header


def download(content: bytes, name: str) -> HttpResponse:
    """Return a file that a browser saves under a name, and never shows."""
    headers = {"Content-Disposition": content_disposition_header(True, name) or "attachment"}
    return HttpResponse(content, content_type="application/octet-stream", headers=headers)
