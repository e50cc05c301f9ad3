"""Numbers only: from points on the ground to an even, smooth, closed line and its corners."""

from __future__ import annotations
