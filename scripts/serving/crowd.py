"""Phones that hold a card and coaches that move controls, each on a thread of its own."""

from __future__ import annotations

import http.client
import json
import random
import re
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from scripts.serving.browser import Answer, Browser

OPENS_WITHIN_S = 10.0
# A coach moves a control for so long, a step each so often, then looks at what came of it.
MOVES_S, STEP_S, LOOKS_S, WAITS_S = 3.0, 0.1, 3.0, 0.5
COLDEST_C, WARMEST_C = 5, 30


class House(NamedTuple):
    """How many are there at once, for how long, and how often a phone asks."""

    phones: int
    coaches: int
    asks_every_s: float
    seconds: float = 60.0


FULL = House(phones=60, coaches=5, asks_every_s=10.0)
ONE_TRIES = House(phones=20, coaches=1, asks_every_s=5.0)


@dataclass
class Timed:
    """How long answers took [s], by what was asked, and what went wrong."""

    took_s: dict[str, list[float]] = field(default_factory=dict)
    errors: list[str] = field(default_factory=list)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def of(self, what: str, ask: Callable[[], Answer]) -> Answer | None:
        """Ask, and keep how long it took; None where it went wrong."""
        began = time.perf_counter()
        try:
            answer = ask()
        except (OSError, http.client.HTTPException) as error:
            self.wrong(what, repr(error))
            return None
        if not answer.done:
            self.wrong(what, f"{answer.status} {answer.text[:200]}")
            return None
        self.keep(what, time.perf_counter() - began)
        return answer

    def keep(self, what: str, took_s: float) -> None:
        """Keep how long something took."""
        with self._lock:
            self.took_s.setdefault(what, []).append(took_s)

    def wrong(self, what: str, why: str) -> None:
        """Keep what went wrong."""
        with self._lock:
            self.errors.append(f"{what}: {why}")


def phone(where: tuple[str, str], card: str, seed: int, every_s: float, until: float, timed: Timed) -> None:
    """Open a card and ask again and again whether it still counts, and beside it a plain page.

    where: the app's address, and the plain page's.
    """
    own, other = (Browser(each) for each in where)
    time.sleep(random.Random(seed).uniform(0.0, OPENS_WITHIN_S))  # noqa: S311  # no secret
    opened = timed.of("card", lambda: own.get(card))
    held = re.search(r'data-given="(\d+)"', opened.text) if opened else None
    while time.monotonic() + every_s < until:
        time.sleep(every_s)
        timed.of("plain", lambda: other.get("/"))
        if held is None:
            timed.wrong("card", "it names nothing that was given out")
            return
        told = timed.of("still", lambda: own.get(f"{card}/still?given={held.group(1)}"))
        if told is not None and json.loads(told.text)["state"] != "counts":
            timed.wrong("still", told.text[:200])


def coach(browser: Browser, ladder: str, seed: int, until: float, timed: Timed) -> None:
    """Move the track's temperature for a while, let it rest for the whole answer, look; again and again.

    Before, look at the page, a hand near the controls: then the page asks for the ladder to be opened.
    """
    draws, number = random.Random(seed), 0  # noqa: S311  # no secret
    asked = ladder.replace("/ladder/", "/try/", 1)
    timed.of("ladder", lambda: browser.get(ladder))
    timed.of("ready", lambda: browser.post(f"{asked}draft"))
    time.sleep(LOOKS_S)
    while time.monotonic() < until:
        stops = min(time.monotonic() + MOVES_S, until)
        while time.monotonic() < stops:
            number += 1
            track_c = draws.randint(COLDEST_C, WARMEST_C)
            _tried(browser, f"{asked}draft", track_c, (seed, number), timed)
            time.sleep(STEP_S)
        number = _rested(browser, f"{asked}final", draws.randint(COLDEST_C, WARMEST_C), (seed, number), timed)
        time.sleep(LOOKS_S)


def _tried(browser: Browser, where: str, track_c: int, who: tuple[int, int], timed: Timed) -> str:
    """Ask one try and return how it ended."""
    what = where.rpartition("/")[2]
    answer = timed.of(what, lambda: browser.post(where, track=track_c, client=f"c{who[0]}", number=who[1]))
    state = "" if answer is None else str(json.loads(answer.text)["state"])
    if state not in {"", "done", "waiting", "given_up", "refused"}:
        timed.wrong(what, f"{state} at {track_c}")
    return state


def _rested(browser: Browser, where: str, track_c: int, who: tuple[int, int], timed: Timed) -> int:
    """Ask for the whole ladder until it is there, keep how long that took, and return the last number."""
    began, number = time.perf_counter(), who[1]
    while True:
        number += 1
        state = _tried(browser, where, track_c, (who[0], number), timed)
        if state != "waiting":
            break
        time.sleep(WAITS_S)
    if state == "done":
        timed.keep("final_there", time.perf_counter() - began)
    return number


def together(some: Sequence[threading.Thread]) -> None:
    """Let them all go on, and wait for them."""
    for each in some:
        each.start()
    for each in some:
        each.join()
