"""What libraries say stays where nobody reads it: it names riders' addresses."""

from __future__ import annotations

import logging
from collections.abc import Iterator

import pytest

from leanladder.web.logs import LIBRARIES, hush_libraries


@pytest.fixture
def _as_before() -> Iterator[None]:
    loggers = [logging.getLogger(name) for name in LIBRARIES]
    before = [(each.propagate, list(each.handlers)) for each in loggers]
    yield
    for each, (propagate, handlers) in zip(loggers, before, strict=True):
        each.propagate, each.handlers = propagate, handlers


@pytest.mark.usefixtures("_as_before")
def test_a_link_that_a_library_warns_of_is_printed_nowhere(capfd: pytest.CaptureFixture[str]) -> None:
    hush_libraries()
    logging.getLogger("django.request").warning("Not Found: /c/1-secret")
    logging.getLogger("waitress.queue").warning("Task queue depth is 1")
    assert capfd.readouterr() == ("", "")
