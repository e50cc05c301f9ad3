"""The desk where tries are answered: what is open, who asked last, what is being worked out."""

from __future__ import annotations

import contextlib
import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Any, NamedTuple

from django.db import connection

from leanladder.domain.day import DayLadder
from leanladder.domain.errors import LeanladderError, OutsideModelError
from leanladder.domain.session import Start
from leanladder.planning.tries import Wishes
from leanladder.planning.why import why
from leanladder.records import plans, stored
from leanladder.web.jobs.opened import Moved, Opened, opened
from leanladder.web.today import Standing
from leanladder.web.tries import Message

# How many combinations are held ready, and how many answers are kept: long ones, and those of drafts, which
# are the same for whoever moves a control to the same place.
MOST_OPEN, MOST_KEPT, MOST_DRAFTS = 12, 60, 500
# How long a question waits for what is being worked out before it hears so [s].
PATIENCE_S = 0.2


class GivenUpError(Exception):
    """A newer question of the same client makes this one idle."""


class GoneError(Exception):
    """The plan that is asked about is no longer kept."""


class _Which(NamedTuple):
    """A combination of a kept plan: its place among the run's."""

    day: int
    digest: str
    run: str
    place: int


class _Kept:
    """Things worked out once, the oldest forgotten; made on one thread, one after the other."""

    def __init__(self, most: int, name: str) -> None:
        self._most = most
        self._futures: OrderedDict[object, Future[Any]] = OrderedDict()
        self._lock = threading.Lock()
        self._pool = ThreadPoolExecutor(1, thread_name_prefix=name)

    def get(self, key: object, make: Callable[[], object]) -> Future[Any]:
        with self._lock:
            found = self._futures.get(key)
            if found is None or (found.done() and found.exception() is not None):
                found = self._futures[key] = self._pool.submit(make)
            self._futures.move_to_end(key)
            while len(self._futures) > self._most:
                self._futures.popitem(last=False)
            return found


class Desk:
    """Answers tries and long reasons; one for all who ask, from many threads."""

    def __init__(self) -> None:
        self._open, self._whys = _Kept(MOST_OPEN, "open"), _Kept(MOST_KEPT, "why")
        self._days, self._drafts = _Kept(MOST_OPEN, "day"), _Kept(MOST_DRAFTS, "draft")
        self._newest: dict[str, int] = {}
        self._lock = threading.Lock()

    def answer(self, asked: Message) -> Message:
        """Return the answer to a question; never raises what an asker can get wrong."""
        which = _Which(int(asked["day"]), str(asked["digest"]), str(asked["run"]), int(asked["place"]))
        try:
            return self._answered(asked, which)
        except TimeoutError:
            return {"state": "waiting"}
        except GivenUpError:
            return {"state": "given_up"}
        except GoneError:
            return {"state": "gone"}
        except OutsideModelError as error:
            return {"state": "refused", "code": error.code}
        except LeanladderError as error:
            return {"state": "wrong", "text": error.message}

    def _answered(self, asked: Message, which: _Which) -> Message:
        going_on = self._newer(asked)
        if asked["kind"] == "why":
            lap, number = int(asked["lap"]), int(asked["turn"])
            found = self._whys.get((which, lap, number), lambda: self._why(which, lap, number))
            return {"state": "done", "why": found.result(PATIENCE_S)}
        ready: Opened = self._open.get(which, lambda: self._opened(which)).result(PATIENCE_S)
        wishes = wishes_of(asked["wishes"])
        if asked["kind"] == "draft":
            return {"state": "done", "moved": self._draft(which, ready, wishes, going_on)}
        ladder = ready.final(wishes, going_on)
        return {"state": "done", "laps": stored.to_json(ladder.laps)}

    def _draft(
        self, which: _Which, ready: Opened, wishes: Wishes, going_on: Callable[[], None]
    ) -> list[Moved]:
        """Return which way limits go; drafts are made one after the other: each takes the whole machine."""
        while True:
            going_on()
            with contextlib.suppress(GivenUpError):  # of another client that asked for the same
                made: list[Moved] = self._drafts.get(
                    (which, wishes), lambda: ready.draft(wishes, going_on)
                ).result()
                return made

    def _newer(self, asked: Message) -> Callable[[], None]:
        """Return what raises GivenUpError once the same client has asked anew."""
        client, number = str(asked.get("client", "")), int(asked.get("number", 0))
        if not client:
            return lambda: None
        with self._lock:
            self._newest[client] = max(number, self._newest.pop(client, 0))
            while len(self._newest) > MOST_KEPT:
                self._newest.pop(next(iter(self._newest)))

        def going_on() -> None:
            if self._newest.get(client, number) > number:
                raise GivenUpError

        return going_on

    def _opened(self, which: _Which) -> Opened:
        entry, entries = self._entry(which)
        return opened(entry, entries)

    def _why(self, which: _Which, lap: int, number: int) -> str:
        ready: Opened = self._open.get(which, lambda: self._opened(which)).result()
        return stored.to_json(why(ready.session, lap, number, begin=ready.begin))

    def _entry(self, which: _Which) -> tuple[DayLadder, Sequence[DayLadder]]:
        entries = self._days.get((which.day, which.digest), lambda: _entries(which)).result()
        of_run = [entry for entry in entries if entry.session.name == which.run]
        if not 0 <= which.place < len(of_run):
            raise GoneError
        return of_run[which.place], entries


def _entries(which: _Which) -> tuple[DayLadder, ...]:
    try:
        plan = plans.plan_of(which.day, which.digest)
    finally:
        connection.close()
    if plan is None or plan.state != plans.State.DONE:
        raise GoneError
    parts = stored.from_json(plan.content)
    if not isinstance(parts, tuple):
        raise TypeError("a plan was kept as something else")
    return Standing(*parts).entries


def wishes_of(told: Message) -> Wishes:
    """Return what a message wishes."""
    start = told.get("start")
    return Wishes(**{**told, "start": None if start is None else Start(**start)})
