"""Write docs/evidence/power.md: the app killed while days are edited and ladders handed out.

Run by `make evidence`; some ten minutes. `python scripts/power.py KILLS` prints instead of writing. App and
worker are killed at once (SIGKILL), most of the times just after a write began; what a client outside was
told is done is then looked up in the database.
"""

from __future__ import annotations

import contextlib
import json
import os
import platform
import random
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.evidence import commit  # noqa: E402
from scripts.serving import editing, lookup, prepare  # noqa: E402
from scripts.serving.browser import Browser  # noqa: E402
from scripts.serving.served import DATABASE, Served, environment, home_within, kill, waited  # noqa: E402

OUT = ROOT / "docs" / "evidence" / "power.md"
KILLS, SEED = 100, 20261128
# Most kills wait for a write to begin and strike so soon after it; the others strike whenever.
AT_WRITES, STRIKE_WITHIN_S, NEAR_S = 0.7, 0.015, 0.020
MOST_AIMED = 50  # how often a strike that came too late is put off until the next write
AT_WORK_S = (0.3, 1.2)  # how long a client works before
WRITE_WITHIN_S, LOOK_EVERY_S = 10.0, 0.0003
GONE_WITHIN_S, ALL_DONE_WITHIN_S = 60.0, 1800.0
GIVEN_A_DAY = 60  # a day's words are not to run out
GIVEN_A_KILL = 8
METHOD = (
    "## Against ourselves",
    "",
    "A client outside the app edits machines, riders, readings and a day, and hands ladders out, one write",
    "after the other, over HTTP and signed in. It logs each try and each acknowledgement, on the disk",
    "before it goes on. App and worker are killed at once with SIGKILL, the worker mostly while it plans.",
    "After each kill, on a copy of the database and its journal as they were left: SQLite's integrity check,",
    "its check of foreign keys, and every write ever acknowledged, looked up by itself: there, with the",
    "figure last acknowledged or one tried since, with its note in the history; what was handed out once,",
    "and whole.",
    "",
)
NOT_SHOWN = (
    "### What this does not show",
    "",
    "- A killed process leaves the operating system running: what it had been handed is still written. That",
    "  the disk keeps what it acknowledged rests on SQLite's `synchronous=FULL` and on the disk itself.",
    "- Sheets and other files beside the database are not looked at: they can be made again.",
)
FEW_MEMBERS = 64  # of the ladders that are handed out: their caps do not matter here


@dataclass
class Told:
    """What happened: seconds from a write's beginning to each kill, what was written, what was wrong."""

    since_s: list[float] = field(default_factory=list)
    writes: list[editing.Write] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    cut_short: int = 0
    left: int | None = None

    @property
    def near(self) -> int:
        """How many kills struck within 20 ms after a write began."""
        return sum(each <= NEAR_S for each in self.since_s)

    @property
    def done(self) -> list[editing.Write]:
        """What was acknowledged."""
        return [each for each in self.writes if each.done]


class Cuts:
    """A data folder, and the app on it killed again and again."""

    def __init__(self, folder: Path, kills: int, seed: int) -> None:
        self.home, self.kills = home_within(folder), kills
        self.random = random.Random(seed)  # noqa: S311  # no secret
        self.log, self.plan = folder / "log.jsonl", folder / "plan.json"
        self.log.touch()
        self.told, self.cookies = Told(), dict[str, str]()
        count = 2 + kills * GIVEN_A_KILL // GIVEN_A_DAY
        program = [sys.executable, str(ROOT / "scripts/serving/prepare.py"), str(count), str(FEW_MEMBERS)]
        made = subprocess.run(program, env=environment(self.home), capture_output=True, text=True, check=True)
        self.days: list[dict[str, Any]] = json.loads(made.stdout)

    def all(self) -> Told:
        """Kill it as often as asked, looking everything up each time."""
        for at in range(self.kills):
            self._one()
            with lookup.copied(self.home) as found:
                wrong = lookup.faults(found, self.told.writes, self.days[-1]["day"])
                self.told.cut_short += _running(found)
            self.told.faults += [f"kill {at + 1}: {each}" for each in wrong]
        return self.told

    def _one(self) -> None:
        with Served(self.home) as served:
            where = served.ready()
            worker = served.worker_other_than(None)
            client = self._client(where)
            self._strike(served.process.pid, worker)
            if client.wait(GONE_WITHIN_S) != 0:
                self.told.faults.append(f"the client: {client.stderr.read() if client.stderr else ''}")
        self.told.writes = editing.read(self.log)

    def _client(self, where: str) -> subprocess.Popen[str]:
        if not self.cookies:
            browser = Browser(where)
            browser.log_in(prepare.HEAD, prepare.PASSWORD)
            self.cookies = browser.cookies
        with lookup.copied(self.home) as found:
            pks = lookup.keys(found)
        told = {
            "where": where, "cookies": self.cookies, "days": self.days, "pks": pks,
            "number": max((each.number for each in self.told.writes), default=0),
            "seed": self.random.randrange(2**32),
        }  # fmt: skip
        self.plan.write_text(json.dumps(told), encoding="utf-8")
        program = [sys.executable, str(ROOT / "scripts/serving/editing.py"), str(self.plan), str(self.log)]
        return subprocess.Popen(program, stderr=subprocess.PIPE, text=True)

    def _strike(self, app: int, worker: int) -> None:
        """Kill both, most times within milliseconds after a write to the database's journal began."""
        tried = self.log.stat().st_size
        waited(lambda: self.log.stat().st_size > tried, GONE_WITHIN_S)  # the client is at work
        time.sleep(self.random.uniform(*AT_WORK_S))
        journal = self.home / f"{DATABASE}-wal"
        if self.random.random() < AT_WRITES:
            _aim(journal, self.random.uniform(0.0, STRIKE_WITHIN_S))
        began_ns = journal.stat().st_mtime_ns if journal.exists() else 0
        kill(app)
        kill(worker)
        self.told.since_s.append((time.time_ns() - began_ns) / 1e9)

    def finish(self) -> None:
        """Start it once more and wait until every job that was cut short is done."""
        with Served(self.home) as served:
            served.ready()
            waited(lambda: self._left() == 0, ALL_DONE_WITHIN_S)
            self.told.left = self._left()
            served.end()

    def _left(self) -> int:
        # The app serves: its files may not be copied one after the other, but read as any other reader does.
        with contextlib.closing(sqlite3.connect(f"file:{self.home / DATABASE}?mode=ro", uri=True)) as found:
            waiting = "SELECT count(*) FROM records_plan WHERE state IN ('waiting', 'running')"
            return _running(found, "READY", "RUNNING") + int(found.execute(waiting).fetchone()[0])


def _aim(journal: Path, later_s: float) -> None:
    """Return so long after a write to the database's journal; a busy machine lets us miss some."""
    for _ in range(MOST_AIMED):
        before, until = journal.stat().st_mtime_ns, time.monotonic() + WRITE_WITHIN_S
        while journal.stat().st_mtime_ns == before and time.monotonic() < until:
            time.sleep(LOOK_EVERY_S)
        time.sleep(later_s)
        if time.time_ns() - journal.stat().st_mtime_ns < 1e9 * NEAR_S:
            return


def _running(found: Any, *states: str) -> int:  # noqa: ANN401  # a connection
    marks = ", ".join(f"'{state}'" for state in states or ("RUNNING",))
    query = f"SELECT count(*) FROM django_tasks_database_dbtaskresult WHERE status IN ({marks})"  # noqa: S608
    return int(found.execute(query).fetchone()[0])


def killed(folder: Path, kills: int, seed: int = SEED, *, finish: bool = False) -> Told:
    """Kill the app so many times on a data folder within folder, and return what was found."""
    cuts = Cuts(folder, kills, seed)
    told = cuts.all()
    if finish:
        cuts.finish()
    return told


def page(told: Told, kills: int) -> str:
    """Return the page."""
    tried, done = (Counter(each.kind for each in some) for some in (_tried(told), told.done))
    rows = [f"| {kind} | {tried[kind]} | {done[kind]} |" for kind in editing.KINDS]
    lost = [f"- {each}" for each in told.faults] or ["Nothing: every check passed after each kill."]
    lines = [
        *_head(),
        *METHOD,
        *_counts(told, kills),
        "",
        "| write | tried | acknowledged |",
        "| --- | ---: | ---: |",
        *rows,
        "",
        "### What was lost or wrong",
        "",
        *lost,
        "",
        *NOT_SHOWN,
        "",
    ]
    return "\n".join(lines)


def _head() -> list[str]:
    machine = f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores"
    return [
        "# Power cut while days are edited and ladders handed out",
        "",
        "Written by `make evidence` (scripts/power.py); do not edit.",
        "",
        f"- commit: {commit()}",
        f"- machine: {machine}, Python {platform.python_version()}",
        f"- seed: {SEED}; when a kill strikes depends on the machine as well",
        f"- when: {datetime.now(UTC):%Y-%m-%d %H:%M} UTC",
        "",
    ]


def _counts(told: Told, kills: int) -> list[str]:
    since_ms = sorted(1e3 * each for each in told.since_s)
    half_ms, most_ms = (_at(since_ms, share) for share in (0.5, 0.9))
    left = "not looked at" if told.left is None else str(told.left)
    return [
        f"- kills: {kills}; within {1e3 * NEAR_S:.0f} ms after a write to the journal: {told.near}",
        f"- from a write to the kill: {half_ms:.1f} ms in half of them, {most_ms:.1f} ms in nine of ten",
        f"- writes tried {len(_tried(told))}, acknowledged {len(told.done)}",
        f"- kills that cut a job short: {told.cut_short}",
        f"- jobs and plans that were not done in the end, after one more start: {left}",
    ]


def _tried(told: Told) -> list[editing.Write]:
    return [each for each in told.writes if not each.done]


def _at(values: list[float], share: float) -> float:
    return values[min(int(share * len(values)), len(values) - 1)]


def main() -> int:
    """Kill it, and write the page; 1 where anything was lost."""
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else KILLS
    with tempfile.TemporaryDirectory() as folder:
        told = killed(Path(folder), kills, finish=True)
    text = page(told, kills)
    if len(sys.argv) > 1:
        print(text)
    else:
        OUT.write_text(text, encoding="utf-8")
        print(OUT.relative_to(ROOT))
    return 1 if told.faults or told.left else 0


if __name__ == "__main__":
    sys.exit(main())
