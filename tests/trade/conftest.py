"""Facts of the trade are checked on caps as a plan counts them."""

from __future__ import annotations

import pytest


@pytest.fixture(autouse=True)
def _as_planned(all_members: None) -> None:
    """Count over all members."""
