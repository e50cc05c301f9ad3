"""The app served from a data folder, as a school starts it; found, killed and ended from outside."""

from __future__ import annotations

import os
import queue
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self
from urllib.parse import urlsplit

READY = "ready "
READY_WITHIN_S, ENDS_WITHIN_S, EVERY_S = 60.0, 5.0, 0.02
DATABASE = "leanladder.sqlite3"


def home_within(folder: Path) -> Path:
    """Return a new data folder, which shares the compiled code of the one in use."""
    from leanladder.settings import cache_folder  # noqa: PLC0415  # by the environment as it is now

    home = folder / "home"
    home.mkdir(mode=0o700)
    (home / "cache").symlink_to(cache_folder())
    return home


def environment(home: Path) -> dict[str, str]:
    """Return the environment for a program that keeps its data in a folder, in SQLite."""
    kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    return kept | {"LEANLADDER_HOME": str(home), "DJANGO_SETTINGS_MODULE": "leanladder.web.settings"}


class Served:
    """`leanladder serve` on this machine alone, at a port that is free, and the worker beside it."""

    def __init__(self, home: Path) -> None:
        command = [sys.executable, "-m", "leanladder.cli", "serve", "--host", "127.0.0.1", "--port", "0"]
        self.home = home
        self.process = subprocess.Popen(
            command, env=environment(home), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
            stderr=(home / "stderr.txt").open("ab"), text=True,
        )  # fmt: skip
        self.said: list[str] = []
        self._lines: queue.Queue[str | None] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()

    def __enter__(self) -> Self:
        """Give it, to be killed in the end."""
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        """Kill what is left of it."""
        self.kill()

    def _read(self) -> None:
        if self.process.stdout is not None:
            for line in self.process.stdout:
                self._lines.put(line.rstrip("\n"))
        self._lines.put(None)

    def ready(self) -> str:
        """Return its address as HOST:PORT once it is ready; raises RuntimeError where it fails."""
        until = time.monotonic() + READY_WITHIN_S
        while (left := until - time.monotonic()) > 0.0:
            try:
                line = self._lines.get(timeout=left)
            except queue.Empty:
                break
            if line is None:
                break
            self.said.append(line)
            if line.startswith(READY):
                return urlsplit(line.removeprefix(READY)).netloc
        raise RuntimeError(f"it is not ready: {self.said}, {self.errors()}")

    def errors(self) -> str:
        """Return what it wrote to standard error, it and those before it on this folder."""
        return (self.home / "stderr.txt").read_text(errors="replace")

    def worker(self) -> int | None:
        """Return the worker's process id, None while there is none."""
        return next(iter(children(self.process.pid)), None)

    def worker_other_than(self, before: int | None) -> int:
        """Return the id of a worker other than one before, waited for; raises TimeoutError."""
        found: list[int] = []

        def there() -> bool:
            now = self.worker()
            found.extend([now] if now not in {None, before} and now is not None else [])
            return bool(found)

        if not waited(there, READY_WITHIN_S):
            raise TimeoutError("there is no worker")
        return found[0]

    def kill(self) -> None:
        """Kill both at once, as a power cut would end them."""
        pids = [self.process.pid, *children(self.process.pid)]
        if self.process.poll() is None:
            for pid in pids:
                kill(pid)
        self.process.wait()
        waited(lambda: not any(lives(pid) for pid in pids), ENDS_WITHIN_S)

    def end(self, number: signal.Signals = signal.SIGTERM) -> int:
        """End it by a signal and return its exit code; raises TimeoutExpired where it takes too long."""
        self.process.send_signal(number)
        return self.process.wait(ENDS_WITHIN_S)


def kill(pid: int) -> None:
    """Kill a process at once; one that is gone already is none the worse."""
    try:
        os.kill(pid, signal.SIGKILL)
    except ProcessLookupError:
        return


def children(pid: int) -> list[int]:
    """Return the ids of a process's living children, by what Linux tells of every process."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        state = _state(int(folder.name))
        if state is not None and state[0] != "Z" and int(state[1]) == pid:
            found.append(int(folder.name))
    return found


def lives(pid: int) -> bool:
    """Return whether a process is there and has not ended."""
    state = _state(pid)
    return state is not None and state[0] != "Z"


def _state(pid: int) -> list[str] | None:
    """A process's state and its parent's id, with what follows; None for one that is gone."""
    try:
        text = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8", errors="replace")
    except OSError:
        return None
    return text.rpartition(") ")[2].split()


def waited(holds: Callable[[], bool], within_s: float) -> bool:
    """Wait until something holds, and return whether it does."""
    until = time.monotonic() + within_s
    while not holds():
        if time.monotonic() > until:
            return False
        time.sleep(EVERY_S)
    return True
