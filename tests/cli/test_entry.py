"""An interrupt while the program is still loading ends in plain words, without a traceback."""

from __future__ import annotations

import subprocess
import sys

PROGRAM = """
import sys
class Stop:
    def find_spec(self, name, path=None, target=None):
        if name == "typer":
            raise KeyboardInterrupt
        return None
sys.meta_path.insert(0, Stop())
from leanladder.cli.entry import run
sys.exit(run())
"""


def test_interrupted_while_loading() -> None:
    done = subprocess.run([sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr == "leanladder: interrupted.\n"


def test_the_entry_runs_the_command() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "leanladder.cli", "--version"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stdout.startswith("leanladder ")
