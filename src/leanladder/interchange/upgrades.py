"""Files of an earlier version, brought to today's step by step."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

Content = Mapping[str, Any]
# From the schema a step takes to what it makes of a file's content, next version's schema included.
Upgraders = Mapping[str, Callable[[Content], Content]]
NONE: Upgraders = {}


def upgraded(content: Content, wanted: str, upgraders: Upgraders) -> Content:
    """Return a file's content as the schema wanted has it, one step for each version in between.

    Content whose `schema` is the one wanted, or has no step from it, comes back as it is: reading
    then says what is wrong. Raises ValueError where a step does not lead on, a fault of ours.
    """
    seen: set[object] = set()
    while (found := content.get("schema")) != wanted and found in upgraders:
        if found in seen:
            raise ValueError(f"the upgrade of {found} leads nowhere")
        seen.add(found)
        content = upgraders[str(found)](content)
    return content
