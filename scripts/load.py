"""Load the app as a full paddock does, and write what that took to benchmarks/results.json under "load".

Run by `make bench`; some minutes. Phones open cards and ask, coaches move controls, for one minute; beside it
the same phones ask a plain page of the same kind of server. Then, as "try", one coach alone moves a control
while some phones ask. Nothing fails: an aim is no bound.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from statistics import linear_regression, quantiles
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.serving import prepare  # noqa: E402
from scripts.serving.browser import Browser  # noqa: E402
from scripts.serving.crowd import FULL, ONE_TRIES, House, Timed, coach, phone, together  # noqa: E402
from scripts.serving.served import Served, environment, home_within  # noqa: E402
from scripts.timing import results  # noqa: E402

FEW_MEMBERS = 64  # of the ladders on record: what is tried is drawn in full
AIMS_MS = {"load": {"all_p95": 300.0}, "try": {"draft_p95": 100.0, "final_there_p95": 1500.0}}
SAMPLE_S, SETTLED_S = 1.0, 20.0  # memory is looked at so often, and its slope from then on
MINUTE_S, KB = 60.0, 1024.0


class Memory:
    """What processes hold, looked at again and again on a thread of its own."""

    def __init__(self, **pids: int) -> None:
        self._pids, self._over = pids, threading.Event()
        self._held: dict[str, list[tuple[float, float]]] = {name: [] for name in pids}
        self._thread = threading.Thread(target=self._look, daemon=True)
        self._thread.start()

    def _look(self) -> None:
        began = time.monotonic()
        while not self._over.wait(SAMPLE_S):
            for name, pid in self._pids.items():
                self._held[name].append((time.monotonic() - began, rss_mb(pid)))

    def told(self) -> dict[str, dict[str, float]]:
        """Return of each process what it held first and last, and how fast that grew once it had settled."""
        self._over.set()
        self._thread.join()
        found = {}
        for name, held in self._held.items():
            late = [each for each in held if each[0] > SETTLED_S]
            slope = linear_regression(*zip(*late, strict=True)).slope if len(late) > 1 else 0.0
            found[name] = {
                "first_mb": round(held[0][1], 1),
                "last_mb": round(held[-1][1], 1),
                "mb_per_min": round(slope * MINUTE_S, 2),
            }
        return found


def rss_mb(pid: int) -> float:
    """Return the memory that a process holds [MB], by what Linux tells of it; 0 for one that is gone."""
    try:
        text = Path(f"/proc/{pid}/status").read_text(encoding="utf-8")
    except OSError:
        return 0.0
    found = re.search(r"VmRSS:\s+(\d+) kB", text)
    return float(found.group(1)) / KB if found else 0.0


def figures(took_s: list[float]) -> dict[str, float]:
    """Return how many answers there were, and how long half and 95 in 100 of them took at most [ms]."""
    if len(took_s) < 2:  # two at least make a quantile
        return {"count": len(took_s)}
    cuts = quantiles(took_s, n=100, method="inclusive")
    return {"count": len(took_s), "p50_ms": round(1e3 * cuts[49], 1), "p95_ms": round(1e3 * cuts[94], 1)}


def loaded(folder: Path, house: House) -> dict[str, Any]:
    """Serve the app in a folder, let a house at it, and return what that took."""
    folder.mkdir()
    home = home_within(folder)
    riders = str(house.phones)
    program = [sys.executable, str(ROOT / "scripts/serving/prepare.py"), "2", str(FEW_MEMBERS), riders]
    made = subprocess.run(program, env=environment(home), capture_output=True, text=True, check=True)
    day = json.loads(made.stdout)[0]
    with Served(home) as served:
        where = served.ready()
        head = Browser(where)
        head.log_in(prepare.HEAD, prepare.PASSWORD)
        cards = handed_out(head, day, house.phones)
        page = folder / "page.html"
        page.write_text(head.get(cards[0]).text, encoding="utf-8")
        plain = subprocess.Popen(
            [sys.executable, str(ROOT / "scripts/serving/plain.py"), str(page)],
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            address = plain.stdout.readline().strip() if plain.stdout else ""
            memory = Memory(app=served.process.pid, worker=served.worker_other_than(None))
            timed = crowd((where, address), head, day, cards, house)
            return told(timed, house) | {"memory": memory.told()}
        finally:
            plain.kill()
            plain.wait()


def handed_out(head: Browser, day: dict[str, Any], phones: int) -> list[str]:
    """Hand every run out and return the addresses of the riders' cards; raises RuntimeError for too few."""
    for pk, _ in day["runs"]:
        if not head.post(f"/days/{day['day']}/live/{pk}/give/").done:
            raise RuntimeError("the cards were not handed out")
    text = head.get(f"/days/{day['day']}/live/cards/").text
    found = list(dict.fromkeys(re.findall(r"/c/[0-9]+-[A-Za-z0-9_-]+", text)))
    if len(found) < phones:
        raise RuntimeError(f"there are {len(found)} cards")
    return found


def crowd(
    where: tuple[str, str], head: Browser, day: dict[str, Any], cards: list[str], house: House
) -> Timed:
    """Let phones and coaches at the app, where it is, and at the plain page beside."""
    timed, until = Timed(), time.monotonic() + house.seconds
    some = [
        threading.Thread(target=phone, args=(where, cards[at], at, house.asks_every_s, until, timed))
        for at in range(house.phones)
    ]
    for at in range(house.coaches):
        browser = Browser(where[0])
        browser.cookies = dict(head.cookies)
        run = day["runs"][at % len(day["runs"])][1].replace(" ", "%20")
        args = (browser, f"/ladder/{day['day']}/{run}/1/", at, until, timed)
        some.append(threading.Thread(target=coach, args=args))
    together(some)
    return timed


def told(timed: Timed, house: House) -> dict[str, Any]:
    """Return figures by what was asked, of all but whole ladders together, and what went wrong."""
    asked = {name: figures(took_s) for name, took_s in sorted(timed.took_s.items())}
    pages = [each for name in ("card", "still", "ladder", "draft") for each in timed.took_s.get(name, [])]
    return {
        **house._asdict(),
        "errors": len(timed.errors),
        "first_errors": timed.errors[:5],
        "all": figures(pages),
        "asked": asked,
    }


def main() -> int:
    """Measure, print, and write it beside what else was measured."""
    head = {name: told for name, told in results.head().items() if name not in {"schema", "packages"}}
    with tempfile.TemporaryDirectory() as folder:
        for name, house in {"load": FULL, "try": ONE_TRIES}.items():
            busy = {"load_average_before": round(os.getloadavg()[0], 1), "aims_ms": AIMS_MS[name]}
            found = head | busy | loaded(Path(folder) / name, house)
            say(name, found)
            results.add(name, found)
    return 0


def say(name: str, found: dict[str, Any]) -> None:
    """Print what was measured."""
    print(f"{name}: {found['phones']} phones, {found['coaches']} coaches, {found['errors']} errors")
    for what, each in {"all": found["all"], **found["asked"], **found["memory"]}.items():
        print(f"  {what}: {json.dumps(each)}")


if __name__ == "__main__":
    sys.exit(main())
