"""A PostgreSQL of our own for these tests, in a temporary folder; or the one that the environment names."""

from __future__ import annotations

import os
import pwd
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import quote

import pytest

# As the session begins: each test takes the program's own variables out of the environment.
NAMED = os.environ.get("LEANLADDER_TEST_DATABASE_URL", "")
REQUIRED = os.environ.get("LEANLADDER_REQUIRE_POSTGRES") == "1"
DEBIAN = Path("/usr/lib/postgresql")
OWNER = "leanladder"
STARTS_WITHIN_S, ENDS_WITHIN_S = 30.0, 10.0

Run = Callable[..., str]


@pytest.fixture(scope="session")
def database_url() -> Iterator[str]:
    """Give a database to begin with; skip where there is no server (fail where it is required)."""
    if NAMED:
        yield NAMED
        return
    programs = _programs()
    if programs is None:
        reason = "PostgreSQL is absent: Debian has it as postgresql"
        if REQUIRED:
            pytest.fail(reason)
        pytest.skip(reason)
    folder = Path(tempfile.mkdtemp(prefix="leanladder-pg-"))
    try:
        yield from _cluster(programs, folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _programs() -> Path | None:
    """The folder of its programs: the newest that Debian has, else where they are found."""
    newest = sorted(DEBIAN.glob("*/bin/initdb"), key=lambda path: float(path.parents[1].name))
    found = newest[-1] if newest else shutil.which("initdb")
    return None if found is None else Path(found).resolve().parent


def _cluster(programs: Path, folder: Path) -> Iterator[str]:
    """Start a server that only this machine reaches, through a socket in the folder; end it after."""
    who = _unprivileged(folder)
    data = folder / "data"
    make = [*who, str(programs / "initdb"), "-D", str(data), "-U", OWNER, "-A", "trust", "--no-sync"]
    subprocess.run([*make, "-E", "UTF8", "--locale=C"], check=True, capture_output=True, cwd=folder)
    run = [*who, str(programs / "postgres"), "-D", str(data), "-k", str(folder), "-c", "listen_addresses="]
    with (folder / "log").open("wb") as log:
        server = subprocess.Popen([*run, "-c", "fsync=off"], stdout=log, stderr=log, cwd=folder)
    try:
        _wait(folder, server)
        yield f"postgres://{OWNER}@{quote(str(folder), safe='')}/postgres"
    finally:
        server.send_signal(signal.SIGINT)  # a fast end: whoever is connected is cut off
        server.wait(ENDS_WITHIN_S)


def _unprivileged(folder: Path) -> list[str]:
    """What runs a program as somebody else where we are root, whom it refuses; the folder is theirs."""
    if os.getuid() != 0:
        return []
    names = {each.pw_name: each for each in pwd.getpwall()}
    user = names.get("postgres") or names["nobody"]
    os.chown(folder, user.pw_uid, user.pw_gid)
    return ["setpriv", f"--reuid={user.pw_uid}", f"--regid={user.pw_gid}", "--clear-groups", "--"]


def _wait(folder: Path, server: subprocess.Popen[bytes]) -> None:
    """Wait until it takes connections; raises RuntimeError where it does not."""
    import psycopg

    until = time.monotonic() + STARTS_WITHIN_S
    while server.poll() is None and time.monotonic() < until:
        try:
            psycopg.connect(host=str(folder), user=OWNER, dbname="postgres").close()
        except psycopg.OperationalError:
            time.sleep(0.1)
        else:
            return
    raise RuntimeError((folder / "log").read_text(errors="replace"))


@pytest.fixture
def run(database_url: str) -> Run:
    """Give what runs Python with that database in force and returns what it prints."""

    def ran(*words: str, **more: str) -> str:
        about = {"DATABASE_URL": database_url, "DJANGO_SETTINGS_MODULE": "leanladder.web.settings"}
        done = subprocess.run(
            [sys.executable, *words],
            env=os.environ | about | more,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    return ran
