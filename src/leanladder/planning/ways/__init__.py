"""Ways of warming a tyre over the same laps at the same mean speed."""

from leanladder.planning.ways.base import usual_laps
from leanladder.planning.ways.compare import compare

__all__ = ["compare", "usual_laps"]
