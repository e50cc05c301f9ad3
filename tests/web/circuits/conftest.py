"""What tests of this folder ask for."""

from __future__ import annotations

from tests.web.signed_in import coach, head  # noqa: F401  # fixtures
