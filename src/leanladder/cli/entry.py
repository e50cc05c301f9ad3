"""Where the command starts: light, so that an interrupt in the first moments ends in plain words too."""

from __future__ import annotations

import sys

INTERRUPTED = 130


def run() -> int:
    """Return the exit code of the command for the process's own arguments."""
    try:
        from leanladder.cli.main import main  # noqa: PLC0415  # its imports take the first quarter second

        return main()
    except KeyboardInterrupt:
        sys.stderr.write("leanladder: interrupted.\n")
        return INTERRUPTED
