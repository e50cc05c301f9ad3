"""The pass on another number of ribs: by a copy of the package, since the kernel is compiled for its own.

Run as a program it times one tyre's laps and prints the seconds, for whoever started it.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import leanladder

ROOT = Path(__file__).resolve().parent.parent.parent
PACKAGE = Path(leanladder.__file__).resolve().parent
RIBS = re.compile(r"^(RIBS\s*=\s*)\d+", re.MULTILINE)
PLACES = ("planning/rubber.py", "engine/block.py")  # where the number of ribs stands


def pass_s(ribs: int, members: int, laps: int, longest_s: float) -> float | None:
    """Return the time [s] of a pass of both tyres with so many ribs; None: not to be had within longest_s."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copytree(PACKAGE, folder / "leanladder", ignore=shutil.ignore_patterns("__pycache__"))
        if not all(_change(folder / "leanladder" / place, ribs) for place in PLACES):
            return None
        surroundings = os.environ | {
            "PYTHONPATH": os.pathsep.join([name, str(ROOT)]),
            "LEANLADDER_HOME": str(folder / "home"),
        }
        command = [sys.executable, "-m", "scripts.timing.altered", str(ribs), str(members), str(laps)]
        try:
            ended = subprocess.run(
                command, env=surroundings, cwd=name, capture_output=True, text=True, check=True,
                timeout=longest_s,
            )  # fmt: skip
        except subprocess.SubprocessError:
            return None
        return float(json.loads(ended.stdout))


def _change(path: Path, ribs: int) -> bool:
    """Set the number of ribs in a file; return whether it stands there once."""
    if not path.is_file():
        return False
    text, count = RIBS.subn(rf"\g<1>{ribs}", path.read_text(encoding="utf-8"))
    path.write_text(text, encoding="utf-8")
    return count == 1


def main() -> int:
    """Time the pass of the package as it is found, and print the seconds."""
    from scripts.timing import clock, members, trace  # noqa: PLC0415 - of the copy, and only when run

    ribs, count, laps = (int(word) for word in sys.argv[1:])
    ride = trace.traced(trace.session(), laps)
    if ride.place.front.body.ribs != ribs:
        return 1
    timed = members.Pass(ride, count)
    timed()
    print(clock.seconds(timed))
    return 0


if __name__ == "__main__":
    sys.exit(main())
