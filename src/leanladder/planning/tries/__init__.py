"""Tries: what a ladder would be with another air, track, sky, start, tyre or level, never given out."""

from leanladder.planning.tries.glance import Glance, glance
from leanladder.planning.tries.origin import Begin, begin_after
from leanladder.planning.tries.roads import Roads
from leanladder.planning.tries.wishes import Wishes, wished

__all__ = ["Begin", "Glance", "Roads", "Wishes", "begin_after", "glance", "wished"]
