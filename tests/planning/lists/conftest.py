"""A ladder that lists are made of."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from leanladder.domain.ladder import Ladder
from leanladder.planning.ladder import plan


@pytest.fixture(scope="module")
def ridden(ask: Callable[..., Any]) -> Ladder:
    return plan(ask(laps=3))
