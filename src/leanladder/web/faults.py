"""What a user gets wrong, told on a page; never a traceback."""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.core.exceptions import PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render

from leanladder.domain.errors import InputError, LeanladderError

log = logging.getLogger(__name__)


class FaultMiddleware:
    """Turns an error of ours into a page that says what is wrong and what to do."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer a request."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Return the page for an error, None for what Django tells by itself."""
        if isinstance(error, LeanladderError):
            return told(request, error)
        if isinstance(error, Http404 | PermissionDenied | SuspiciousOperation | RequestDataTooBig):
            return None
        match = request.resolver_match
        log.error("a page failed: %s", match.view_name if match else "?", exc_info=error)
        return render(request, "fault.html", {"code": "fault.ours"}, status=500)


def told(request: HttpRequest, error: LeanladderError) -> HttpResponse:
    """Return the page that says what was wrong with what was entered."""
    status = 400 if isinstance(error, InputError) else 422
    return render(request, "fault.html", {"error": error}, status=status)


def refused(request: HttpRequest, status: int = 403) -> HttpResponse:
    """Return the page for someone who may not see what they asked for."""
    return render(request, "fault.html", {"code": "fault.not_for_you"}, status=status)


def forged(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Return the page for a form that this laptop did not give out, or whose session has ended."""
    log.warning("a form was refused: %s", reason)
    return render(request, "fault.html", {"code": "fault.form"}, status=403)


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """Return the page for what may not be seen, as Django asks for it."""
    return refused(request)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """Return the page for an address that does not exist."""
    return render(request, "fault.html", {"code": "fault.not_found"}, status=404)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """Return the page for a request that cannot be read."""
    return render(request, "fault.html", {"code": "fault.unreadable"}, status=400)


def ours(request: HttpRequest) -> HttpResponse:
    """Return the page for a fault of ours."""
    return render(request, "fault.html", {"code": "fault.ours"}, status=500)
