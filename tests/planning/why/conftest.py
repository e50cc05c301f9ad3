"""A why without its changes: each of these is a ladder of its own, and test_changes.py looks at them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from leanladder.planning.why import answer


@pytest.fixture(scope="module")
def without_changes() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(answer, "changes", lambda _asked: ())
        yield
