"""The address on the sheet of codes is one that a phone reaches."""

from __future__ import annotations

import pytest
from django.test import RequestFactory

from leanladder.web.paper import host
from leanladder.web.paper.host import host_of, is_own


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("192.168.0.7:8571", "192.168.0.7:8571"),
        ("paddock.test:80", "paddock.test:80"),
        ("localhost:8571", "10.0.0.9:8571"),
        ("127.0.0.1:8571", "10.0.0.9:8571"),
        ("[::1]:8571", "10.0.0.9:8571"),
    ],
)
def test_the_laptop_s_own_name_for_itself_is_no_address(
    asked: str, found: str, monkeypatch: pytest.MonkeyPatch, settings_hosts: None
) -> None:
    monkeypatch.setattr(host, "own_address", lambda: "10.0.0.9")
    assert host_of(RequestFactory().get("/", HTTP_HOST=asked)) == found


@pytest.fixture
def settings_hosts(monkeypatch: pytest.MonkeyPatch) -> None:
    from django.conf import settings  # only here

    monkeypatch.setattr(settings, "ALLOWED_HOSTS", ["*"])


def test_own_names() -> None:
    assert is_own("127.0.0.1")
    assert is_own("::1")
    assert is_own("localhost")
    assert not is_own("10.0.0.9")
    assert not is_own("paddock.test")
