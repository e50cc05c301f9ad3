"""Compile what is timed, in a process of its own, so that the one that times finds compiled code.

A compiler takes more memory than any ladder, and a process never gives back what it had at most.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
LONGEST_S = 300


def warm() -> None:
    """Fill the cache of compiled code; where that takes too long, whoever comes after compiles."""
    try:
        subprocess.run([sys.executable, "-m", "scripts.timing.warm"], cwd=ROOT, check=True, timeout=LONGEST_S)
    except subprocess.SubprocessError:
        print("  compiling beforehand did not end: memory and first runs count it", flush=True)


def main() -> int:
    """Plan a ladder and heat a few members."""
    from scripts.timing import members, trace  # noqa: PLC0415 - only when run

    from leanladder.engine.block_rows import WIDTH  # noqa: PLC0415
    from leanladder.planning.ladder import plan  # noqa: PLC0415

    asked = trace.session()
    plan(asked)
    members.Pass(trace.traced(asked, 1), WIDTH)()
    return 0


if __name__ == "__main__":
    sys.exit(main())
