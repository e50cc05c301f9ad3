"""The app served as a school would: `leanladder serve` in a process of its own, a data folder of its own."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

# Debian's.
CHROMIUM = Path("/usr/bin/chromium")
HOST = "paddock.test"
# What Chromium is told: the name leads to this machine, which phones cannot call localhost either.
RULES = f"--host-resolver-rules=MAP {HOST} 127.0.0.1"
START_S, END_S = 120.0, 10.0
_SERVE = "from leanladder.cli.entry import run; run()"
_READY = re.compile(r"^ready http://[^:]+:(\d+)$", re.MULTILINE)
_CODE = re.compile(r"/first/\?code=(\S+)")


class Served(NamedTuple):
    """Where the app is reached by name, the path of the first start, and its process."""

    address: str
    first: str
    process: subprocess.Popen[bytes]
    home: Path


@contextmanager
def served(home: Path, compiled: Path) -> Iterator[Served]:
    """Serve with a data folder and the folder where compiled code is kept; raises TimeoutError."""
    home.mkdir(parents=True, exist_ok=True)
    if not (home / "cache").exists():
        (home / "cache").symlink_to(compiled)
    ours = {name: value for name, value in os.environ.items() if not name.startswith("LEANLADDER_")}
    said = home / "said.txt"
    with said.open("wb") as out:
        process = subprocess.Popen(
            [sys.executable, "-c", _SERVE, "serve", "--host", "127.0.0.1", "--port", "0", "--name", HOST],
            env={**ours, "LEANLADDER_HOME": str(home)},
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=subprocess.STDOUT,
        )
    try:
        yield _ready(process, said, home)
    finally:
        _end(process)


def _ready(process: subprocess.Popen[bytes], said: Path, home: Path) -> Served:
    until = time.monotonic() + START_S
    while time.monotonic() < until and process.poll() is None:
        text = said.read_text(encoding="utf-8", errors="replace")
        if found := _READY.search(text):
            code = _CODE.search(text)
            first = f"/first/?code={code.group(1)}" if code else "/login/"
            return Served(f"http://{HOST}:{found.group(1)}", first, process, home)
        time.sleep(0.05)
    raise TimeoutError(f"the app did not start: {said.read_text(encoding='utf-8', errors='replace')}")


def _end(process: subprocess.Popen[bytes]) -> None:
    if process.poll() is not None:
        return
    process.send_signal(signal.SIGTERM)
    try:
        process.wait(END_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()
