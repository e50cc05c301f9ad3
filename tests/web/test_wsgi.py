"""What the server hands on: a head alone has no body."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pytest
from django.test import RequestFactory

from leanladder.web.wsgi import application


@pytest.mark.parametrize("path", ["/c/1-x", "/nowhere/", "/static/leanladder/app.css"])
def test_a_head_is_answered_without_its_body(path: str) -> None:
    answers = {method: _asked(method, path) for method in ("GET", "HEAD")}
    (status, headers, body), (head_status, head_headers, head_body) = answers["GET"], answers["HEAD"]
    assert (head_status, head_body) == (status, b"")
    assert body
    assert head_headers.keys() == headers.keys()


def _asked(method: str, path: str) -> tuple[str, dict[str, str], bytes]:
    told: list[Any] = []

    def start(status: str, headers: list[tuple[str, str]], *_: object) -> Any:
        told.extend((status, dict(headers)))

    environ = RequestFactory(headers={"host": "localhost"}).generic(method, path).environ
    body = b"".join(application(environ | {"wsgi.input": BytesIO()}, start))
    return told[0], told[1], body
