"""Something to be said, before it is worded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence by its wording code and the figures it needs."""

    code: str
    figures: Mapping[str, object] = field(default_factory=dict)
