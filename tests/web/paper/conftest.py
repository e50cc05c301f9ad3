"""What tests of this folder ask for."""

from __future__ import annotations

from tests.web.with_a_day import (  # noqa: F401  # fixtures
    _answers_are_kept,
    _records,
    coach_page,
    demo,
    head,
    page,
    there,
)
