"""Why one rung's cap is what it is, and what one change would do to it."""

from leanladder.planning.why.answer import why

__all__ = ["why"]
