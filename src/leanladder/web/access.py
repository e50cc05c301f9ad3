"""Who may see what: every view says so, and one that says nothing is shown to nobody."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode

from leanladder.web.faults import refused
from leanladder.web.typed import is_a_key

Who = Literal["public", "coach", "head"]
View = Callable[..., HttpResponseBase]
_MARK = "leanladder_access"


def public(view: View) -> View:
    """Mark a view that anyone may see: logging in, a rider's own card."""
    return _marked(view, "public")


def coach_or_head(view: View) -> View:
    """Mark a view for coaches and the head instructor; whose groups it shows, the view itself looks after."""
    return _marked(view, "coach")


def head_only(view: View) -> View:
    """Mark a view for the head instructor alone."""
    return _marked(view, "head")


def _marked(view: View, who: Who) -> View:
    setattr(view, _MARK, who)
    return view


def who_of(view: object) -> Who | None:
    """Return whom a view is for, None where it does not say."""
    found: Who | None = getattr(view, _MARK, None)
    return found


class AccessMiddleware:
    """Lets a request pass to its view only where the view is for who asks."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer a request."""
        return self.get_response(request)

    def process_view(
        self,
        request: HttpRequest,
        view: View,
        _args: object,
        kwargs: Mapping[str, object],
    ) -> HttpResponse | None:
        """Return a refusal, or None where the view may answer; raises Http404 for a key that is none."""
        if not all(is_a_key(each) for each in kwargs.values()):
            raise Http404
        who = who_of(view)
        if who == "public":
            return None
        if who is None or not request.user.is_authenticated:
            return _log_in(request) if who is not None else refused(request)
        if who == "head" and not is_head(request):
            return refused(request)
        return None


def is_head(request: HttpRequest) -> bool:
    """Return whether the head instructor asks."""
    return getattr(request.user, "role", None) == "head"


def _log_in(request: HttpRequest) -> HttpResponse:
    if request.method != "GET" or request.headers.get("HX-Request"):
        return refused(request, status=401)
    return redirect(f"{reverse('login')}?{urlencode({'next': request.get_full_path()})}")
