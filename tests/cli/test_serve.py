"""`leanladder serve`: a busy port, ready once it answers, both processes gone on a signal."""

from __future__ import annotations

import os
import signal
import socket
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from scripts.serving.browser import Browser
from scripts.serving.served import DATABASE, ENDS_WITHIN_S, READY_WITHIN_S, Served, kill, lives, waited

PASSWORD = "a long enough word"  # noqa: S105  # of nobody

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="processes are looked up as Linux tells them")


@pytest.fixture
def home() -> Path:
    """Give the data folder of this test."""
    return Path(os.environ["LEANLADDER_HOME"])


@pytest.fixture
def served(home: Path) -> Iterator[Served]:
    """Give the app, served; whatever is left of it is killed in the end."""
    with Served(home) as found:
        yield found


def test_a_busy_port_is_told_before_anything_is_begun(home: Path) -> None:
    with closing(socket.create_server(("127.0.0.1", 0))) as busy:
        port = busy.getsockname()[1]
        command = ["serve", "--host", "127.0.0.1", "--port", str(port)]
        done = subprocess.run(
            [sys.executable, "-m", "leanladder.cli", *command], capture_output=True, text=True, check=False
        )
    assert (done.returncode, done.stdout) == (2, "")
    assert "cannot be used" in done.stderr
    assert f"127.0.0.1:{port}" in done.stderr
    assert "--port" in done.stderr
    assert len(done.stderr.splitlines()) <= 2
    assert not (home / DATABASE).exists()


def test_ready_once_it_answers_its_worker_watched_over_and_both_gone_on_sigterm(served: Served) -> None:
    where = served.ready()
    assert Browser(where).get("/first/").status == 200
    assert served.said[-1] == f"ready http://{where}"
    assert any(line.startswith(f"Open http://{where}/first/?code=") for line in served.said)
    assert any("plain HTTP" in line for line in served.said)
    before = served.worker_other_than(None)
    kill(before)
    worker = served.worker_other_than(before)
    assert served.end(signal.SIGTERM) == 0
    assert waited(lambda: not lives(worker), ENDS_WITHIN_S)
    with pytest.raises(OSError, match="refused"):
        Browser(where).get("/login/")


def jobs(home: Path) -> list[tuple[str, int]]:
    """Each job's state, and how often it was begun."""
    with closing(sqlite3.connect(home / DATABASE)) as found:
        query = "SELECT status, json_array_length(worker_ids) FROM django_tasks_database_dbtaskresult"
        return [(state, int(begun)) for state, begun in found.execute(query)]


def test_a_plan_cut_short_by_sigint_is_begun_again_and_a_killed_app_takes_its_worker(home: Path) -> None:
    with Served(home) as served:
        browser = Browser(served.ready())
        browser.get("/first/")
        assert browser.post("/first/", username="oda", password=PASSWORD).status == 302
        day = browser.post("/days/demo/").headers["Location"]
        browser.get(f"{day}ladders/progress/")
        assert waited(lambda: jobs(home) == [("RUNNING", 1)], READY_WITHIN_S), jobs(home)
        worker = served.worker_other_than(None)
        assert served.end(signal.SIGINT) == 0
        assert waited(lambda: not lives(worker), ENDS_WITHIN_S)
        assert jobs(home) == [("RUNNING", 1)]
    with Served(home) as served:
        served.ready()
        assert waited(lambda: ("RUNNING", 2) in jobs(home), READY_WITHIN_S), jobs(home)
        worker = served.worker_other_than(None)
        kill(served.process.pid)
        assert waited(lambda: not lives(worker), ENDS_WITHIN_S)
