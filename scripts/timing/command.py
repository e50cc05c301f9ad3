"""The command, started anew."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile

from scripts.timing import clock
from scripts.timing.trace import EXAMPLE

LONGEST_S = 240  # the first time it compiles


def cold_s() -> float | None:
    """Return the median time [s] of the demo's ladder, process start to end, None where it does not end.

    In a home of its own; compiled code is kept there by a run that does not count.
    """
    command = [
        sys.executable, "-m", "leanladder.cli", "plan", "--circuit", str(EXAMPLE / "circuit.csv"),
        "--notes", str(EXAMPLE / "circuit-notes.toml"), "--tyre", "sport-road", "--air", "8",
        "--track", "9", "--humidity", "60", "--start", "cold", "--laps", "6", "--rider", "new",
    ]  # fmt: skip
    with tempfile.TemporaryDirectory() as home:
        surroundings = os.environ | {"LEANLADDER_HOME": home}

        def run() -> None:
            subprocess.run(
                command, env=surroundings, check=True, stdout=subprocess.DEVNULL, timeout=LONGEST_S
            )

        try:
            run()  # fills the cache
            return clock.seconds(run)
        except subprocess.SubprocessError:
            return None
