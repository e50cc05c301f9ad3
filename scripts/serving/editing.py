"""A client that edits days and hands ladders out, and logs what a server acknowledged, outside the server.

A program of its own: `python scripts/serving/editing.py PLAN LOG`. PLAN is JSON: where the server is, the
cookies of someone signed in, the days, which number to begin with, the seed. LOG takes a line a try and a
line an acknowledgement, each on the disk before the client goes on: [number, kind, named, figure], the
acknowledgement with true at its end. It ends when the server does.
"""

from __future__ import annotations

import http.client
import json
import os
import random
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from scripts.serving.browser import Answer, Browser  # noqa: E402

KINDS = ("machine", "machine_edit", "rider", "rider_edit", "reading", "day", "given")
_HUNDRED = 100
# A form that is refused comes back as a page; one that is kept leads on.
WENT_ON = (http.client.FOUND, http.client.SEE_OTHER)
MODEL, TYRE, LEVEL = "middleweight-sport", "sport-road", "regular"


class Write(NamedTuple):
    """Something that was to be written: its number, what kind, of which thing by name, the new figure.

    done: whether the server acknowledged it.
    """

    number: int
    kind: str
    named: str
    figure: float
    done: bool = False


class Log:
    """What was tried and what was acknowledged, line by line on the disk."""

    def __init__(self, path: Path) -> None:
        self._file = path.open("a", encoding="utf-8")

    def keep(self, write: Write) -> None:
        """Put a line on the disk."""
        self._file.write(json.dumps(write) + "\n")
        self._file.flush()
        os.fsync(self._file.fileno())


def read(path: Path) -> list[Write]:
    """Return what a log holds."""
    return [Write(*json.loads(line)) for line in path.read_text(encoding="utf-8").splitlines()]


def figure(kind: str, number: int) -> float:
    """Return the figure that a write of a kind sets: no two in thousands set the same.

    Two digits more than a form shows: a form sent back with what it showed leaves a figure as it was.
    """
    match kind.partition("_")[0]:
        case "machine":  # what its gauge is off by [bar]
            return _not_round(number % 4_000) / 10_000
        case "rider":  # their usual lean [deg]
            return (10_000 + _not_round(number % 30_000)) / 1000  # as it is written, nothing behind it
        case "reading":  # the track [degC]
            return number % 40_000 / 1000
    return 0.0


def _not_round(number: int) -> int:
    """Return the whole number so far on among those that do not end in 00."""
    return 1 + number + number // (_HUNDRED - 1)


class Client:
    """Someone signed in who edits and hands out, one write after the other.

    days: the keys of days, with runs, that ladders are handed out of; the last is only edited.
    """

    def __init__(self, told: Mapping[str, Any], log: Log) -> None:
        self.browser = Browser(str(told["where"]))
        self.browser.cookies = dict(told["cookies"])
        self.days: list[dict[str, Any]] = told["days"]
        self.number = int(told["number"])
        self._random, self._log = random.Random(int(told["seed"])), log  # noqa: S311  # no secret
        self._pks: dict[str, str] = dict(told["pks"])
        self._ways: dict[str, Callable[[Write], Answer]] = {
            "machine": self._machine,
            "machine_edit": self._machine,
            "rider": self._rider,
            "rider_edit": self._rider,
            "reading": self._reading,
            "day": self._day,
            "given": self._given,
        }

    def run(self) -> None:
        """Write until the server is gone."""
        while True:
            kind = self._random.choice(KINDS)
            self.number += 1
            known = [name for name in self._pks if name.startswith(kind.partition("_")[0])]
            if kind.endswith("_edit") and not known:
                continue
            named = self._random.choice(known) if kind.endswith("_edit") else f"{kind} {self.number}"
            write = Write(self.number, kind, named, figure(kind, self.number))
            self._log.keep(write)
            if self._ways[kind](write).status not in WENT_ON:
                raise RuntimeError(f"the server refused {write}")
            self._log.keep(write._replace(done=True))

    def _path(self, name: str, write: Write) -> str:
        return f"/{name}s/{self._pks[write.named]}/" if write.kind.endswith("_edit") else f"/{name}s/new/"

    def _machine(self, write: Write) -> Answer:
        fields = {"name": write.named, "machine": MODEL, "tyre": TYRE, "gauge_offset_bar": write.figure}
        return self.browser.post(self._path("machine", write), **fields)

    def _rider(self, write: Write) -> Answer:
        fields = {"level": LEVEL, "machine_of": self.days[0]["machine"], "card_language": "en"}
        fields |= {"name": write.named, "usual_lean_deg": str(write.figure)}
        return self.browser.post(self._path("rider", write), **fields)

    def _reading(self, write: Write) -> Answer:
        return self.browser.post(f"/days/{self.days[-1]['day']}/live/measure/", track_c=write.figure)

    def _day(self, write: Write) -> Answer:
        day = self.days[-1]
        fields = {"date": day["date"], "school": write.named, "circuit": day["circuit"]}
        return self.browser.post(f"/days/{day['day']}/head/", **fields)

    def _given(self, write: Write) -> Answer:
        day = self.days[write.number % (len(self.days) - 1)]
        run_pk, _ = self._random.choice(day["runs"])
        return self.browser.post(f"/days/{day['day']}/live/{run_pk}/give/", reason=write.named)


def main() -> int:
    """Write until the server is gone; 1 where it refused something instead."""
    told = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    try:
        Client(told, Log(Path(sys.argv[2]))).run()
    except (OSError, http.client.HTTPException):
        return 0
    except RuntimeError as error:
        sys.stderr.write(f"{error}\n")
    return 1


if __name__ == "__main__":
    sys.exit(main())
